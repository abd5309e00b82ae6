package org.evenstamp.geometry.write;

import java.io.BufferedOutputStream;
import java.io.Closeable;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Map;
import java.util.zip.GZIPOutputStream;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.RegionLabel;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Texture;
import org.evenstamp.geometry.layout.Traits;

/**
 * Writes polygons to a file as they come.
 *
 * <p>Lengths are written in micrometres, those added to another list in its unit: coordinates and steps of arrays as whole multiples of 0.1 nm, the lengths of
 * traits as whole multiples of 1 fm, both without trailing zeros. In GeoJSON outlines turn counterclockwise and holes
 * clockwise (RFC 7946, 3.1.6), whatever they did before; in WKT they turn as they came. The same polygons give the same
 * bytes.
 *
 * <p>The file is complete only after {@link #close}. For one thread.
 */
public final class LayoutWriter implements PolygonSink, Closeable {
    /** How the polygons are written. */
    public enum Format {
        /** One GeoJSON {@code FeatureCollection} with the foreign member {@code "units": "um"}. */
        GEOJSON,
        /** A GeoJSON {@code Feature} a line: no place for the unit, which whoever reads it has to say. */
        NDJSON,
        /** A WKT {@code POLYGON} a line: no place for traits and none for the unit. */
        WKT;

        /**
         * Returns the format that a file's name stands for: {@code .geojson} or {@code .json}, {@code .ndjson} or {@code
         * .geojsonl}, {@code .wkt}, each also with {@code .gz} behind it.
         *
         * @throws IllegalArgumentException for any other name
         */
        public static Format of(Path file) {
            String name = file.toString().toLowerCase(Locale.ROOT).replaceFirst("\\.gz$", "");
            return switch (name.substring(name.lastIndexOf('.') + 1)) {
                case "geojson", "json" -> GEOJSON;
                case "ndjson", "geojsonl" -> NDJSON;
                case "wkt" -> WKT;
                default ->
                    throw new IllegalArgumentException("no layout format has the ending of " + file
                            + " (.geojson, .ndjson or .wkt, with or without .gz)");
            };
        }
    }

    private static final double MICROMETRE = 1e-6;
    private static final double COORDINATE_STEP = 1e-10; // 0.1 nm
    private static final double LENGTH_STEP = 1e-15; // 1 fm
    private static final int ANGLE_DECIMALS = 9; // of a degree
    private static final long[] POWERS = new long[19];

    static {
        POWERS[0] = 1;
        for (int i = 1; i < POWERS.length; i++) {
            POWERS[i] = 10 * POWERS[i - 1];
        }
    }

    private static final int FLUSH_AT = 1 << 16;
    private static final int LONGEST_TOKEN = 64;

    private final OutputStream out;
    private final Format format;
    /** Whether the features continue a list that is begun and ended elsewhere. */
    private final boolean continued;

    /** Decimals of a coordinate and of another length. */
    private final int coordinateDecimals;

    private final int lengthDecimals;
    private final byte[] buffer = new byte[FLUSH_AT + LONGEST_TOKEN];
    private int used;
    private long written;
    private boolean closed;

    // The traits of the feature before, already spelt: they mostly repeat.
    private Traits spelt = Traits.NONE;
    private byte[] speltProperties = bytes("{}");
    private String carried = "";

    /**
     * Writes to a stream, which {@link #close} closes.
     *
     * @throws UncheckedIOException when the stream fails
     */
    public LayoutWriter(OutputStream out, Format format) {
        this(out, format, MICROMETRE, false, 0);
        if (format == Format.GEOJSON) {
            put("{\"type\":\"FeatureCollection\",\"units\":\"um\",\"features\":[");
        }
    }

    private LayoutWriter(OutputStream out, Format format, double metresPerUnit, boolean continued, long written) {
        this.out = out;
        this.format = format;
        this.continued = continued;
        this.written = written;
        coordinateDecimals = decimals(metresPerUnit / COORDINATE_STEP);
        lengthDecimals = decimals(metresPerUnit / LENGTH_STEP);
    }

    /**
     * Returns a writer that adds features to a GeoJSON list which somebody else begins and ends. {@link #close} writes out
     * what is left and leaves the stream open.
     *
     * @param metresPerUnit length of one unit of the list's coordinates, a power of ten from 0.1 nm to 1 km
     * @param first whether the list has no feature yet
     */
    public static LayoutWriter continuing(OutputStream out, double metresPerUnit, boolean first) {
        return new LayoutWriter(out, Format.GEOJSON, metresPerUnit, true, first ? 0 : 1);
    }

