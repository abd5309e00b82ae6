package org.evenstamp.cluster;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.channels.OverlappingFileLockException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.evenstamp.shared.problem.InputException;

/**
 * The folder of one sweep or layout in the store, as its client sees it: {@code client} is the mark by which workers know that
 * they see the same store, {@code job} the engine's number of the job that was sent last. One client at a time has it open.
 */
final class StoreFolder implements AutoCloseable {
    static final String MARK = "client";
    private static final String JOB = "job";
    private static final String LOCK = "lock";

    private final Path directory;
    private final RandomAccessFile lock;
    private final String token;

    private StoreFolder(Path directory, RandomAccessFile lock, String token) {
        this.directory = directory;
        this.lock = lock;
        this.token = token;
    }

    /**
     * Opens a folder, or begins one.
     *
     * @throws InputException when it cannot be used, or another client uses it
     */
    static StoreFolder open(Path store, String name) {
        Path directory = store.toAbsolutePath().normalize().resolve(name);
        try {
            Files.createDirectories(directory);
            RandomAccessFile lock = new RandomAccessFile(directory.resolve(LOCK).toFile(), "rw");
            if (!locked(lock)) {
                lock.close();
                throw new InputException(
                        "engine.store-in-use",
                        directory.toString(),
                        "another process is running the same work with this store",
                        "wait for it, or choose another directory with --store");
            }
            StoreFolder folder =
                    new StoreFolder(directory, lock, UUID.randomUUID().toString());
            try {
                folder.write(MARK, folder.token);
            } catch (IOException e) {
                lock.close();
                throw e;
            }
            return folder;
        } catch (IOException e) {
            throw unusable(directory, e);
        }
    }

    private static boolean locked(RandomAccessFile file) throws IOException {
        try {
            return file.getChannel().tryLock() != null;
        } catch (OverlappingFileLockException e) {
            return false;
        }
    }

    static InputException unusable(Path directory, IOException e) {
        return new InputException(
                "engine.store",
                directory.toString(),
                "the store cannot be used: " + e.getMessage(),
                "name with --store a directory with room in which this process and all workers may write");
    }

    Path directory() {
        return directory;
    }

    /** Returns the mark of this client. */
    String token() {
        return token;
    }

    /** Returns the number of the job that was sent last, as far as one was. */
    Optional<String> lastJob() {
        try {
            Path file = directory.resolve(JOB);
            return Files.exists(file) ? Optional.of(Files.readString(file)) : Optional.empty();
        } catch (IOException e) {
            throw unusable(directory, e);
        }
    }

    /** Keeps the number of a job. */
    void sent(String job) {
        try {
            write(JOB, job);
        } catch (IOException e) {
            throw unusable(directory, e);
        }
    }

    private void write(String name, String text) throws IOException {
        Path partial = directory.resolve(name + ".partial");
        Files.write(partial, text.getBytes(StandardCharsets.UTF_8));
        Files.move(partial, directory.resolve(name), StandardCopyOption.REPLACE_EXISTING);
    }

    /** Copies a file to a place in this folder, unless the same stands there. */
    void copy(Path from, Path to) {
        try {
            boolean same = Files.exists(to)
                    && Files.size(to) == Files.size(from)
                    && Files.getLastModifiedTime(to).equals(Files.getLastModifiedTime(from));
            if (!same) {
                Files.createDirectories(to.getParent());
                Path partial = to.resolveSibling(to.getFileName() + ".partial");
                Files.copy(from, partial, StandardCopyOption.REPLACE_EXISTING, StandardCopyOption.COPY_ATTRIBUTES);
                Files.move(partial, to, StandardCopyOption.REPLACE_EXISTING);
            }
        } catch (IOException e) {
            throw unusable(directory, e);
        }
    }

    /** Returns the jars of a directory. */
    static List<Path> jars(Path directory) {
        try (Stream<Path> entries = Files.list(directory)) {
            return entries.filter(entry -> entry.toString().endsWith(".jar"))
                    .sorted()
                    .toList();
        } catch (IOException e) {
            throw unusable(directory, e);
        }
    }

    @Override
    public void close() {
        try {
            Files.deleteIfExists(directory.resolve(JOB));
            lock.close(); // gives the lock back
        } catch (IOException e) {
            throw unusable(directory, e);
        }
    }
}
