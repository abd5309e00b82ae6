package org.evenstamp.engine.run;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import org.evenstamp.engine.result.Results;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;

/** Hashes an input file in the background, while others work on it. */
public final class FileHash {
    private final CompletableFuture<Results.InputFile> hash;

    private FileHash(CompletableFuture<Results.InputFile> hash) {
        this.hash = hash;
    }

    /** Begins. */
    public static FileHash start(Path file, String name, Progress progress) {
        CompletableFuture<Results.InputFile> hash = new CompletableFuture<>();
        Thread thread = new Thread(
                () -> {
                    try {
                        hash.complete(hash(file, name, progress));
                    } catch (RuntimeException | IOException e) {
                        hash.completeExceptionally(e);
                    }
                },
                "hashing");
        thread.setDaemon(true);
        thread.start();
        return new FileHash(hash);
    }

    /**
     * Waits for the hash.
     *
     * @throws InputException when the file cannot be read
     */
    public Results.InputFile await() {
        try {
            return hash.join();
        } catch (CompletionException e) {
            if (e.getCause() instanceof IOException io) {
                throw new InputException("input.unreadable", "", "cannot read an input again: " + io.getMessage(), "");
            }
            if (e.getCause() instanceof RuntimeException runtime) {
                throw runtime;
            }
            throw e;
        }
    }

    private static Results.InputFile hash(Path file, String name, Progress progress) throws IOException {
        MessageDigest digest;
        try {
            digest = MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
        long bytes = 0;
        byte[] buffer = new byte[1 << 18];
        try (InputStream in = Files.newInputStream(file)) {
            for (int read = in.read(buffer); read >= 0; read = in.read(buffer)) {
                progress.checkCancelled();
                digest.update(buffer, 0, read);
                bytes += read;
            }
        }
        return new Results.InputFile(name, bytes, HexFormat.of().formatHex(digest.digest()));
    }
}
