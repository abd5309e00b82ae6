package org.evenstamp.output.file;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.DirectoryNotEmptyException;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.ReentrantReadWriteLock;
import java.util.stream.Stream;
import org.evenstamp.engine.design.FileSink;
import org.evenstamp.shared.problem.InputException;
import org.jspecify.annotations.Nullable;

/**
 * A directory of results that is there complete or not at all.
 *
 * <p>Files are made in a hidden directory beside the target, {@code .<name>.partial-<number>}, which takes the target's
 * place when everything is written. With leave to replace, the old results stay until then; for the moment between two
 * renames they are {@code .<name>.old-<number>}. Closing without {@link #publish} removes what was made.
 *
 * <p>Only one process at a time may have a target open: a lock file {@code .<name>.lock} beside it says so. Whoever opens it
 * after a process that was killed puts old results back and sweeps what was left. {@link WrittenFiles} knows which files are
 * results; every other file in a directory that is replaced stays where it is.
 */
public final class ResultsDirectory implements FileSink, AutoCloseable {
    static final String MARK = "result.json";

    private static final int LONGEST_WAIT_SECONDS = 10;

    /** What the results of a fit are known by. */
    static final String FIT_MARK = "calibration.json";

    private final Path shown;
    private final Path target;
    private final boolean replace;
    private final Path partial;
    private final DirectoryLock lock;
    private final Moves moves;
    private final Set<String> kept = new TreeSet<>();
    /** Whoever adds a file reads, whoever closes writes: nothing is added to what is being removed. */
    private final ReentrantReadWriteLock adding = new ReentrantReadWriteLock();

    private volatile boolean closed;

    /** Renames a file or a directory; a test lets it fail. */
    @FunctionalInterface
    interface Moves {
        /** Renames in one step. */
        void move(Path from, Path to) throws IOException;
    }

    private ResultsDirectory(Path shown, Path target, boolean replace, Path partial, DirectoryLock lock, Moves moves) {
        this.replace = replace;
        this.shown = shown;
        this.target = target;
        this.partial = partial;
        this.lock = lock;
        this.moves = moves;
    }

    /**
     * Makes room for results, before anything is computed.
     *
     * @param target where they shall be; a symbolic link to a directory is followed
     * @param replace whether old results there may go
     * @throws InputException when something is there that may not go, when another process is writing there, or when nothing
     *     can be written there
     */
    public static ResultsDirectory open(Path target, boolean replace) {
        return open(target, replace, (from, to) -> Files.move(from, to));
    }

    static ResultsDirectory open(Path shown, boolean replace, Moves moves) {
        DirectoryLock lock = null;
        try {
            Path target = resolved(shown);
            Path parent = target.getParent();
            if (parent == null) {
                throw new InputException(
                        "output.root", shown.toString(), "cannot be a directory of results", "choose another --out");
            }
            Files.createDirectories(parent);
            lock = DirectoryLock.of(target);
            if (lock == null) {
                throw new InputException(
                        "output.busy",
                        shown.toString(),
                        "another evenstamp is writing there",
                        "wait until it has ended, or choose another --out");
            }
            if (lock.held()) {
                mend(target, moves);
            }
            checkTarget(shown, target, replace);
            Path partial = Files.createTempDirectory(parent, "." + target.getFileName() + ".partial-");
            return new ResultsDirectory(shown, target, replace, partial, lock, moves);
        } catch (IOException e) {
            release(lock);
            throw unwritable(shown, e);
        } catch (RuntimeException e) {
            release(lock);
            throw e;
        }
    }

    private static void release(@Nullable DirectoryLock lock) {
        if (lock != null) {
            lock.close();
        }
    }

    /** Two dots are taken out of the path as they stand, on every system; then a symbolic link is followed. */
    private static Path resolved(Path shown) throws IOException {
        Path absolute = shown.toAbsolutePath().normalize();
        for (int links = 0; Files.isSymbolicLink(absolute); links++) {
            if (links == 40) {
                throw new FileSystemException(shown.toString(), null, "too many symbolic links");
            }
            absolute = absolute.resolveSibling(Files.readSymbolicLink(absolute)).normalize();
        }
        return absolute;
    }

    /**
     * Puts old results back that a process which was killed between two renames has left beside their place; does nothing where
     * all is well, where somebody is writing, or where that is not possible.
     */
    public static void putBack(Path shown) {
        try {
            Path target = resolved(shown);
            if (target.getParent() == null || siblings(target, ".old-").isEmpty()) {
                return;
            }
            try (DirectoryLock lock = DirectoryLock.of(target)) {
                if (lock != null && lock.held()) {
                    mend(target, (from, to) -> Files.move(from, to));
                }
            }
        } catch (IOException e) {
            // whoever looks for the results says that they are not there
        }
    }

    /** Puts right what a process that was killed has left at a target nobody else is writing to. */
    private static void mend(Path target, Moves moves) throws IOException {
        for (Path old : siblings(target, ".old-")) {
            if (!Files.exists(target, LinkOption.NOFOLLOW_LINKS)) {
                moves.move(old, target);
            } else {
                retire(old, target, moves, new TreeSet<>());
            }
        }
        for (Path partial : siblings(target, ".partial-")) {
            delete(partial);
        }
    }

    private static List<Path> siblings(Path target, String mark) throws IOException {
        String beginning = "." + target.getFileName() + mark;
        try (Stream<Path> all = Files.list(target.getParent())) {
            return all.filter(path -> path.getFileName().toString().startsWith(beginning)
                            && path.getFileName()
                                    .toString()
                                    .substring(beginning.length())
                                    .matches("[0-9]+"))
                    .sorted()
                    .toList();
        }
    }

