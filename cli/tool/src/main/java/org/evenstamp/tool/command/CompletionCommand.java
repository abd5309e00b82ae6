package org.evenstamp.tool.command;

import java.util.concurrent.Callable;
import org.evenstamp.tool.exit.ExitCode;
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
    private final ToolContext context;

    @Spec
    CommandSpec spec = CommandSpec.create();

    CompletionCommand(ToolContext context) {
        this.context = context;
    }

    @Override
    public Integer call() {
        CommandSpec root = spec.root();
        context.console().out().print(AutoComplete.bash(root.name(), root.commandLine()));
        context.console().out().flush();
        return ExitCode.WITHIN_LIMITS;
    }
}
