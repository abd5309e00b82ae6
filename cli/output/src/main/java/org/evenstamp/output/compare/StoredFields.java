package org.evenstamp.output.compare;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.zip.CRC32;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import org.evenstamp.shared.grid.TileGrid;

/**
 * The arrays of a {@code fields.npz}, read one at a time; {@link org.evenstamp.output.file.FieldsNpz} says how they are stored.
 *
 * <p>Every reading checks type, shape and checksum: {@link IOException} says what is wrong, without the file's name.
 */
public final class StoredFields implements AutoCloseable {
    private static final int BEFORE_HEADING = 10;
    private static final int LONGEST_HEADING = 0xffff;
    private static final Pattern HEADING = Pattern.compile("\\{\\s*'descr':\\s*'([^']*)',\\s*'fortran_order':\\s*False,"
            + "\\s*'shape':\\s*\\((\\d+),\\s*(\\d+)\\),?\\s*\\}\\s*");

    private final ZipFile zip;
    private final TileGrid grid;

    private StoredFields(ZipFile zip, TileGrid grid) {
        this.zip = zip;
        this.grid = grid;
    }

    /**
     * Opens the file.
     *
     * @param grid the grid that every array must have
     */
    static StoredFields open(Path file, TileGrid grid) throws IOException {
        return new StoredFields(new ZipFile(file.toFile()), grid);
    }

    /** Returns the values of a field in its display unit, {@link Double#NaN} where it has none. */
    double[] values(String field) throws IOException {
        ByteBuffer content = array(field + ".npy", "<f8", 8);
        double[] values = new double[grid.size()];
        content.asDoubleBuffer().get(values);
        for (double value : values) {
            if (!Double.isFinite(value)) {
                throw new IOException(field + " holds a value that is no number");
            }
        }
        if (zip.getEntry(field + ".known.npy") != null) {
            ByteBuffer known = array(field + ".known.npy", "|b1", 1);
            for (int i = 0; i < values.length; i++) {
                if (known.get() == 0) {
                    values[i] = Double.NaN;
                }
            }
        }
        return values;
    }

    private ByteBuffer array(String name, String type, int width) throws IOException {
        ZipEntry entry = zip.getEntry(name);
        if (entry == null) {
            throw new IOException("has no array " + name);
        }
        // A few packed bytes may claim to be gigabytes: no more is unpacked than an array of this grid can be.
        long most = BEFORE_HEADING + LONGEST_HEADING + (long) width * grid.size();
        if (most > Integer.MAX_VALUE - 8) {
            throw new IOException(name + " would be too large to compare");
        }
        byte[] bytes;
        try (InputStream stream = zip.getInputStream(entry)) {
            bytes = stream.readNBytes((int) most);
            if (stream.read() >= 0) {
                throw new IOException(name + " is longer than an array of " + grid.size() + " tiles");
            }
        }
        CRC32 crc = new CRC32();
        crc.update(bytes);
        if (crc.getValue() != entry.getCrc()) {
            throw new IOException(name + " is damaged: its checksum is wrong");
        }
        ByteBuffer content = ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN);
        if (bytes.length < BEFORE_HEADING
                || !new String(bytes, 0, 6, StandardCharsets.ISO_8859_1).equals("\u0093NUMPY")
                || bytes[6] != 1) {
            throw new IOException(name + " is no NPY array of version 1");
        }
        int length = content.getShort(8) & 0xffff;
        int start = BEFORE_HEADING + length;
        String heading =
                start <= bytes.length ? new String(bytes, BEFORE_HEADING, length, StandardCharsets.ISO_8859_1) : "";
        Matcher matcher = HEADING.matcher(heading);
        String expected = type + " of (" + grid.rows() + ", " + grid.columns() + ")";
        String found = matcher.matches()
                ? matcher.group(1) + " of (" + matcher.group(2) + ", " + matcher.group(3) + ")"
                : "something else";
        if (!found.equals(expected)) {
            throw new IOException(name + " holds " + found + ", not " + expected);
        }
        if (bytes.length - start != (long) width * grid.size()) {
            throw new IOException(
                    name + " holds " + (bytes.length - start) + " bytes of values, not " + (long) width * grid.size());
        }
        return content.position(start).slice().order(ByteOrder.LITTLE_ENDIAN);
    }

    @Override
    public void close() throws IOException {
        zip.close();
    }
}
