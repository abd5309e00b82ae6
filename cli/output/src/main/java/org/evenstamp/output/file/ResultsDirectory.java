package org.evenstamp.output.file;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.evenstamp.shared.problem.InputException;

/**
 * A directory of results that is there complete or not at all.
 *
 * <p>Files are made in a hidden directory beside the target, {@code .<name>.partial-<number>}, which takes the target's
 * place when everything is written. With leave to replace, the old results stay until then. Closing without {@link
 * #publish} removes what was made. Only a directory that holds nothing but results is ever replaced.
 */
public final class ResultsDirectory implements AutoCloseable {
    private static final String MARK = "result.json";
    private static final Set<String> OURS = Set.of(
            MARK,
            "report.html",
            "run.json",
            "tiles.csv",
            "tiles.geojson",
            "findings.junit.xml",
            "findings.sarif",
            "fields.json",
            "fields.npz",
            "snapshots.npz",
            "maps",
            "curves",
            "comparison.json",
            "comparison",
            "dummies.geojson",
            "merged.geojson.gz",
            "drops.csv",
            "drops.geojson");

    private final Path target;
    private final Path partial;

    private ResultsDirectory(Path target, Path partial) {
        this.target = target;
        this.partial = partial;
    }

    /**
     * Makes room for results, before anything is computed.
     *
     * @param target where they shall be
     * @param replace whether old results there may go
     * @throws InputException when something is there that may not go, or nothing can be written there
     */
    public static ResultsDirectory open(Path target, boolean replace) {
        Path absolute = target.toAbsolutePath().normalize();
        checkTarget(target, absolute, replace);
        Path parent = absolute.getParent();
        if (parent == null) {
            throw new InputException(
                    "output.root", target.toString(), "cannot be a directory of results", "choose another --out");
        }
        try {
            Files.createDirectories(parent);
            return new ResultsDirectory(
                    target, Files.createTempDirectory(parent, "." + absolute.getFileName() + ".partial-"));
        } catch (IOException e) {
            throw unwritable(target, e);
        }
    }

    private static void checkTarget(Path shown, Path target, boolean replace) {
        if (!Files.exists(target)) {
            return;
        }
        if (!Files.isDirectory(target)) {
            throw new InputException(
                    "output.exists", shown.toString(), "is a file, results need a directory", "choose another --out");
        }
        try (Stream<Path> entries = Files.list(target)) {
            List<Path> all = entries.sorted().toList();
            if (all.isEmpty()) {
                return;
            }
            if (!replace) {
                throw new InputException(
                        "output.exists",
                        shown.toString(),
                        "exists already",
                        "choose another --out, or say --replace to let the new results take its place");
            }
            Optional<Path> foreign = all.stream()
                    .filter(entry -> !OURS.contains(entry.getFileName().toString()))
                    .findFirst();
            if (foreign.isPresent() || !Files.exists(target.resolve(MARK))) {
                throw new InputException(
                        "output.foreign",
                        shown.toString(),
                        foreign.map(path -> "holds " + path.getFileName() + ", which is no result of evenstamp")
                                .orElse("is not a directory of results"),
                        "--replace only replaces results; choose another --out");
            }
        } catch (IOException e) {
            throw unwritable(shown, e);
        }
    }

    /** Writes one file of the directory. */
    @FunctionalInterface
    public interface FileWriter {
        /** Writes it. */
        void write(Path file) throws IOException;
    }

    /**
     * Adds a file.
     *
     * @throws InputException when the disk is full and the like
     */
    public void add(String name, FileWriter writer) {
        try {
            Path file = partial.resolve(name);
            Files.createDirectories(file.getParent());
            writer.write(file);
        } catch (IOException e) {
            throw unwritable(target.resolve(name), e);
        } catch (UncheckedIOException e) {
            throw unwritable(target.resolve(name), new IOException(e.getMessage(), e));
        }
    }

    /** Adds a text file. */
    public void add(String name, String text) {
        // Not writeString, which fails at half a character; a plug-in or a file name may bring one.
        add(name, file -> Files.write(file, text.getBytes(StandardCharsets.UTF_8)));
    }

    /**
     * Puts the results in their place.
     *
     * @throws InputException when that is not possible; old results are then still there
     */
    public void publish() {
        Path absolute = target.toAbsolutePath().normalize();
        Path old = partial.resolveSibling(partial.getFileName().toString().replace(".partial-", ".old-"));
        try {
            // createTempDirectory makes it private to the owner; results are made like any other directory.
            Path like = Files.createDirectory(old);
            try {
                Files.setPosixFilePermissions(partial, Files.getPosixFilePermissions(like));
            } catch (UnsupportedOperationException e) {
                // a file system without such permissions
            }
            Files.delete(old);
            boolean replaces = Files.exists(absolute);
            if (replaces) {
                Files.move(absolute, old);
            }
            try {
                Files.move(partial, absolute);
            } catch (IOException e) {
                if (replaces) {
                    Files.move(old, absolute);
                }
                throw e;
            }
            if (replaces) {
                delete(old);
            }
        } catch (IOException e) {
            throw unwritable(target, e);
        }
    }

    /** Removes whatever was not published. */
    @Override
    public void close() {
        delete(partial);
    }

    private static void delete(Path directory) {
        if (!Files.exists(directory)) {
            return;
        }
        try (Stream<Path> tree = Files.walk(directory)) {
            for (Path path : tree.sorted(Comparator.reverseOrder()).toList()) {
                Files.deleteIfExists(path);
            }
        } catch (IOException | UncheckedIOException e) {
            // A rest of a temporary directory does no harm, and the failure that led here matters more.
        }
    }

    private static InputException unwritable(Path place, IOException e) {
        String reason = e instanceof AccessDeniedException
                ? "permission denied"
                : e instanceof FileSystemException file && file.getReason() != null ? file.getReason() : e.getMessage();
        return new InputException(
                "output.unwritable",
                place.toString(),
                "cannot be written: " + (reason == null ? e.getClass().getSimpleName() : reason),
                "make room or get the right to write there, or choose another --out");
    }
}
