package org.evenstamp.shared.spi.kit;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** Compares text with a file of the repository; {@code -Dgolden.update=true} writes the file instead. */
public final class Golden {
    private Golden() {}

    /** Asserts that the file, relative to this module's directory, holds the text. */
    public static void check(String file, String actual) {
        Path path = Path.of(file);
        try {
            if (Boolean.getBoolean("golden.update")) {
                Files.createDirectories(path.toAbsolutePath().getParent());
                Files.writeString(path, actual);
            }
            assertThat(actual)
                    .as("%s (run the tests with -Dgolden.update=true to accept the new text)", file)
                    .isEqualTo(Files.exists(path) ? Files.readString(path) : "");
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
