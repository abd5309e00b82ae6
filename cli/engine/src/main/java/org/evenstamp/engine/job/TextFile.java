package org.evenstamp.engine.job;

import java.io.BufferedReader;
import java.io.FilterReader;
import java.io.IOException;
import java.io.Reader;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * Opens the text files that a user names, of a kind that is small: no pipe or device, which may never end, no file larger than
 * {@value #MOST_BYTES} bytes, and no line longer than {@value #LONGEST_LINE} characters.
 */
public final class TextFile {
    private static final long MOST_BYTES = 256_000_000;
    private static final int LONGEST_LINE = 1_000_000;

    private TextFile() {}

    /**
     * Opens a text in UTF-8.
     *
     * @throws IOException when it is not a file or too large, with a message for a person; so does reading a line too long
     */
    public static BufferedReader open(Path file) throws IOException {
        check(file, MOST_BYTES);
        return new BufferedReader(new ShortLines(Files.newBufferedReader(file)));
    }

    /** Returns when this is a file, or nothing, and not larger than {@code mostBytes}. */
    static void check(Path file, long mostBytes) throws IOException {
        if (!Files.exists(file) || Files.isDirectory(file)) {
            return; // opening it says so
        }
        if (!Files.isRegularFile(file)) {
            throw new IOException("it is a pipe or device, not a file");
        }
        if (Files.size(file) > mostBytes) {
            throw new IOException("it has " + Files.size(file) + " bytes, more than " + mostBytes);
        }
    }

    private static final class ShortLines extends FilterReader {
        private long line = 1;
        private int length;

        ShortLines(Reader in) {
            super(in);
        }

        @Override
        public int read() throws IOException {
            char[] one = new char[1];
            return read(one, 0, 1) < 0 ? -1 : one[0];
        }

        @Override
        public int read(char[] into, int offset, int count) throws IOException {
            int got = super.read(into, offset, count);
            for (int i = offset; i < offset + got; i++) {
                length++;
                if (into[i] == '\n' || into[i] == '\r') {
                    line += into[i] == '\n' ? 1 : 0;
                    length = 0;
                } else if (length > LONGEST_LINE) {
                    throw new IOException("line " + line + " is longer than " + LONGEST_LINE + " characters");
                }
            }
            return got;
        }
    }
}
