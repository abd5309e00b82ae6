package org.evenstamp.geometry.read;

import java.util.Arrays;
import org.evenstamp.shared.problem.InputException;
import org.jspecify.annotations.Nullable;

/**
 * Cuts a layout's bytes into chunks at ends of features, and hands them to whichever worker asks next.
 *
 * <p>A chunk ends after the last feature that ends in its first {@code target} bytes; when none does it grows until one does or
 * the limit is reached. So the cuts follow from the bytes alone. Safe for several threads.
 */
abstract class ChunkCutter {
    private final FileBytes in;
    private final int target;
    private final int limit;
    private final Runnable pulse;
    private byte[] carry = new byte[0];
    /** Set from outside while another thread is cutting. */
    private volatile boolean over;

    private int number;
    private long line;
    private long column;
    private long bytesCut;
    private long position;

    /**
     * Creates a cutter.
     *
     * @param in at the first byte of the first feature
     * @param line line of that byte
     * @param column column of that byte
     * @param target usual size of a chunk, bytes
     * @param limit largest size of a chunk, bytes
     * @param pulse called now and then; may throw to stop
     */
    ChunkCutter(FileBytes in, long line, long column, int target, int limit, Runnable pulse) {
        this.in = in;
        this.line = line;
        this.column = column;
        this.target = target;
        this.limit = Math.max(limit, target);
        this.pulse = pulse;
    }

    /**
     * Finds the end of the last feature in bytes that have come in. Called with all bytes of the file, once each, in order.
     *
     * @return its index, or -1 when none ends there
     */
    abstract int cut(byte[] bytes, int from, int to);

    /** Returns whether the last feature has been found although the file goes on. */
    boolean closed() {
        return false;
    }

    /** Takes what follows the last feature. */
    void tail(Chunk rest) {}

    /** Returns what is wrong when the file ends at the end of this chunk, or null when nothing is. */
    @Nullable
    InputException endOfFile(Chunk chunk) {
        return null;
    }

    /** Fills a chunk; returns false when there are no more. */
    synchronized boolean next(Chunk chunk) {
        if (over) {
            return false;
        }
        pulse.run();
        if (chunk.bytes.length > 8 * Math.max(target, carry.length)) {
            chunk.bytes = new byte[Chunk.SLACK]; // an unusually long feature has passed
        }
        int filled = carry.length;
        int size = Math.min(limit, Math.max(target, filled + target / 4));
        System.arraycopy(carry, 0, chunk.room(size), 0, filled);
        chunk.unfinished = null;
        chunk.number = number++;
        chunk.line = line;
        chunk.column = column;
        int cut = -1;
        boolean ended;
        for (; ; ) {
            int to = in.read(chunk.bytes, filled, size);
            ended = to < size;
            int found = cut(chunk.bytes, filled, to);
            cut = found < 0 ? cut : found;
            filled = to;
            if (cut >= 0 || ended || size == limit) {
                break;
            }
            size = (int) Math.min(limit, 2L * size);
            chunk.room(size);
            pulse.run();
        }
        if (closed()) {
            over = true;
            Chunk rest = rest(chunk, cut, filled);
            finish(chunk, cut);
            finish(rest, rest.length);
            chunk.fileBytes += rest.fileBytes;
            try {
                tail(rest);
            } catch (InputException e) {
                chunk.unfinished = e; // what is wrong in the chunk itself comes first
            }
        } else if (cut >= 0) {
            carry = Arrays.copyOfRange(chunk.bytes, cut, filled);
            finish(chunk, cut);
        } else {
            over = true;
            carry = new byte[0];
            finish(chunk, filled);
            chunk.unfinished = ended ? endOfFile(chunk) : tooLong(chunk);
            return filled > 0 || chunk.unfinished != null;
        }
        return true;
    }

    private void finish(Chunk chunk, int end) {
        chunk.end(end);
        bytesCut += end;
        line = chunk.lineOf(end);
        column = chunk.columnOf(end);
        chunk.fileBytes = in.position() - position;
        position += chunk.fileBytes;
    }

