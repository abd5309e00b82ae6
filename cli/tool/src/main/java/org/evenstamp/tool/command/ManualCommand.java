package org.evenstamp.tool.command;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.tool.exit.ExitCode;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code manual DIR}: one manual page for the tool and one for each verb. */
@Command(
        name = "manual",
        description = "Writes manual pages for man into a directory: evenstamp.1 and one for each verb.",
        footerHeading = "%nExample:%n",
        footer = {
            "  evenstamp manual ~/.local/share/man/man1",
        })
final class ManualCommand implements Callable<Integer> {
    private final ToolContext context;

    @Parameters(paramLabel = "DIR", description = "The directory; made when it is missing.")
    @Nullable
    Path directory;

    @Spec
    CommandSpec spec = CommandSpec.create();

    ManualCommand(ToolContext context) {
        this.context = context;
    }

    @Override
    public Integer call() {
        Path target = Objects.requireNonNull(directory);
        List<CommandLine> all = new ArrayList<>(List.of(spec.root().commandLine()));
        all.addAll(spec.root().subcommands().values());
        try {
            Files.createDirectories(target);
            for (CommandLine one : all) {
                ManualPage page = new ManualPage(one.getCommandSpec());
                Files.writeString(target.resolve(page.name() + ".1"), page.text());
            }
        } catch (IOException e) {
            throw new InputException(
                    "manual.unwritable",
                    target.toString(),
                    "cannot be written: " + e.getMessage(),
                    "name another directory");
        }
        context.console().out().println("wrote " + all.size() + " manual pages to " + target);
        return ExitCode.WITHIN_LIMITS;
    }
}
