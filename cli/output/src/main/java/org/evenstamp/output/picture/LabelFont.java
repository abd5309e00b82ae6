package org.evenstamp.output.picture;

import java.awt.Graphics2D;
import java.awt.geom.AffineTransform;
import java.awt.geom.Path2D;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.HashMap;
import java.util.Map;
import java.util.Objects;

/**
 * Draws labels from glyph outlines of our own resource, so that a map is the same on every machine, also on one without
 * fonts.
 *
 * <p>A line of the resource is one glyph: code point, advance, then path segments ({@code Mx,y}, {@code Lx,y},
 * {@code Qx,y,x,y}, {@code Z}), in thousandths of the size, y down, the baseline at 0.
 */
final class LabelFont {
    private static final String RESOURCE = "label-font.txt";
    private static final double EM = 1000;

    private record Glyph(double advance, Path2D outline) {}

    private final Map<Integer, Glyph> glyphs = new HashMap<>();

    /** Reads the resource. */
    LabelFont() {
        try (InputStream in = Objects.requireNonNull(LabelFont.class.getResourceAsStream(RESOURCE), RESOURCE);
                BufferedReader reader = new BufferedReader(new InputStreamReader(in, StandardCharsets.US_ASCII))) {
            for (String line = reader.readLine(); line != null; line = reader.readLine()) {
                String[] parts = line.split(" ", -1);
                glyphs.put(Integer.parseInt(parts[0]), new Glyph(Double.parseDouble(parts[1]), outline(parts)));
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static Path2D outline(String[] parts) {
        Path2D path = new Path2D.Double(Path2D.WIND_NON_ZERO);
        for (int i = 2; i < parts.length; i++) {
            String[] numbers = parts[i].substring(1).split(",", -1);
            double[] n = new double[4];
            for (int k = 0; k < numbers.length && !numbers[k].isEmpty(); k++) {
                n[k] = Double.parseDouble(numbers[k]);
            }
            switch (parts[i].charAt(0)) {
                case 'M' -> path.moveTo(n[0], n[1]);
                case 'L' -> path.lineTo(n[0], n[1]);
                case 'Q' -> path.quadTo(n[0], n[1], n[2], n[3]);
                case 'Z' -> path.closePath();
                default -> throw new IllegalStateException("unknown segment " + parts[i]);
            }
        }
        return path;
    }

    /** Returns the width of a text in pixels. */
    double width(String text, double size) {
        return text.codePoints().mapToDouble(c -> glyph(c).advance).sum() * size / EM;
    }

    /** Draws a text whose baseline begins at a point, in the graphics' colour. */
    void draw(Graphics2D graphics, String text, double x, double y, double size) {
        AffineTransform place = new AffineTransform(size / EM, 0, 0, size / EM, x, y);
        for (int code : text.codePoints().toArray()) {
            Glyph glyph = glyph(code);
            graphics.fill(place.createTransformedShape(glyph.outline));
            place.translate(glyph.advance, 0);
        }
    }

    private Glyph glyph(int code) {
        Glyph glyph = glyphs.get(code);
        return glyph == null ? Objects.requireNonNull(glyphs.get((int) '?')) : glyph;
    }
}
