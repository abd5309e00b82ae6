package org.evenstamp.output.page;

import java.io.ByteArrayOutputStream;
import java.math.BigDecimal;
import java.math.MathContext;
import java.util.Base64;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.zip.Deflater;
import java.util.zip.DeflaterOutputStream;
import org.evenstamp.geometry.draw.Sketch;
import org.evenstamp.geometry.layout.RegionLabel;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Texture;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.geometry.measure.TextureMeasures;
import org.evenstamp.output.text.ShortDecimal;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.unit.Unit;

/**
 * Numbers as text within a page: bytes, deflated (RFC 1950), in Base64.
 *
 * <p>A field is one number a tile in its display unit, rounded to six significant digits: what a single-precision number
 * gives back exactly. The bytes of all numbers stand in planes, the highest bytes of all tiles first, since equal bytes
 * side by side pack better. A tile without a value is NaN. Fields beyond the range of single precision are written double.
 */
final class Packed {
    private static final int DIGITS = 6;
    private static final double[] POWERS = new double[23];

    static {
        double power = 1;
        for (int i = 0; i < POWERS.length; i++) {
            POWERS[i] = power;
            power *= 10;
        }
    }

    /** A field as text, with the size of its numbers in bytes: 4 or 8. */
    record PackedField(int bytes, String text) {}

    /** A sketch as text, with the lattice its whole numbers count. */
    record PackedSketch(
            double stepMetres,
            double originXMetres,
            double originYMetres,
            int polygons,
            List<Kind> kinds,
            String text) {}

    /**
     * What polygons have in common.
     *
     * @param role what the layout says they stand for; empty when it says nothing
     * @param depthMetres their own depth; 0 for none
     * @param texture their pattern in words; empty for none
     * @param share how much of their area is cavity where a pattern fills it; 0 without one
     */
    record Kind(String role, double depthMetres, String texture, double share) {
        static Kind of(Traits traits) {
            Double depth = traits.depthMetres();
            Role role = traits.role();
            Texture texture = traits.texture();
            RegionLabel region = traits.region();
            return new Kind(
                    role == null ? "" : region == null ? role.word() : role.word() + " " + region.name(),
                    depth == null ? 0 : depth,
                    texture == null ? "" : words(texture),
                    texture == null ? 0 : TextureMeasures.of(texture).cavityFraction());
        }

        private static String words(Texture texture) {
            String lattice = texture.kind() == Texture.Kind.LINES ? "" : texture.lattice() + " ";
            return (lattice + texture.kind()).toLowerCase(Locale.ROOT) + ", pitch "
                    + ShortDecimal.of(texture.pitchMetres() * 1e6) + " um, width "
                    + ShortDecimal.of(texture.widthMetres() * 1e6) + " um";
        }
    }

    private Packed() {}

    /** Packs a field. */
    static PackedField field(Field field) {
        Unit unit = field.name().unit();
        int size = field.grid().size();
        double[] values = new double[size];
        boolean single = true;
        for (int i = 0; i < size; i++) {
            values[i] = field.known(i) ? rounded(unit.fromSi(field.at(i))) : Double.NaN;
            double large = Math.abs(values[i]);
            single &= !(large > 1e37) && !(large > 0 && large < 1e-30);
        }
        int bytes = single ? 4 : 8;
        byte[] planes = new byte[bytes * size];
        for (int i = 0; i < size; i++) {
            long bits = single ? Float.floatToIntBits((float) values[i]) : Double.doubleToLongBits(values[i]);
            for (int b = 0; b < bytes; b++) {
                planes[b * size + i] = (byte) (bits >>> (8 * (bytes - 1 - b)));
            }
        }
        return new PackedField(bytes, text(planes));
    }

