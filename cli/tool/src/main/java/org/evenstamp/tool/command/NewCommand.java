package org.evenstamp.tool.command;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.Callable;
import java.util.stream.Stream;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.tool.exit.ExitCode;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Parameters;

/** {@code new DIR}: a commented starter job with a tiny layout and invented readings of it. */
@Command(
        name = "new",
        description =
                "Writes a commented starter job, a tiny layout and invented readings of its residual layer into a new directory.",
        footerHeading = "%nExample:%n",
        footer = "  evenstamp new first")
final class NewCommand implements Callable<Integer> {
    private static final List<String> FILES = List.of("job.yaml", "layout.geojson", "readings.csv");

    private final ToolContext context;

    @Parameters(paramLabel = "DIR", description = "The directory; must be new or empty.")
    @Nullable
    Path directory;

    NewCommand(ToolContext context) {
        this.context = context;
    }

    @Override
    public Integer call() {
        Path target = Objects.requireNonNull(directory);
        try {
            Files.createDirectories(target);
            try (Stream<Path> entries = Files.list(target)) {
                if (entries.findAny().isPresent()) {
                    throw new InputException(
                            "new.not-empty", target.toString(), "is not empty", "name a new directory");
                }
            }
            for (String name : FILES) {
                try (InputStream in = Objects.requireNonNull(NewCommand.class.getResourceAsStream("starter/" + name))) {
                    Files.copy(in, target.resolve(name));
                }
            }
        } catch (IOException e) {
            throw new InputException(
                    "new.unwritable",
                    target.toString(),
                    "cannot be written: " + e.getMessage(),
                    "name another directory");
        }
        context.console()
                .out()
                .println("wrote " + target.resolve("job.yaml") + "; next: evenstamp check " + target.resolve("job.yaml")
                        + ", then evenstamp run " + target.resolve("job.yaml"));
        return ExitCode.WITHIN_LIMITS;
    }
}
