package org.evenstamp.output.file;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDateTime;
import java.util.List;
import java.util.Map;
import java.util.function.Supplier;
import java.util.zip.CRC32;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.spi.Snapshot;

/**
 * Writes {@code fields.npz}, all fields as NumPy arrays, and {@code snapshots.npz}, their course in time.
 *
 * <p>The file is a ZIP archive, stored without compression, of one {@code <field id>.npy} a field: little-endian
 * {@code float64}, shape (rows, columns), C order, row 0 the lowest row of tiles, in the field's display unit. Where a
 * field lacks values there is also {@code <field id>.known.npy}, {@code bool} of the same shape; a value that is not known
 * is 0. In {@code snapshots.npz} the arrays have a first axis more, that of time, whose seconds are {@code <field
 * id>.seconds.npy}. Every entry carries the same fixed date, so that equal fields give equal bytes.
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
                arrays(zip, field.name().id(), "", List.of(field));
            }
        }
    }

    /** Writes {@code snapshots.npz}. */
    public static void writeSnapshots(Path file, Map<String, List<Snapshot>> courses) throws IOException {
        try (OutputStream raw = new BufferedOutputStream(Files.newOutputStream(file), 1 << 16);
                ZipOutputStream zip = new ZipOutputStream(raw)) {
            zip.setMethod(ZipOutputStream.STORED);
            for (var course : courses.entrySet()) {
                List<Snapshot> states = course.getValue();
                arrays(
                        zip,
                        course.getKey(),
                        states.size() + ", ",
                        states.stream().map(Snapshot::field).toList());
                double[] seconds =
                        states.stream().mapToDouble(Snapshot::seconds).toArray();
                entry(
                        zip,
                        course.getKey() + ".seconds.npy",
                        heading("<f8", states.size() + ","),
                        List.of(() -> bytes(seconds)));
            }
        }
    }

    /** Writes the values of maps, one after the other, and where they are known if they are not everywhere. */
    private static void arrays(ZipOutputStream zip, String id, String shape, List<Field> maps) throws IOException {
        TileGrid grid = maps.get(0).grid();
        String whole = shape + grid.rows() + ", " + grid.columns();
        entry(
                zip,
                id + ".npy",
                heading("<f8", whole),
                maps.stream().map(FieldsNpz::values).toList());
        if (maps.stream().anyMatch(map -> map.knownCount() < grid.size())) {
            entry(
                    zip,
                    id + ".known.npy",
                    heading("|b1", whole),
                    maps.stream().map(FieldsNpz::known).toList());
        }
    }

    /** Writes an array whose parts are made when they are due, once for the checksum and once for the file. */
    private static void entry(ZipOutputStream zip, String name, byte[] heading, List<Supplier<byte[]>> parts)
            throws IOException {
        CRC32 crc = new CRC32();
        crc.update(heading);
        long size = heading.length;
        for (Supplier<byte[]> part : parts) {
            byte[] content = part.get();
            crc.update(content);
            size += content.length;
        }
        ZipEntry entry = new ZipEntry(name);
        entry.setTimeLocal(DATE);
        entry.setSize(size);
        entry.setCompressedSize(size);
        entry.setCrc(crc.getValue());
        zip.putNextEntry(entry);
        zip.write(heading);
        for (Supplier<byte[]> part : parts) {
            zip.write(part.get());
        }
        zip.closeEntry();
    }

    private static Supplier<byte[]> values(Field field) {
        return () -> {
            double[] values = new double[field.grid().size()];
            for (int i = 0; i < values.length; i++) {
                values[i] = field.known(i) ? field.name().unit().fromSi(field.at(i)) : 0;
            }
            return bytes(values);
        };
    }

    private static Supplier<byte[]> known(Field field) {
        return () -> {
            byte[] known = new byte[field.grid().size()];
            for (int i = 0; i < known.length; i++) {
                known[i] = (byte) (field.known(i) ? 1 : 0);
            }
            return known;
        };
    }

    private static byte[] bytes(double[] values) {
        byte[] bytes = new byte[Math.multiplyExact(8, values.length)];
        ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN).asDoubleBuffer().put(values);
        return bytes;
    }

    private static byte[] heading(String type, String shape) {
        String dictionary = "{'descr': '" + type + "', 'fortran_order': False, 'shape': (" + shape + "), }";
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
