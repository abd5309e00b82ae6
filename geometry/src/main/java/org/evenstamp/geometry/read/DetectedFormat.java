package org.evenstamp.geometry.read;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Locale;
import org.evenstamp.shared.problem.InputException;
import org.jspecify.annotations.Nullable;

/**
 * What the beginning of a layout file tells.
 *
 * @param format the format, given or found
 * @param arrangement how GeoJSON features stand
 * @param columns the columns of a table; null for other formats
 * @param units the member {@code units} of a GeoJSON document; null when it was not met
 * @param offset unpacked bytes before the first feature
 * @param line line of the first feature's chunk
 * @param column column of it
 */
record DetectedFormat(
        LayoutFormat format,
        GeoJsonParser.Arrangement arrangement,
        @Nullable CsvColumns columns,
        @Nullable String units,
        long offset,
        long line,
        long column) {

    private static final int WINDOW = 1 << 16;

    /**
     * Looks at the beginning of a file.
     *
     * @param wanted the format when it is known
     * @param limit how many bytes may be looked at, at most
     */
    static DetectedFormat look(Path file, FileBytes in, @Nullable LayoutFormat wanted, int limit) {
        Chunk head = new Chunk(file.toString());
        int length = in.read(head.room(WINDOW), 0, WINDOW);
        head.end(length);
        boolean whole = length < WINDOW;
        if (length == 0) {
            throw new InputException(
                    "layout.empty", head.file, "the file is empty", "export the layout again, or name another file");
        }
        int from = length >= 3
                        && head.bytes[0] == (byte) 0xEF
                        && head.bytes[1] == (byte) 0xBB
                        && head.bytes[2] == (byte) 0xBF
                ? 3
                : 0;
        refuseBinary(head);
        LayoutFormat format = wanted == null ? guess(head, from) : wanted;
        return switch (format) {
            case GEOJSON, GEOJSON_LINES -> json(in, head, from, whole, limit, wanted);
            case WKT_LINES, WKB_HEX_LINES -> lines(format, from, null);
            case CSV_WKT -> table(head, from);
        };
    }

    private static DetectedFormat lines(LayoutFormat format, int from, @Nullable CsvColumns columns) {
        return new DetectedFormat(format, GeoJsonParser.Arrangement.LINES, columns, null, from, 1, 1 + (long) from);
    }

    private static void refuseBinary(Chunk head) {
        boolean wide = head.length >= 2
                && ((head.bytes[0] == (byte) 0xFE && head.bytes[1] == (byte) 0xFF)
                        || (head.bytes[0] == (byte) 0xFF && head.bytes[1] == (byte) 0xFE));
        if (wide) {
            throw new InputException("layout.binary", head.file, "the file is UTF-16 text", "save it as UTF-8");
        }
        for (int i = 0; i < head.length; i++) {
            byte b = head.bytes[i];
            if (b >= 0 && b < ' ' && b != '\t' && b != '\n' && b != '\r' && b != '\f' && b != 0x1E) {
                throw new InputException(
                        "layout.binary",
                        head.file,
                        String.format("this is a binary file (byte 0x%02x at position %d), not a layout", b, i),
                        "name a layout in GeoJSON, WKT, hexadecimal WKB or CSV, plain or packed with gzip or zstd");
            }
        }
    }

    private static LayoutFormat guess(Chunk head, int from) {
        String text = new String(head.bytes, from, head.length - from, StandardCharsets.UTF_8);
        String[] rows = text.lines()
                .filter(row -> !row.isBlank() && !row.startsWith("#"))
                .limit(1)
                .toArray(String[]::new);
        if (rows.length == 0) {
            throw unknown(head, from, "nothing but blank lines and comments");
        }
        String first = rows[0].stripLeading();
        if (first.charAt(0) == '{' || first.charAt(0) == 0x1E) {
            return LayoutFormat.GEOJSON;
        }
        String upper = first.substring(0, Math.min(first.length(), 80)).toUpperCase(Locale.ROOT);
        if (upper.matches("(SRID=[0-9]*;.*)|([A-Z]+\\s*(Z|M|ZM)?\\s*(\\(.*|EMPTY\\s*))")) {
            return LayoutFormat.WKT_LINES;
        }
        if (upper.matches("(\\\\X)?0[01][0-9A-F]{8,}\\s*")) {
            return LayoutFormat.WKB_HEX_LINES;
        }
        if (columns(head, from) != null) {
            return LayoutFormat.CSV_WKT;
        }
        throw unknown(
                head,
                from,
                "\"" + first.substring(0, Math.min(first.length(), 40)).strip() + "\"");
    }

    private static InputException unknown(Chunk head, int from, String found) {
        return new InputException(
                "layout.unknown-format",
                head.place(from),
                "no layout format begins like this: " + found,
                "use GeoJSON, WKT or hexadecimal WKB one geometry on each line, or CSV with a column \"wkt\"");
    }

    private static DetectedFormat table(Chunk head, int from) {
        CsvColumns columns = columns(head, from);
        if (columns == null) {
            throw new InputException(
                    "layout.no-wkt-column",
                    head.place(from),
                    "no column of this table is named \"wkt\" or \"geometry\" or begins with well-known text",
                    "name the column with the polygons \"wkt\"");
        }
        if (!columns.header()) {
            return lines(LayoutFormat.CSV_WKT, from, columns);
        }
        int first = endOfRow(head, from);
        return new DetectedFormat(
                LayoutFormat.CSV_WKT,
                GeoJsonParser.Arrangement.LINES,
                columns,
                null,
                first,
                1 + ByteWords.count(head.bytes, 0, first, '\n'),
                1);
    }

    private static @Nullable CsvColumns columns(Chunk head, int from) {
        int first = endOfRow(head, from);
        int second = endOfRow(head, first);
        return CsvColumns.of(row(head, from, first), row(head, first, second));
    }

    private static String row(Chunk head, int from, int to) {
        String row = new String(head.bytes, from, to - from, StandardCharsets.UTF_8);
        // Only the end of the line goes: a tab may be an empty last cell.
        return row.endsWith("\r\n") ? row.substring(0, row.length() - 2) : row.replaceFirst("\n$", "");
    }

    private static int endOfRow(Chunk head, int from) {
        boolean quoted = false;
        for (int i = from; i < head.length; i++) {
            quoted ^= head.bytes[i] == '"';
            if (head.bytes[i] == '\n' && !quoted) {
                return i + 1;
            }
        }
        return head.length;
    }

    private static DetectedFormat json(
            FileBytes in, Chunk head, int from, boolean wholeFile, int limit, @Nullable LayoutFormat wanted) {
        int begin = from;
        while (begin < head.length && head.bytes[begin] <= ' ' && head.bytes[begin] != 0x1E) {
            begin++;
        }
        if (wanted == LayoutFormat.GEOJSON_LINES || head.bytes[begin] == 0x1E) {
            return lines(LayoutFormat.GEOJSON_LINES, from, null);
        }
        boolean whole = wholeFile;
        for (; ; ) {
            try {
                GeoJsonFrame.Head found = new GeoJsonFrame(head).head(head, begin);
                if (found.featuresAt() >= 0) {
                    return new DetectedFormat(
                            LayoutFormat.GEOJSON,
                            GeoJsonParser.Arrangement.ARRAY,
                            null,
                            found.units(),
                            found.featuresAt(),
                            head.lineOf(found.featuresAt()),
                            head.columnOf(found.featuresAt()));
                }
                if (found.another() && wanted == null) {
                    return lines(LayoutFormat.GEOJSON_LINES, from, null);
                }
                if (whole) {
                    return new DetectedFormat(
                            LayoutFormat.GEOJSON,
                            GeoJsonParser.Arrangement.SINGLE,
                            null,
                            found.units(),
                            from,
                            1,
                            1 + (long) from);
                }
            } catch (InputException e) {
                if (whole) {
                    throw e;
                }
            }
            // Perhaps the beginning that was looked at only ends too early.
            if (head.length >= limit) {
                throw new InputException(
                        "layout.feature-too-long",
                        head.place(begin),
                        "more than " + limit / 1_000_000 + " MB stand before the first feature ends",
                        "put features into one FeatureCollection, or give Java more memory (-Xmx)");
            }
            int size = (int) Math.min(limit, 2L * head.length);
            int length = in.read(head.room(size), head.length, size);
            whole = length < size;
            head.end(length);
        }
    }
}
