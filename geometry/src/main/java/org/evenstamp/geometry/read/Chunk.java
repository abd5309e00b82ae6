package org.evenstamp.geometry.read;

import java.util.Arrays;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Source;
import org.jspecify.annotations.Nullable;

/** A stretch of a layout file that ends where a feature ends. Reused by its worker. */
final class Chunk {
    /** Zero bytes kept after the last one, so that the parser may look ahead without asking. */
    static final int SLACK = 16;

    /** The file's name for messages. */
    final String file;

    byte[] bytes = new byte[SLACK];
    /** Bytes in use. */
    int length;
    /** Number of the chunk in the file, from 0. */
    int number;
    /** Line on which the first byte stands, from 1. */
    long line = 1;
    /** Column of the first byte, in bytes, from 1. */
    long column = 1;
    /** How many bytes of the file on the disk this chunk has used up. */
    long fileBytes;
    /** What to say when the chunk has been parsed without an error although its last feature does not end; null when it ends. */
    @Nullable
    InputException unfinished;

    /** Where the error of syntax that was made last is. */
    private int errorAt;

    Chunk(String file) {
        this.file = file;
    }

    /** Makes room for so many bytes and the slack, keeping what is there. */
    byte[] room(int size) {
        if (bytes.length < size + SLACK) {
            bytes = Arrays.copyOf(bytes, size + SLACK);
        }
        return bytes;
    }

    /** Sets where the bytes end and clears what lies behind. */
    void end(int end) {
        length = end;
        Arrays.fill(bytes, end, end + SLACK, (byte) 0);
    }

    /** Returns the line of a byte. */
    long lineOf(int at) {
        return line + ByteWords.count(bytes, 0, at, '\n');
    }

    /** Returns the column of a byte, in bytes. */
    long columnOf(int at) {
        int last = at - 1;
        while (last >= 0 && bytes[last] != '\n') {
            last--;
        }
        return last < 0 ? column + at : (long) at - last;
    }

    /** Returns where a byte stands. */
    Source place(int at) {
        return new Source(file, lineOf(at), columnOf(at));
    }

    /** Returns a syntax error at a byte. */
    InputException syntax(int at, String message, String fix) {
        errorAt = at;
        return new InputException("layout.syntax", place(at), message, fix);
    }

    /** Returns what to throw for an error of syntax: the error, unless it only comes from the chunk ending in a feature. */
    InputException failure(InputException syntax) {
        InputException cause = unfinished;
        return cause != null && errorAt > length - SLACK ? cause : syntax;
    }
}