    /** Rounds to six significant digits, halves away from zero, by way of the nine digits that the tables show. */
    static double rounded(double value) {
        double size = Math.abs(value);
        if (size == 0) {
            return 0;
        }
        int exponent = (int) Math.floor(Math.log10(size));
        int shift = 8 - exponent;
        if (Math.abs(shift) >= POWERS.length || Math.abs(shift - 3) >= POWERS.length) {
            return new BigDecimal(value)
                    .round(new MathContext(9))
                    .round(new MathContext(DIGITS))
                    .doubleValue();
        }
        long nine = Math.round(shift >= 0 ? size * POWERS[shift] : size / POWERS[-shift]);
        if (nine < 100_000_000) { // log10 was a bit high
            shift++;
            nine = Math.round(shift >= 0 ? size * POWERS[shift] : size / POWERS[-shift]);
        }
        int drop = nine >= 1_000_000_000 ? 4 : 3;
        long unit = drop == 4 ? 10_000 : 1_000;
        long six = (nine + unit / 2) / unit;
        int power = shift - drop;
        double result = power >= 0 ? six / POWERS[power] : six * POWERS[-power];
        return value < 0 ? -result : result;
    }

    /**
     * Packs a sketch. For every polygon: its look, plus 8 when it is repeated; the number of its kind; the way from the
     * line of the polygon before to its own; columns, rows and the two steps of the array
     * if so; the number of rings; for every ring the number of vertices, then for every vertex the way from the one before,
     * across rings and polygons. Counts are LEB128, ways zigzag LEB128, all lengths in steps of the lattice.
     */
    static PackedSketch sketch(Sketch sketch, double extentMetres, double originXMetres, double originYMetres) {
        // A millionth of a screen pixel at full extent, and a whole power of ten.
        double step = Math.pow(10, Math.floor(Math.log10(extentMetres)) - 7);
        ByteArrayOutputStream out = new ByteArrayOutputStream(1 << 16);
        long lastX = 0;
        long lastY = 0;
        long lastLine = 0;
        Map<Kind, Integer> kinds = new LinkedHashMap<>();
        for (Sketch.Outline polygon : sketch.polygons()) {
            Repeat repeat = polygon.repeat();
            count(out, code(polygon.look()) + (repeat == null ? 0 : 8));
            count(out, kinds.computeIfAbsent(Kind.of(polygon.traits()), kind -> kinds.size()));
            way(out, polygon.line() - lastLine);
            lastLine = polygon.line();
            if (repeat != null) {
                count(out, repeat.columns());
                count(out, repeat.rows());
                way(out, Math.round(repeat.dxMetres() / step));
                way(out, Math.round(repeat.dyMetres() / step));
            }
            count(out, polygon.rings().size());
            for (double[] ring : polygon.rings()) {
                count(out, ring.length / 2);
                for (int i = 0; i < ring.length; i += 2) {
                    long x = Math.round((ring[i] - originXMetres) / step);
                    long y = Math.round((ring[i + 1] - originYMetres) / step);
                    way(out, x - lastX);
                    way(out, y - lastY);
                    lastX = x;
                    lastY = y;
                }
            }
        }
        return new PackedSketch(
                step,
                originXMetres,
                originYMetres,
                sketch.polygons().size(),
                List.copyOf(kinds.keySet()),
                text(out.toByteArray()));
    }

    /** Returns the number by which the page knows a look: its place among the page's dashes. */
    private static int code(Sketch.Style look) {
        return switch (look) {
            case CAVITY -> 0;
            case PROTRUSION -> 1;
            case KEEPOUT -> 2;
            case TEXTURE -> 3;
            case ARRAY -> 4;
            case REGION -> 6; // 5 are dummies, which are drawn like the others
        };
    }

    private static void way(ByteArrayOutputStream out, long value) {
        count(out, (value << 1) ^ (value >> 63));
    }

    private static void count(ByteArrayOutputStream out, long value) {
        long rest = value;
        while (rest < 0 || rest > 127) {
            out.write((int) ((rest & 127) | 128));
            rest >>>= 7;
        }
        out.write((int) rest);
    }

    private static String text(byte[] bytes) {
        ByteArrayOutputStream packed = new ByteArrayOutputStream(bytes.length / 3 + 64);
        Deflater deflater = new Deflater(6);
        try (DeflaterOutputStream out = new DeflaterOutputStream(packed, deflater, 1 << 16)) {
            out.write(bytes);
        } catch (java.io.IOException e) {
            throw new java.io.UncheckedIOException(e); // memory does not fail
        } finally {
            deflater.end();
        }
        return Base64.getEncoder().encodeToString(packed.toByteArray());
    }
}
