package org.evenstamp.engine.job;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import org.evenstamp.engine.job.PlaceTable.Column;
import org.evenstamp.engine.job.PlaceTable.Rows;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;
import org.jspecify.annotations.Nullable;

/**
 * Reads a table of tiles from arrays of NumPy ({@code .npz}): {@code x_um} with the centres of the columns, {@code y_um} with those of the
 * rows, and an array of rows and columns for each quantity, named like the columns of a table. Numbers are of four or eight
 * bytes, in either order of memory and of bytes; whole numbers are not taken.
 */
final class TileArrays {
    private static final Pattern HEADER = Pattern.compile(
            "\\{'descr': *'([<>])f([48])', *'fortran_order': *(True|False), *'shape': *\\(([0-9, ]*)\\),? *\\}\\s*");
    private static final long MOST_BYTES = 1L << 30;

    private TileArrays() {}

    /** An array with one or two dimensions, row after row. */
    private static final class Values {
        private final int[] shape;
        private final double[] values;

        Values(int[] shape, double[] values) {
            this.shape = shape;
            this.values = values;
        }
    }

    /** Reads the arrays as rows of a table; what is wrong goes to the table, and null comes back. */
    static @Nullable Rows rows(Path file, PlaceTable table, List<Column> quantities) {
        Map<String, Values> arrays = new TreeMap<>();
        try (InputStream in = Files.newInputStream(file);
                ZipInputStream zip = new ZipInputStream(in)) {
            for (ZipEntry entry = zip.getNextEntry(); entry != null; entry = zip.getNextEntry()) {
                String name = entry.getName().replaceFirst("\\.npy$", "");
                Values values = values(name, read(zip), table);
                if (values != null) {
                    arrays.put(name, values);
                }
            }
        } catch (IOException e) {
            table.problem(
                    "unreadable", 0, "it cannot be read: " + e.getMessage(), "an archive that numpy.savez writes");
            return null;
        }
        Values x = take("x", PlaceTable.X, arrays, table);
        Values y = take("y", PlaceTable.Y, arrays, table);
        Map<String, Values> found = new HashMap<>();
        for (Column column : quantities) {
            Values values = take(column.name(), column, arrays, table);
            if (values != null) {
                found.put(column.name(), values);
            }
        }
        arrays.keySet()
                .forEach(name -> table.problem(
                        "column",
                        0,
                        "there is no array \"" + name + "\"",
                        "arrays are x_um, y_um, fraction, depth_nm, volume_nm, moment_um^2, land_um"));
        if (x == null || y == null || !found.containsKey("fraction")) {
            table.problem(
                    "column", 0, "x, y and fraction must be there", "x_um and y_um with a unit, fraction without");
            table.ended();
            return null;
        }
        return table.isRight() ? spread(x, y, found, table) : none(table);
    }

    private static @Nullable Rows none(PlaceTable table) {
        table.ended();
        return null;
    }

    private static @Nullable Rows spread(Values x, Values y, Map<String, Values> found, PlaceTable table) {
        int columns = x.values.length;
        int rows = y.values.length;
        found.forEach((name, values) -> {
            if (values.shape.length != 2 || values.shape[0] != rows || values.shape[1] != columns) {
                table.problem(
                        "shape",
                        0,
                        name + " has the shape " + Arrays.toString(values.shape) + ", not [" + rows + ", " + columns
                                + "]",
                        "rows as in y, columns as in x");
            }
            for (int i = 0; i < values.values.length; i++) {
                if (!Double.isFinite(values.values[i])) {
                    table.problem(
                            "number",
                            0,
                            name + " is no number in row " + i / columns + ", column " + i % columns + " (from 0)",
                            "every tile has a value");
                    break;
                }
            }
        });
        if (!table.isRight()) {
            return none(table);
        }
        double[] atX = new double[columns * rows];
        double[] atY = new double[columns * rows];
        for (int i = 0; i < atX.length; i++) {
            atX[i] = x.values[i % columns];
            atY[i] = y.values[i / columns];
        }
        Map<String, double[]> all = new HashMap<>(Map.of("x", atX, "y", atY));
        found.forEach((name, values) -> all.put(name, values.values));
        return new Rows(all, new int[atX.length]); // no lines in an archive
    }