    /**
     * Has every feature from now on carry more properties; WKT has no place for them.
     *
     * @param properties values by name: numbers and truths as they are, anything else as its text
     * @return this writer
     */
    public LayoutWriter carrying(Map<String, Object> properties) {
        StringBuilder members = new StringBuilder();
        properties.forEach((name, value) -> {
            boolean bare = value instanceof Number || value instanceof Boolean;
            members.append(quoted(name)).append(':');
            members.append(bare ? value.toString() : quoted(value.toString())).append(',');
        });
        carried = members.toString();
        speltProperties = bytes(properties(spelt));
        return this;
    }

    private static String quoted(String name) {
        StringBuilder json = new StringBuilder("\"");
        for (int i = 0; i < name.length(); i++) {
            char c = name.charAt(i);
            if (c == '"' || c == '\\') {
                json.append('\\').append(c);
            } else if (c < ' ' || c > '~') {
                json.append(String.format(Locale.ROOT, "\\u%04x", (int) c));
            } else {
                json.append(c);
            }
        }
        return json.append('"').toString();
    }

    private static int decimals(double stepsPerUnit) {
        int decimals = (int) Math.round(Math.log10(stepsPerUnit));
        if (decimals < 0
                || decimals >= POWERS.length
                || Math.abs(stepsPerUnit / (double) POWERS[decimals] - 1) > 1e-12) {
            throw new IllegalArgumentException("lengths are written in powers of ten of a metre only");
        }
        return decimals;
    }

    /**
     * Creates a file, or replaces it; the format follows from its name, and so does compression.
     *
     * @throws IllegalArgumentException when the name's ending stands for no format
     * @throws IOException when the file cannot be written
     */
    public static LayoutWriter create(Path file) throws IOException {
        Format format = Format.of(file);
        return new LayoutWriter(open(file), format);
    }

    /**
     * Opens a file for writing, compressed if its name ends so.
     *
     * @throws IOException when the file cannot be written
     */
    public static OutputStream open(Path file) throws IOException {
        OutputStream out = Files.newOutputStream(file);
        boolean packed = file.toString().toLowerCase(Locale.ROOT).endsWith(".gz");
        return packed ? new GZIPOutputStream(out, FLUSH_AT) : new BufferedOutputStream(out, FLUSH_AT);
    }

    /**
     * Writes a polygon.
     *
     * @throws IllegalArgumentException when it has no ring, a coordinate is not finite or beyond 900 km, or it has traits and
     *     the format has no place for them
     * @throws UncheckedIOException when the file cannot be written
     */
    @Override
    public void accept(PackedPolygon polygon) {
        if (polygon.rings == 0) {
            throw new IllegalArgumentException("a polygon without a ring cannot be written");
        }
        if (format == Format.WKT) {
            wkt(polygon);
        } else {
            feature(polygon);
        }
        written++;
    }

    /** Returns how many polygons were taken so far. */
    public long written() {
        return written;
    }

    /** Ends the file and closes it; a second call does nothing. */
    @Override
    public void close() throws IOException {
        if (closed) {
            return;
        }
        closed = true;
        if (continued) {
            flush();
            return;
        }
        try (out) {
            if (format == Format.GEOJSON) {
                put("\n]}\n");
            }
            out.write(buffer, 0, used);
        } catch (UncheckedIOException e) {
            throw e.getCause();
        }
    }

    private void feature(PackedPolygon polygon) {
        if (format == Format.GEOJSON) {
            put(written == 0 ? "\n" : ",\n");
        }
        put("{\"type\":\"Feature\",\"properties\":");
        if (!polygon.traits.equals(spelt)) {
            spelt = polygon.traits;
            speltProperties = bytes(properties(spelt));
        }
        put(speltProperties);
        put(",\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[");
        for (int ring = 0; ring < polygon.rings; ring++) {
            put(ring == 0 ? "[" : ",[");
            int start = polygon.ringStart(ring);
            int count = polygon.ringEnd[ring] - start;
            boolean counterclockwise = polygon.twiceSignedArea(ring) > 0;
            boolean backwards = counterclockwise != (ring == 0);
            for (int i = 0; i <= count; i++) {
                put(i == 0 ? "[" : ",[");
                int vertex = start + (backwards ? count - i : i) % count;
                coordinate(polygon.xy[2 * vertex]);
                put(',');
                coordinate(polygon.xy[2 * vertex + 1]);
                put(']');
            }
            put(']');
        }
        put(format == Format.GEOJSON ? "]}}" : "]}}\n");
    }

    private void wkt(PackedPolygon polygon) {
        if (!polygon.traits.equals(Traits.NONE)) {
            throw new IllegalArgumentException("WKT has no place for a feature's properties: " + polygon.traits);
        }
        put("POLYGON (");
        for (int ring = 0; ring < polygon.rings; ring++) {
            put(ring == 0 ? "(" : ", (");
            int start = polygon.ringStart(ring);
            int count = polygon.ringEnd[ring] - start;
            for (int i = 0; i <= count; i++) {
                if (i > 0) {
                    put(", ");
                }
                int vertex = start + i % count;
                coordinate(polygon.xy[2 * vertex]);
                put(' ');
                coordinate(polygon.xy[2 * vertex + 1]);
            }
            put(')');
        }
        put(")\n");
    }

