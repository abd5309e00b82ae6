package org.evenstamp.cli.report;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDateTime;
import java.util.zip.CRC32;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.grid.TileGrid;

/**
 * Writes {@code fields.npz}: all fields as NumPy arrays.
 *
 * <p>The file is a ZIP archive, stored without compression, of one {@code <field id>.npy} a field: little-endian
 * {@code float64}, shape (rows, columns), C order, row 0 the lowest row of tiles, in the field's display unit. Where a
 * field lacks values there is also {@code <field id>.known.npy}, {@code bool} of the same shape; a value that is not known
 * is 0. Every entry carries the same fixed date, so that equal fields give equal bytes.
 *
 * <p>The NPY form (version 1.0) is described in the NumPy reference, "numpy.lib.format": magic {@code \x93NUMPY}, version,
 * little-endian length of the heading, a Python dictionary as heading, padded with spaces to a multiple of 64 bytes and
 * ended by a line feed, then the raw array.
 */
public final class FieldsNpz {
    // Later than the first day of ZIP time, which Java stores in a form that depends on the time zone.
    private static final LocalDateTime DATE = LocalDateTime.of(1980, 2, 1, 0, 0);
    private static final int ALIGNMENT = 64;

    private FieldsNpz() {}

    /** Writes the file. */
    public static void write(Path file, FieldSet fields) throws IOException {
        try (OutputStream raw = new BufferedOutputStream(Files.newOutputStream(file), 1 << 16);
                ZipOutputStream zip = new ZipOutputStream(raw)) {
            zip.setMethod(ZipOutputStream.STORED);
            for (Field field : fields.all()) {
                entry(zip, field.name().id() + ".npy", values(field));
                if (field.knownCount() < field.grid().size()) {
                    entry(zip, field.name().id() + ".known.npy", known(field));
                }
            }
        }
    }

    private static void entry(ZipOutputStream zip, String name, byte[] content) throws IOException {
        CRC32 crc = new CRC32();
        crc.update(content);
        ZipEntry entry = new ZipEntry(name);
        entry.setTimeLocal(DATE);
        entry.setSize(content.length);
        entry.setCompressedSize(content.length);
        entry.setCrc(crc.getValue());
        zip.putNextEntry(entry);
        zip.write(content);
        zip.closeEntry();
    }

    private static byte[] values(Field field) {
        TileGrid grid = field.grid();
        byte[] heading = heading("<f8", grid);
        ByteBuffer buffer = ByteBuffer.allocate(Math.addExact(heading.length, Math.multiplyExact(8, grid.size())))
                .order(ByteOrder.LITTLE_ENDIAN);
        buffer.put(heading);
        for (int i = 0; i < grid.size(); i++) {
            buffer.putDouble(field.known(i) ? field.name().unit().fromSi(field.at(i)) : 0);
        }
        return buffer.array();
    }

    private static byte[] known(Field field) {
        TileGrid grid = field.grid();
        byte[] heading = heading("|b1", grid);
        ByteBuffer buffer = ByteBuffer.allocate(heading.length + grid.size());
        buffer.put(heading);
        for (int i = 0; i < grid.size(); i++) {
            buffer.put((byte) (field.known(i) ? 1 : 0));
        }
        return buffer.array();
    }

    private static byte[] heading(String type, TileGrid grid) {
        String dictionary = "{'descr': '" + type + "', 'fortran_order': False, 'shape': (" + grid.rows() + ", "
                + grid.columns() + "), }";
        int before = 10;
        int length = before + dictionary.length() + 1;
        int padded = (length + ALIGNMENT - 1) / ALIGNMENT * ALIGNMENT;
        ByteBuffer buffer = ByteBuffer.allocate(padded).order(ByteOrder.LITTLE_ENDIAN);
        buffer.put((byte) 0x93).put("NUMPY".getBytes(StandardCharsets.US_ASCII));
        buffer.put((byte) 1).put((byte) 0).putShort((short) (padded - before));
        buffer.put(dictionary.getBytes(StandardCharsets.US_ASCII));
        while (buffer.position() < padded - 1) {
            buffer.put((byte) ' ');
        }
        buffer.put((byte) '\n');
        return buffer.array();
    }
}
