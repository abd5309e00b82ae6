package org.evenstamp.output.picture;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Base64;
import java.util.List;
import javax.imageio.ImageIO;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.output.text.ShortDecimal;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.unit.Unit;

/**
 * Draws one field as SVG, with the colours and the range of {@link MapPicture}: tiles as a picture of one pixel a tile,
 * everything else as lines and text. A tile without a value is hatched.
 */
public final class MapSvg {
    private static final double LONGER = 640;
    private static final double LEAST = 60;
    private static final double LEFT = 90;
    private static final double TOP = 70;

    private MapSvg() {}

    /** Returns the file's text. */
    public static String of(Field field, MapOptions.Outline outline) {
        TileGrid grid = field.grid();
        double scale = LONGER / Math.max(grid.columns(), grid.rows());
        double width = Math.max(LEAST, grid.columns() * scale);
        double height = Math.max(LEAST, grid.rows() * scale);
        Unit unit = field.name().unit();
        boolean empty = field.knownCount() == 0;
        ColourRange range = empty ? new ColourRange(0, 0, 0, 0) : ColourRange.of(field);
        Svg svg = new Svg();
        svg.raw(
                "<defs><pattern id=\"unknown\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\">"
                        + "<rect width=\"6\" height=\"6\" fill=\"#dcdcdc\"/><path d=\"M-1 7L7 -1\" stroke=\"#9c9c9c\"/></pattern></defs>");
        svg.text(LEFT, 28, 17, "start", field.name().meaning());
        svg.text(LEFT, 50, 13, "start", field.name().id());
        if (field.knownCount() < grid.size()) {
            svg.raw("<rect x=\"" + Svg.number(LEFT) + "\" y=\"" + Svg.number(TOP) + "\" width=\"" + Svg.number(width)
                    + "\" height=\"" + Svg.number(height) + "\" fill=\"url(#unknown)\"/>");
        }
        svg.raw("<image x=\"" + Svg.number(LEFT) + "\" y=\"" + Svg.number(TOP) + "\" width=\"" + Svg.number(width)
                + "\" height=\"" + Svg.number(height)
                + "\" preserveAspectRatio=\"none\" image-rendering=\"pixelated\" xlink:href=\"data:image/png;base64,"
                + Base64.getEncoder().encodeToString(tiles(field, range)) + "\"/>");
        double perX = width / grid.columns();
        double perY = height / grid.rows();
        svg.frame(
                LEFT + (outline.minX() - grid.originXMetres()) / grid.pitchMetres() * perX,
                TOP + height - (outline.maxY() - grid.originYMetres()) / grid.pitchMetres() * perY,
                outline.width() / grid.pitchMetres() * perX,
                outline.height() / grid.pitchMetres() * perY,
                1.2);
        axes(svg, grid, width, height);
        if (!empty) {
            bar(svg, unit, range, LEFT + width + 40, Math.max(height, 200));
        }
        return svg.file(
                LEFT + width + 190,
                TOP + Math.max(height, 200) + 70,
                field.name().id());
    }

    private static byte[] tiles(Field field, ColourRange range) {
        TileGrid grid = field.grid();
        BufferedImage image = new BufferedImage(grid.columns(), grid.rows(), BufferedImage.TYPE_INT_ARGB);
        for (int i = 0; i < grid.size(); i++) {
            if (field.known(i)) {
                double share = range.share(field.name().unit().fromSi(field.at(i)));
                image.setRGB(grid.column(i), grid.rows() - 1 - grid.row(i), 0xff000000 | range.colour(share));
            }
        }
        ByteArrayOutputStream png = new ByteArrayOutputStream();
        try {
            ImageIO.write(image, "png", png);
        } catch (IOException e) {
            throw new UncheckedIOException(e); // memory does not fail
        }
        return png.toByteArray();
    }

    private static void axes(Svg svg, TileGrid grid, double width, double height) {
        double across = grid.columns() * grid.pitchMetres();
        double up = grid.rows() * grid.pitchMetres();
        double larger = Math.max(across, up);
        Unit unit = Unit.parse(larger >= 2e-3 ? "mm" : larger >= 2e-6 ? "um" : "nm");
        String name = pretty(unit);
        for (double tick : ticks(unit.fromSi(grid.originXMetres()), unit.fromSi(across), width)) {
            double x = LEFT + (unit.toSi(tick) - grid.originXMetres()) / across * width;
            svg.line(x, TOP + height + 3, x, TOP + height + 8, "#1a1a1a", 1);
            svg.text(x, TOP + height + 24, 13, "middle", label(tick));
        }
        svg.text(LEFT + width / 2, TOP + height + 46, 13, "middle", "x (" + name + ")");
        for (double tick : ticks(unit.fromSi(grid.originYMetres()), unit.fromSi(up), height)) {
            double y = TOP + height - (unit.toSi(tick) - grid.originYMetres()) / up * height;
            svg.line(LEFT - 3, y, LEFT - 8, y, "#1a1a1a", 1);
            svg.text(LEFT - 12, y + 4.5, 13, "end", label(tick));
        }
        svg.text(16, TOP - 8, 13, "start", "y (" + name + ")");
    }

    private static void bar(Svg svg, Unit unit, ColourRange range, double left, double height) {
        int steps = 128;
        for (int i = 0; i < steps; i++) {
            double share = (i + 0.5) / steps;
            // A hair taller than its step, so that no gap shows between two.
            svg.fill(left, TOP + height * (1 - (i + 1.0) / steps), 20, height / steps + 0.5, range.colour(share));
        }
        svg.frame(left, TOP, 20, height + 0.5, 1);
        String name = pretty(unit);
        svg.text(left, TOP - 8, 13, "start", name);
        boolean wide = range.high() > range.low();
        for (double tick : wide ? NiceStep.ticks(range.low(), range.high(), 8) : List.of(range.low())) {
            double y = TOP + height * (1 - range.share(tick));
            svg.line(left + 20, y, left + 25, y, "#1a1a1a", 1);
            svg.text(left + 29, y + 4.5, 13, "start", label(tick));
        }
        if (range.above() > 0) {
            svg.text(left + 60, TOP - 8, 12, "start", range.above() + " tiles above");
        }
        if (range.below() > 0) {
            svg.text(left, TOP + height + 20, 12, "start", range.below() + " tiles below");
        }
    }

    private static List<Double> ticks(double low, double length, double pixels) {
        return pixels < 120 ? List.of() : NiceStep.ticks(low, low + length, (int) Math.min(9, pixels / 70));
    }

    static String label(double value) {
        if (value == 0) {
            return "0";
        }
        double power = Math.pow(10, 5 - Math.floor(Math.log10(Math.abs(value))));
        double rounded = Math.rint(value * power) / power;
        return ShortDecimal.of(Double.isFinite(rounded) ? rounded : value).replace('-', '\u2212');
    }

    static String pretty(Unit unit) {
        return unit.symbol().equals("1")
                ? ""
                : unit.symbol()
                        .replaceAll("\\bu(?=[mslgPNJW])", "\u00b5")
                        .replace("degC", "\u00b0C")
                        .replace("^2", "\u00b2")
                        .replace("^3", "\u00b3");
    }
}