    private static void checkTarget(Path shown, Path target, boolean replace) throws IOException {
        if (!Files.exists(target)) {
            return;
        }
        if (!Files.isDirectory(target)) {
            throw new InputException(
                    "output.exists", shown.toString(), "is a file, results need a directory", "choose another --out");
        }
        List<String> names;
        try (Stream<Path> entries = Files.list(target)) {
            names = entries.map(entry -> entry.getFileName().toString())
                    .sorted()
                    .toList();
        }
        if (names.isEmpty()) {
            return;
        }
        if (!replace) {
            throw new InputException(
                    "output.exists",
                    shown.toString(),
                    "exists already",
                    "choose another --out, or say --replace to let the new results take its place");
        }
        if (!Files.exists(target.resolve(MARK)) && !Files.exists(target.resolve(FIT_MARK))) {
            throw new InputException(
                    "output.foreign",
                    shown.toString(),
                    "holds no result.json but " + names.get(0) + ", so it is not a directory of results",
                    "--replace only replaces results; choose another --out");
        }
    }

    /**
     * Adds a file.
     *
     * @throws InputException when the disk is full and the like
     * @throws IllegalStateException when the directory was closed: a thread that was left behind came too late
     */
    @Override
    public void add(String name, FileWriter writer) {
        adding.readLock().lock();
        try {
            if (closed) {
                throw new IllegalStateException("the results were given up before " + name);
            }
            Path file = partial.resolve(name);
            Files.createDirectories(file.getParent());
            writer.write(file);
        } catch (IOException e) {
            throw unwritable(shown.resolve(name), e);
        } catch (UncheckedIOException e) {
            throw unwritable(shown.resolve(name), new IOException(e.getMessage(), e));
        } finally {
            adding.readLock().unlock();
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
        Path old = partial.resolveSibling(partial.getFileName().toString().replace(".partial-", ".old-"));
        try {
            WrittenFiles.write(partial, WrittenFiles.in(partial)); // also what lies beside a file that was added
            // createTempDirectory makes it private to the owner; results are made like any other directory.
            Path like = Files.createDirectory(partial.resolve(".like"));
            try {
                Files.setPosixFilePermissions(partial, Files.getPosixFilePermissions(like));
            } catch (UnsupportedOperationException e) {
                // a file system without such permissions
            }
            Files.delete(like);
            boolean replaces = replace && Files.exists(target);
            if (!replace) {
                removeEmpty();
            }
            if (replaces) {
                moves.move(target, old);
            }
            try {
                moves.move(partial, target);
            } catch (IOException e) {
                if (replaces) {
                    moves.move(old, target);
                }
                throw e;
            }
            if (replaces) {
                retire(old, target, moves, kept);
            }
        } catch (IOException e) {
            throw unwritable(shown, e);
        }
    }

    private void removeEmpty() throws IOException {
        try {
            Files.deleteIfExists(target);
        } catch (DirectoryNotEmptyException e) {
            throw new InputException(
                    "output.exists",
                    shown.toString(),
                    "was made by somebody else meanwhile",
                    "choose another --out, or say --replace to let the new results take its place");
        }
    }

    /**
     * Returns the files of the directory that was replaced which evenstamp had not written; they are in the new one. Where
     * the new results have a file of the same name theirs is called {@code <name>.kept}.
     */
    public List<String> kept() {
        return List.copyOf(kept);
    }

    /** Carries what is not ours from old results to the new ones and removes the rest. */
    private static void retire(Path old, Path target, Moves moves, Set<String> kept) throws IOException {
        Set<String> ours = WrittenFiles.of(old);
        List<Path> files;
        try (Stream<Path> tree = Files.walk(old)) {
            files = tree.filter(path -> !Files.isDirectory(path, LinkOption.NOFOLLOW_LINKS))
                    .sorted()
                    .toList();
        }
        for (Path file : files) {
            String name = WrittenFiles.name(old, file);
            if (!ours.contains(name)) {
                Path there = target.resolve(name);
                while (Files.exists(there, LinkOption.NOFOLLOW_LINKS)) {
                    there = there.resolveSibling(there.getFileName() + ".kept");
                }
                Files.createDirectories(there.getParent());
                moves.move(file, there);
                kept.add(WrittenFiles.name(target, there));
            }
        }
        // What is ours, and last the list of it, so that a second try knows it too.
        for (Path file : files) {
            if (ours.contains(WrittenFiles.name(old, file)) && !WrittenFiles.isList(old, file)) {
                Files.deleteIfExists(file);
            }
        }
        delete(old);
    }

    /** Removes whatever was not published, and lets others write there. */
    @Override
    public void close() {
        boolean alone = waitForWriters();
        closed = true;
        delete(partial);
        if (alone) {
            adding.writeLock().unlock();
        }
        lock.close();
    }

    /** Waits for threads that were left behind in the middle of a file, which end by themselves but on a busy machine late. */
    private boolean waitForWriters() {
        boolean interrupted = Thread.interrupted(); // who wants to stop wants it clean too
        try {
            return adding.writeLock().tryLock(LONGEST_WAIT_SECONDS, TimeUnit.SECONDS);
        } catch (InterruptedException e) {
            interrupted = true;
            return false;
        } finally {
            if (interrupted) {
                Thread.currentThread().interrupt();
            }
        }
    }

    /** Lets go of the lock and leaves everything as it lies, as the end of a process does. For tests. */
    void forsake() {
        lock.close();
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
            // A rest of a temporary directory does no harm and is swept by the next run; what led here matters more.
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
