package org.evenstamp.output.picture;

import java.util.Locale;
import org.evenstamp.output.text.ShortDecimal;

/**
 * Collects the elements of an SVG 1.1 drawing. Lengths are pixels, y points down; every text is escaped and no script,
 * style sheet or address is ever written.
 */
final class Svg implements Sheet {
    private final StringBuilder text = new StringBuilder();

    /** Returns the file's text. */
    String file(double width, double height, String title) {
        return "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" width=\""
                + number(width) + "\" height=\"" + number(height) + "\" viewBox=\"0 0 " + number(width) + " "
                + number(height) + "\" font-family=\"Helvetica, Arial, sans-serif\" fill=\"#1a1a1a\">\n<title>"
                + escaped(title) + "</title>\n<rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n" + text
                + "</svg>\n";
    }

    @Override
    public Svg line(double x0, double y0, double x1, double y1, String stroke, double width) {
        return raw("<path d=\"M" + number(x0) + " " + number(y0) + "L" + number(x1) + " " + number(y1)
                + "\" fill=\"none\" stroke=\"" + stroke + "\" stroke-width=\"" + number(width) + "\"/>");
    }

    @Override
    public Svg polyline(double[] x, double[] y, String stroke, double width, String dash) {
        StringBuilder points = new StringBuilder();
        for (int i = 0; i < x.length; i++) {
            points.append(i == 0 ? "" : " ").append(number(x[i])).append(',').append(number(y[i]));
        }
        return raw("<polyline points=\"" + points + "\" fill=\"none\" stroke=\"" + stroke + "\" stroke-width=\""
                + number(width) + "\" stroke-linejoin=\"round\""
                + (dash.isEmpty() ? "" : " stroke-dasharray=\"" + dash + "\"") + "/>");
    }

    @Override
    public Svg frame(double x, double y, double width, double height, double stroke) {
        return raw("<rect x=\"" + number(x) + "\" y=\"" + number(y) + "\" width=\"" + number(width) + "\" height=\""
                + number(height) + "\" fill=\"none\" stroke=\"#1a1a1a\" stroke-width=\"" + number(stroke) + "\"/>");
    }

    @Override
    public Svg fill(double x, double y, double width, double height, int colour) {
        return raw("<rect x=\"" + number(x) + "\" y=\"" + number(y) + "\" width=\"" + number(width) + "\" height=\""
                + number(height) + "\" fill=\"" + colour(colour) + "\"/>");
    }

    @Override
    public Svg text(double x, double y, double size, String anchor, String words) {
        return raw("<text x=\"" + number(x) + "\" y=\"" + number(y) + "\" font-size=\"" + number(size)
                + "\" text-anchor=\"" + anchor + "\">" + escaped(words) + "</text>");
    }

    /** Writes an element as it is. */
    Svg raw(String element) {
        text.append(element).append('\n');
        return this;
    }

    static String colour(int rgb) {
        return String.format(Locale.ROOT, "#%06x", rgb & 0xffffff);
    }

    /** Returns a length with as many digits as a drawing needs. */
    static String number(double pixels) {
        return ShortDecimal.of(Math.rint(pixels * 100) / 100);
    }

    private static String escaped(String words) {
        StringBuilder safe = new StringBuilder();
        words.codePoints().forEach(c -> {
            switch (c) {
                case '<' -> safe.append("&lt;");
                case '>' -> safe.append("&gt;");
                case '&' -> safe.append("&amp;");
                case '"' -> safe.append("&quot;");
                default -> {
                    // XML has no way to write other control characters, or halves of a pair.
                    boolean legal = c == '\t'
                            || c == '\n'
                            || (c >= 0x20 && c < 0xd800)
                            || (c > 0xdfff && c < 0xfffe)
                            || c > 0xffff;
                    safe.appendCodePoint(legal ? c : 0xfffd);
                }
            }
        });
        return safe.toString();
    }
}
