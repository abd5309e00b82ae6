package org.evenstamp.output.picture;

/** What a curve is drawn on. Lengths are pixels, y points down; colours are six hexadecimal digits after a #. */
interface Sheet {
    /** Draws a line. */
    Sheet line(double x0, double y0, double x1, double y1, String stroke, double width);

    /**
     * Draws a polyline.
     *
     * @param dash lengths of strokes and gaps; empty for a whole line
     */
    Sheet polyline(double[] x, double[] y, String stroke, double width, String dash);

    /** Draws the outline of a rectangle. */
    Sheet frame(double x, double y, double width, double height, double stroke);

    /** Fills a rectangle with a colour, 0xRRGGBB. */
    Sheet fill(double x, double y, double width, double height, int colour);

    /** Writes a text; the anchor is {@code start}, {@code middle} or {@code end}. */
    Sheet text(double x, double y, double size, String anchor, String words);
}