    /** Takes the array of a quantity, in SI. */
    private static @Nullable Values take(String name, Column column, Map<String, Values> arrays, PlaceTable table) {
        List<String> names = arrays.keySet().stream()
                .filter(key -> key.equals(name) || key.startsWith(name + "_"))
                .collect(Collectors.toList());
        if (names.isEmpty()) {
            return null;
        }
        String key = names.get(0);
        Values values = Objects.requireNonNull(arrays.remove(key));
        try {
            Unit unit = key.equals(name) ? Unit.ONE : Unit.parse(key.substring(name.length() + 1));
            if (!unit.dimension().equals(column.unit().dimension())) {
                throw new UnitException("\"" + unit.symbol() + "\" does not fit");
            }
            double[] numbers = values.values;
            Arrays.setAll(numbers, i -> unit.toSi(numbers[i]));
        } catch (UnitException e) {
            table.problem("unit", 0, "the array " + key + ": " + e.getMessage(), "such as " + column.example());
        }
        return values;
    }

    private static byte[] read(ZipInputStream zip) throws IOException {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        byte[] part = new byte[1 << 16];
        for (int count = zip.read(part); count >= 0; count = zip.read(part)) {
            bytes.write(part, 0, count);
            if (bytes.size() > MOST_BYTES) {
                throw new IOException("an array has more than " + MOST_BYTES + " bytes");
            }
        }
        return bytes.toByteArray();
    }

    private static @Nullable Values values(String name, byte[] bytes, PlaceTable table) {
        int start = bytes.length > 10 && bytes[6] == 1 ? 10 : 12;
        int length = bytes.length < 12
                ? 0
                : start == 10
                        ? (bytes[8] & 0xff) | (bytes[9] & 0xff) << 8
                        : ByteBuffer.wrap(bytes, 8, 4)
                                .order(ByteOrder.LITTLE_ENDIAN)
                                .getInt();
        boolean magic = bytes.length >= 12
                && (bytes[0] & 0xff) == 0x93
                && new String(bytes, 1, 5, StandardCharsets.US_ASCII).equals("NUMPY")
                && length > 0
                && start + (long) length <= bytes.length;
        Matcher header = HEADER.matcher(magic ? new String(bytes, start, length, StandardCharsets.ISO_8859_1) : "");
        if (!header.matches()) {
            table.problem(
                    "array",
                    0,
                    "the array " + name + " is none of real numbers",
                    "write it as float64: a.astype(float)");
            return null;
        }
        int[] shape = Arrays.stream(header.group(4).split(","))
                .map(String::strip)
                .filter(word -> !word.isEmpty())
                .mapToInt(Integer::parseInt)
                .toArray();
        int width = Integer.parseInt(header.group(2));
        long count = Arrays.stream(shape).asLongStream().reduce(1, Math::multiplyExact);
        if (shape.length < 1 || shape.length > 2 || start + length + count * width != bytes.length) {
            table.problem("array", 0, "the array " + name + " has not as many numbers as its shape says", "");
            return null;
        }
        ByteBuffer data = ByteBuffer.wrap(bytes, start + length, (int) count * width)
                .order(header.group(1).equals("<") ? ByteOrder.LITTLE_ENDIAN : ByteOrder.BIG_ENDIAN);
        double[] values = new double[(int) count];
        boolean turned = header.group(3).equals("True") && shape.length == 2;
        for (int i = 0; i < values.length; i++) {
            double value = width == 8 ? data.getDouble() : data.getFloat();
            values[turned ? i % shape[0] * shape[1] + i / shape[0] : i] = value;
        }
        return new Values(shape, values);
    }
}
