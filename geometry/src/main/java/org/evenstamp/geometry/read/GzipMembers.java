package org.evenstamp.geometry.read;

import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.util.zip.CRC32;
import java.util.zip.DataFormatException;
import java.util.zip.Inflater;
import java.util.zip.ZipException;

/**
 * Unpacks gzip (RFC 1952) member after member. Only zero bytes, as some media pad with, may follow the last one; anything else is
 * an error. {@link java.util.zip.GZIPInputStream} takes a second member with a damaged heading for the end of the file.
 *
 * <p>Errors: {@link EOFException} when a member is cut off, {@link ZipException} when it is damaged or something else follows.
 */
final class GzipMembers extends InputStream {
    private static final int BUFFER = 1 << 17;
    private static final int HAS_CHECK = 2;
    private static final int HAS_EXTRA = 4;
    private static final int HAS_NAME = 8;
    private static final int HAS_COMMENT = 16;
    private static final int RESERVED = 0xE0;

    private final InputStream packed;
    private final Inflater inflater = new Inflater(true);
    private final CRC32 check = new CRC32();
    private final byte[] buffer = new byte[BUFFER];
    private int at;
    private int end;
    private long member;
    private boolean inside;
    private boolean over;

    GzipMembers(InputStream packed) {
        this.packed = packed;
    }

    @Override
    public int read() throws IOException {
        byte[] one = new byte[1];
        return read(one, 0, 1) < 0 ? -1 : one[0] & 0xFF;
    }

    @Override
    public int read(byte[] into, int offset, int length) throws IOException {
        if (length == 0) {
            return 0;
        }
        while (!over) {
            if (!inside) {
                begin();
            } else if (inflater.finished()) {
                finish();
            } else {
                int got = inflate(into, offset, length);
                if (got > 0) {
                    check.update(into, offset, got);
                    return got;
                }
            }
        }
        return -1;
    }

    private int inflate(byte[] into, int offset, int length) throws IOException {
        if (inflater.needsInput()) {
            if (at == end && !fill()) {
                throw new EOFException();
            }
            inflater.setInput(buffer, at, end - at);
            at = end;
        }
        try {
            int got = inflater.inflate(into, offset, length);
            if (got == 0 && inflater.needsDictionary()) {
                throw new ZipException(which() + " needs a dictionary");
            }
            return got;
        } catch (DataFormatException e) {
            throw new ZipException(which() + ": " + (e.getMessage() == null ? "invalid data" : e.getMessage()));
        }
    }

    /** Passes the heading of a member, or the zero bytes up to the end of the file. */
    private void begin() throws IOException {
        if (member > 0 && onlyZerosFollow()) {
            over = true;
            return;
        }
        member++;
        check.reset();
        if (next() != 0x1f || next() != 0x8b || next() != 8) {
            throw new ZipException(
                    member == 1 ? "this is no gzip file" : "what follows member " + (member - 1) + " is not gzip");
        }
        int flags = next();
        if ((flags & RESERVED) != 0) {
            throw new ZipException("the heading of " + which() + " has unknown flags");
        }
        pass(6); // time, extra flags, system
        if ((flags & HAS_EXTRA) != 0) {
            pass(number(2));
        }
        if ((flags & HAS_NAME) != 0) {
            passText();
        }
        if ((flags & HAS_COMMENT) != 0) {
            passText();
        }
        if ((flags & HAS_CHECK) != 0) {
            long wanted = check.getValue() & 0xFFFF;
            if (number(2) != wanted) {
                throw new ZipException("the heading of " + which() + " does not agree with its check sum");
            }
        }
        check.reset();
        inflater.reset();
        inside = true;
    }

    private boolean onlyZerosFollow() throws IOException {
        boolean zeros = false;
        while (at < end || fill()) {
            if (buffer[at] != 0) {
                if (zeros) {
                    throw new ZipException("what follows the zero bytes after " + which() + " is not gzip");
                }
                return false;
            }
            zeros = true;
            at++;
        }
        return true;
    }

    private void finish() throws IOException {
        at = end - inflater.getRemaining();
        long wanted = check.getValue();
        if (number(4) != wanted || number(4) != (inflater.getBytesWritten() & 0xFFFFFFFFL)) {
            throw new ZipException(which() + " does not agree with its check sum");
        }
        inside = false;
    }

    private String which() {
        return "member " + member;
    }

    private int next() throws IOException {
        if (at == end && !fill()) {
            throw new EOFException();
        }
        check.update(buffer[at]);
        return buffer[at++] & 0xFF;
    }

    private void pass(long bytes) throws IOException {
        for (long i = 0; i < bytes; i++) {
            next();
        }
    }

    private void passText() throws IOException {
        while (next() != 0) {
            // up to the zero byte that ends it
        }
    }

    /** Reads a little-endian number. */
    private long number(int bytes) throws IOException {
        long value = 0;
        for (int i = 0; i < bytes; i++) {
            value |= (long) next() << (8 * i);
        }
        return value;
    }

    private boolean fill() throws IOException {
        at = 0;
        end = Math.max(0, packed.read(buffer, 0, BUFFER));
        return end > 0;
    }

    @Override
    public void close() throws IOException {
        inflater.end();
        packed.close();
    }
}