    private String properties(Traits traits) {
        StringBuilder text = new StringBuilder("{");
        Double depth = traits.depthMetres();
        if (depth != null) {
            text.append("\"depth\":").append(length(depth)).append(',');
        }
        if (traits.role() != null) {
            text.append("\"role\":\"").append(word(traits.role())).append("\",");
        }
        RegionLabel region = traits.region();
        if (region != null) {
            text.append("\"name\":").append(quoted(region.name())).append(',');
            if (region.weight() != null) {
                text.append("\"weight\":").append(region.weight()).append(',');
            }
        }
        Repeat repeat = traits.repeat();
        if (repeat != null) {
            text.append("\"repeat\":{\"columns\":").append(repeat.columns());
            text.append(",\"rows\":").append(repeat.rows());
            text.append(",\"dx\":").append(step(repeat.dxMetres()));
            text.append(",\"dy\":").append(step(repeat.dyMetres())).append("},");
        }
        Texture texture = traits.texture();
        if (texture != null) {
            text.append("\"texture\":{\"kind\":\"").append(word(texture.kind()));
            text.append("\",\"pitch\":").append(length(texture.pitchMetres()));
            text.append(",\"width\":").append(length(texture.widthMetres()));
            text.append(",\"angle\":").append(angle(texture.angleRadians()));
            text.append(",\"lattice\":\"").append(word(texture.lattice())).append("\"},");
        }
        text.append(carried);
        if (text.length() > 1) {
            text.setLength(text.length() - 1); // the last comma
        }
        return text.append('}').toString();
    }

    private static String word(Enum<?> value) {
        return value.name().toLowerCase(Locale.ROOT);
    }

    private String length(double metres) {
        return decimal(metres * 1e15, lengthDecimals);
    }

    private String step(double metres) {
        return decimal(metres * 1e10, coordinateDecimals);
    }

    private static String angle(double radians) {
        return decimal(Math.toDegrees(radians) * 1e9, ANGLE_DECIMALS);
    }

    private static String decimal(double steps, int decimals) {
        byte[] digits = new byte[LONGEST_TOKEN];
        return new String(digits, 0, decimal(whole(steps), decimals, digits, 0), StandardCharsets.US_ASCII);
    }

    private void coordinate(double metres) {
        flushWhenFull();
        used = decimal(whole(metres * 1e10), coordinateDecimals, buffer, used);
    }

    private static long whole(double steps) {
        if (!(Math.abs(steps) < 0x1p53)) {
            throw new IllegalArgumentException("a length cannot be written: it is not finite or too long");
        }
        return Math.round(steps);
    }

    /** Spells {@code steps / 10^decimals} and returns the position behind it. */
    private static int decimal(long steps, int decimals, byte[] target, int position) {
        int at = position;
        if (steps < 0) {
            target[at++] = '-';
        }
        long size = Math.abs(steps);
        long power = POWERS[decimals];
        long front = size / power;
        long fraction = size - front * power;
        int digits = 1;
        for (long rest = front / 10; rest > 0; rest /= 10) {
            digits++;
        }
        for (int i = at + digits - 1; i >= at; i--) {
            target[i] = (byte) ('0' + front % 10);
            front /= 10;
        }
        at += digits;
        if (fraction == 0) {
            return at;
        }
        target[at++] = '.';
        while (fraction > 0) {
            power /= 10;
            long digit = fraction / power;
            target[at++] = (byte) ('0' + digit);
            fraction -= digit * power;
        }
        return at;
    }

    private void put(char c) {
        flushWhenFull();
        buffer[used++] = (byte) c;
    }

    private void put(String ascii) {
        flushWhenFull();
        int length = ascii.length();
        for (int i = 0; i < length; i++) {
            buffer[used + i] = (byte) ascii.charAt(i);
        }
        used += length;
    }

    private void put(byte[] text) {
        flushWhenFull();
        if (text.length <= buffer.length - used) {
            System.arraycopy(text, 0, buffer, used, text.length);
            used += text.length;
        } else {
            flush();
            write(text, text.length);
        }
    }

    /** Leaves room for a token at least. */
    private void flushWhenFull() {
        if (used >= FLUSH_AT) {
            flush();
        }
    }

    private void flush() {
        write(buffer, used);
        used = 0;
    }

    private void write(byte[] text, int length) {
        try {
            out.write(text, 0, length);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static byte[] bytes(String ascii) {
        return ascii.getBytes(StandardCharsets.US_ASCII);
    }
}