    /** Reads the file to its end and returns all that follows a byte. */
    private Chunk rest(Chunk chunk, int from, int filled) {
        Chunk rest = new Chunk(chunk.file);
        int have = filled - from;
        int size = have + target;
        System.arraycopy(chunk.bytes, from, rest.room(size), 0, have);
        rest.line = chunk.lineOf(from);
        rest.column = chunk.columnOf(from);
        for (; ; ) {
            int to = in.read(rest.bytes, have, size);
            if (to < size) {
                rest.end(to);
                return rest;
            }
            have = to;
            if (size == limit) {
                throw rest.syntax(0, "more than " + size + " bytes follow the last feature", "delete what follows it");
            }
            size = (int) Math.min(limit, 2L * size);
            rest.room(size);
            pulse.run();
        }
    }

    private InputException tooLong(Chunk chunk) {
        return new InputException(
                "layout.feature-too-long",
                chunk.place(0),
                "a single line or feature is longer than " + limit / 1_000_000 + " MB",
                "split it, or give Java more memory (-Xmx): an eighth of it may be one feature, up to 1 GB");
    }

    /** Returns how many bytes have been cut, unpacked. */
    synchronized long bytesCut() {
        return bytesCut;
    }

    /** Returns the number of lines that have begun. */
    synchronized long lines() {
        return column == 1 ? line - 1 : line;
    }

    /** Stops handing out chunks. */
    void stop() {
        over = true;
    }

    /** Cuts after line ends; with {@code quotes} not after those between double quotes. */
    static final class Lines extends ChunkCutter {
        private final boolean quotes;
        private boolean quoted;

        Lines(FileBytes in, long line, long column, int target, int limit, Runnable pulse, boolean quotes) {
            super(in, line, column, target, limit, pulse);
            this.quotes = quotes;
        }

        @Override
        int cut(byte[] bytes, int from, int to) {
            if (!quotes) {
                for (int i = to - 1; i >= from; i--) {
                    if (bytes[i] == '\n') {
                        return i + 1;
                    }
                }
                return -1;
            }
            int cut = -1;
            for (int i = from; i < to; i++) {
                byte b = bytes[i];
                if (b == '"') {
                    quoted = !quoted;
                } else if (b == '\n' && !quoted) {
                    cut = i + 1;
                }
            }
            return cut;
        }
    }

    /** Cuts after the elements of a JSON array of objects, the array's opening bracket passed. */
    static class Elements extends ChunkCutter {
        private int depth;
        private boolean quoted;
        private boolean escaped;
        private boolean closed;

        Elements(FileBytes in, long line, long column, int target, int limit, Runnable pulse) {
            super(in, line, column, target, limit, pulse);
        }

        @Override
        int cut(byte[] bytes, int from, int to) {
            int cut = -1;
            int i = from;
            while (i < to) {
                if (quoted) {
                    i = passText(bytes, i, to);
                } else if (depth > 0) {
                    i = ByteWords.quoteOrBrace(bytes, i, to);
                    if (i < to) {
                        byte b = bytes[i++];
                        if (b == '"') {
                            quoted = true;
                        } else if (b == '{') {
                            depth++;
                        } else if (--depth == 0) {
                            cut = i;
                        }
                    }
                } else {
                    byte b = bytes[i];
                    if (b == ']') {
                        closed = true;
                        return i;
                    }
                    depth += b == '{' ? 1 : 0;
                    quoted = b == '"';
                    i++;
                }
            }
            return cut;
        }

        private int passText(byte[] bytes, int from, int to) {
            int i = from;
            while (i < to) {
                byte b = bytes[i++];
                if (escaped) {
                    escaped = false;
                } else if (b == '\\') {
                    escaped = true;
                } else if (b == '"') {
                    quoted = false;
                    return i;
                }
            }
            return i;
        }

        @Override
        boolean closed() {
            return closed;
        }

        @Override
        InputException endOfFile(Chunk chunk) {
            return GeoJsonParser.endsEarly(chunk);
        }
    }

    /** Does not cut: the whole file is one feature. */
    static final class Whole extends ChunkCutter {
        Whole(FileBytes in, long line, long column, int target, int limit, Runnable pulse) {
            super(in, line, column, target, limit, pulse);
        }

        @Override
        int cut(byte[] bytes, int from, int to) {
            return -1;
        }
    }
}
