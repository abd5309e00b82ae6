package org.evenstamp.output.file;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Arrays;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * The sole right to write to a directory, held by a lock of the operating system on a file {@code .<name>.lock} beside it: it
 * goes with the process, however that ends. Where the file system knows no locks it is not held, and nobody is kept out.
 */
final class DirectoryLock implements AutoCloseable {
    private final Path file;
    private final FileChannel channel;
    private final boolean held;

    private DirectoryLock(Path file, FileChannel channel, boolean held) {
        this.file = file;
        this.channel = channel;
        this.held = held;
    }

    /** Returns the lock of a directory, or null when somebody else has it. */
    static @Nullable DirectoryLock of(Path directory) throws IOException {
        Path file = directory.resolveSibling("." + directory.getFileName() + ".lock");
        for (; ; ) {
            FileChannel channel = FileChannel.open(file, StandardOpenOption.CREATE, StandardOpenOption.WRITE);
            FileLock lock;
            try {
                lock = channel.tryLock();
            } catch (OverlappingFileLockException e) {
                channel.close();
                return null;
            } catch (IOException e) { // a network disk without locks
                return new DirectoryLock(file, channel, false);
            }
            if (lock == null) {
                channel.close();
                return null;
            }
            DirectoryLock held = new DirectoryLock(file, channel, true);
            try {
                if (isStill(file, channel)) {
                    return held;
                }
            } catch (IOException e) { // such as a full disk
                held.close();
                throw e;
            }
            channel.close(); // whoever had it before has removed the file meanwhile
        }
    }

    /** Whether the file that was opened is still the one of that name: what is written to the one is read from the other. */
    private static boolean isStill(Path file, FileChannel channel) throws IOException {
        byte[] token = UUID.randomUUID().toString().getBytes(StandardCharsets.US_ASCII);
        channel.truncate(0);
        channel.write(ByteBuffer.wrap(token));
        try {
            return Arrays.equals(Files.readAllBytes(file), token);
        } catch (NoSuchFileException e) {
            return false;
        } catch (IOException e) { // a system that lets nobody read a locked file, nor remove it
            return true;
        }
    }

    /** Returns whether nobody else can have it. */
    boolean held() {
        return held;
    }

    @Override
    public void close() {
        try {
            if (channel.isOpen()) {
                Files.deleteIfExists(file);
                channel.close();
            }
        } catch (IOException e) {
            // An empty lock file that stays does no harm.
        }
    }
}
