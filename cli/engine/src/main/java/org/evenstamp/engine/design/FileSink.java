package org.evenstamp.engine.design;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** Takes files that a proposal makes beside its answer. */
@FunctionalInterface
public interface FileSink {
    /** Writes one file. */
    @FunctionalInterface
    interface FileWriter {
        /** Writes it. */
        void write(Path file) throws IOException;
    }

    /**
     * Has a file written at once, in place of one of that name.
     *
     * @param name its name; all files of a sink lie in one directory
     */
    void add(String name, FileWriter writer);

    /**
     * Returns a sink whose files go into a directory, which is made when it is not there.
     *
     * @throws UncheckedIOException from {@link #add}, when a file cannot be written
     */
    static FileSink into(Path directory) {
        return (name, writer) -> {
            try {
                Files.createDirectories(directory);
                writer.write(directory.resolve(name));
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        };
    }
}
