package org.evenstamp.geometry.read;

import com.github.luben.zstd.ZstdIOException;
import com.github.luben.zstd.ZstdInputStream;
import java.io.Closeable;
import java.io.EOFException;
import java.io.FileInputStream;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.util.zip.ZipException;
import org.evenstamp.shared.problem.InputException;

/** The bytes of a layout file, unpacked. Plain streams, not channels: an interrupt must not close the file under other workers. */
final class FileBytes implements Closeable {
    private static final int SLICE = 1 << 17;

    private final Path file;
    private final Counting packed;
    private final InputStream plain;

    private FileBytes(Path file, Counting packed, InputStream plain) {
        this.file = file;
        this.packed = packed;
        this.plain = plain;
    }

    /** Opens a file. */
    static FileBytes open(Path file, Compression compression) {
        try {
            Counting packed = new Counting(new FileInputStream(file.toFile()));
            try {
                return new FileBytes(file, packed, unpack(packed, compression));
            } catch (IOException e) {
                packed.close();
                throw e;
            }
        } catch (IOException e) {
            throw problem(file, 0, e);
        }
    }

    /** Opens some bytes of a file that is not packed. */
    static FileBytes openRange(Path file, long from, long to) {
        try {
            FileInputStream all = new FileInputStream(file.toFile());
            try {
                all.getChannel().position(from);
                Counting packed = new Counting(new BoundedStream(all, to - from));
                return new FileBytes(file, packed, packed);
            } catch (IOException e) {
                all.close();
                throw e;
            }
        } catch (IOException e) {
            throw problem(file, from, e);
        }
    }

    /** Ends after some bytes. */
    private static final class BoundedStream extends FilterInputStream {
        private long left;

        BoundedStream(InputStream in, long left) {
            super(in);
            this.left = left;
        }

        @Override
        public int read() throws IOException {
            byte[] one = new byte[1];
            return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
        }

        @Override
        public int read(byte[] into, int offset, int length) throws IOException {
            if (left == 0) {
                return -1;
            }
            int got = super.read(into, offset, (int) Math.min(length, left));
            left -= Math.max(0, got);
            return got;
        }
    }

    private static InputStream unpack(Counting packed, Compression compression) throws IOException {
        return switch (compression) {
            case NONE -> packed;
            case GZIP -> new GzipMembers(packed);
            case ZSTD -> new ZstdInputStream(packed);
        };
    }

    /** Fills {@code into} from index {@code from} up to {@code to}; returns where the bytes end, less than {@code to} at the end of the file. */
    int read(byte[] into, int from, int to) {
        try {
            int at = from;
            while (at < to) {
                int got = plain.read(into, at, Math.min(SLICE, to - at));
                if (got < 0) {
                    break;
                }
                at += got;
            }
            return at;
        } catch (IOException e) {
            throw problem(file, packed.count, e);
        }
    }

    /** Passes over bytes that an earlier opening has seen. */
    void skip(long bytes) {
        byte[] sink = new byte[SLICE];
        long left = bytes;
        while (left > 0) {
            int got = read(sink, 0, (int) Math.min(SLICE, left));
            if (got == 0) {
                return;
            }
            left -= got;
        }
    }

    /** Returns how far into the file, as it lies on the disk, reading has come. */
    long position() {
        return packed.count;
    }

    @Override
    public void close() {
        try {
            plain.close();
        } catch (IOException e) {
            throw problem(file, packed.count, e);
        }
    }

    private static InputException problem(Path file, long position, IOException e) {
        String place = file.toString();
        boolean endsEarly = e instanceof EOFException
                || (e instanceof ZstdIOException
                        && String.valueOf(e.getMessage()).contains("Truncated"));
        if (endsEarly) {
            return new InputException(
                    "layout.truncated",
                    place,
                    "the compressed file ends in the middle of its data, after " + position + " bytes",
                    "copy or compress it again");
        }
        if (e instanceof ZipException || e instanceof ZstdIOException) {
            return new InputException(
                    "layout.corrupt",
                    place,
                    "the compressed data are damaged near byte " + position + ": " + e.getMessage(),
                    "copy or compress it again");
        }
        return new InputException(
                "layout.unreadable",
                place,
                "cannot be read: " + e.getMessage(),
                "check the path and the permission to read it");
    }

    private static final class Counting extends FilterInputStream {
        private long count;

        Counting(InputStream in) {
            super(in);
        }

        @Override
        public int read() throws IOException {
            int got = super.read();
            count += got < 0 ? 0 : 1;
            return got;
        }

        @Override
        public int read(byte[] into, int offset, int length) throws IOException {
            int got = super.read(into, offset, length);
            count += Math.max(got, 0);
            return got;
        }
    }

    /** Returns these bytes as a stream, which closes them. */
    InputStream stream() {
        return new InputStream() {
            @Override
            public int read() {
                byte[] one = new byte[1];
                return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
            }

            @Override
            public int read(byte[] into, int offset, int length) {
                int end = length == 0 ? offset : FileBytes.this.read(into, offset, offset + length);
                return end > offset || length == 0 ? end - offset : -1;
            }

            @Override
            public void close() {
                FileBytes.this.close();
            }
        };
    }
}
