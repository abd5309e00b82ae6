package org.evenstamp.cli.command;

import java.util.concurrent.Callable;
import org.evenstamp.cli.exit.ExitCode;
import picocli.AutoComplete;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** {@code completion}: the script that lets a shell complete verbs and options. */
@Command(
        name = "completion",
        description = "Prints the script with which Bash, or Zsh with its bashcompinit, completes verbs and options.",
        footerHeading = "%nExample:%n",
        footer = {
            "  evenstamp completion > ~/.local/share/bash-completion/completions/evenstamp",
        })
final class CompletionCommand implements Callable<Integer> {
    private final Surroundings surroundings;

    @Spec
    CommandSpec spec = CommandSpec.create();

    CompletionCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() {
        CommandSpec root = spec.root();
        surroundings.console().out().print(AutoComplete.bash(root.name(), root.commandLine()));
        surroundings.console().out().flush();
        return ExitCode.WITHIN_LIMITS;
    }
}
