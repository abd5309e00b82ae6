package org.evenstamp.output.picture;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.geom.Line2D;
import java.awt.geom.Path2D;
import java.awt.geom.Rectangle2D;
import java.awt.image.BufferedImage;
import java.util.ArrayList;
import java.util.List;
import org.evenstamp.engine.result.FieldStatistics;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.output.text.ShortDecimal;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.unit.Unit;

/**
 * Draws one field as a picture: x to the right and y up as on the stamp, so row 0 is at the bottom.
 *
 * <p>A tile is a whole number of pixels wide. Tiles without a value are hatched grey. The stamp's outline is a black line;
 * the colour bar carries the unit, and a triangle at an end where values lie beyond it.
 */
public final class MapPicture {
    private static final int WISHED_SIDE = 1000;
    private static final int MOST_SIDE = 3000;
    private static final int LEAST_WIDTH = 40;
    private static final int LARGEST_TILE = 320;
    private static final int THIN = 24;
    private static final int LEAST_CANVAS = 860;

    private static final double TITLE = 24;
    private static final double LABEL = 19;
    private static final int TOP = 92;
    private static final int LEFT = 110;
    private static final int BAR_GAP = 44;
    private static final int BAR_WIDTH = 30;
    private static final int BAR_LABELS = 170;
    private static final int LEAST_BAR = 260;
    private static final int BELOW_AXIS = 96;
    private static final int LINE = 27;

    private static final Color INK = new Color(0x1a1a1a);
    private static final Color QUIET = new Color(0x555555);
    private static final int HATCH_GROUND = 0xdcdcdc;
    private static final int HATCH_LINE = 0x9c9c9c;
    private static final int UNKNOWN = -1;

    private final LabelFont font = new LabelFont();
    private final MapOptions.Outline outline;

    /** Creates a painter for maps of one stamp. */
    public MapPicture(MapOptions.Outline outline) {
        this.outline = outline;
    }

    /** Returns the field's map as a PNG file. */
    public byte[] png(Field field) {
        return PngFile.of(draw(field));
    }

    /** How tiles become pixels: {@code tile} pixels a tile, or {@code block} tiles a pixel, one of the two being 1. */
    private record Scale(int tile, int block, int width, int height) {
        static Scale of(TileGrid grid) {
            int larger = Math.max(grid.columns(), grid.rows());
            int smaller = Math.min(grid.columns(), grid.rows());
            int block = (larger + MOST_SIDE - 1) / MOST_SIDE;
            if (block > 1) {
                return new Scale(1, block, ceil(grid.columns(), block), ceil(grid.rows(), block));
            }
            int wished = WISHED_SIDE / larger;
            int legible = Math.min(ceil(LEAST_WIDTH, smaller), MOST_SIDE / 2 / larger);
            int tile = Math.max(1, Math.min(LARGEST_TILE, Math.max(wished, legible)));
            return new Scale(tile, 1, grid.columns() * tile, grid.rows() * tile);
        }

        private static int ceil(int a, int b) {
            return (a + b - 1) / b;
        }

        double pixelsPerTile() {
            return (double) tile / block;
        }
    }

    BufferedImage draw(Field field) {
        return draw(field, field.knownCount() == 0 ? new ColourRange(0, 0, 0, 0) : ColourRange.of(field));
    }

    /** Draws with the colours of a given range. */
    BufferedImage draw(Field field, ColourRange range) {
        TileGrid grid = field.grid();
        Scale scale = Scale.of(grid);
        boolean empty = field.knownCount() == 0;
        List<String> notes = notes(field, scale, range);

        int barHeight = Math.max(scale.height, LEAST_BAR);
        int barLeft = LEFT
                + Math.max(scale.width + BAR_GAP, (int) font.width(field.name().id(), LABEL) + BAR_GAP);
        double widest = Math.max(
                font.width(title(field.name()), TITLE) + LEFT + 30,
                notes.stream()
                                .mapToDouble(note -> font.width(note, LABEL))
                                .max()
                                .orElse(0)
                        + LEFT
                        + 30);
        int width = (int) Math.ceil(Math.max(Math.max(LEAST_CANVAS, widest), barLeft + BAR_WIDTH + BAR_LABELS));
        int notesTop = TOP + scale.height + BELOW_AXIS;
        int height = Math.max(TOP + barHeight + 2 * LINE, notesTop + notes.size() * LINE + 24);
        BufferedImage image = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
        Graphics2D g = image.createGraphics();
        try {
            g.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
            g.setRenderingHint(RenderingHints.KEY_STROKE_CONTROL, RenderingHints.VALUE_STROKE_PURE);
            g.setColor(Color.WHITE);
            g.fillRect(0, 0, width, height);
            g.setColor(INK);
            font.draw(g, title(field.name()), LEFT, 40, TITLE);
            g.setColor(QUIET);
            font.draw(g, field.name().id(), LEFT, 70, LABEL);

            tiles(image, field, scale, range);
            stampOutline(g, grid, scale);
            axes(g, grid, scale);
            if (!empty) {
                colourBar(g, field.name().unit(), range, barLeft, barHeight);
            }
            int y = notesTop;
            scaleBar(g, grid, scale, y);
            g.setColor(QUIET);
            for (String note : notes) {
                y += LINE;
                font.draw(g, note, LEFT, y, LABEL);
            }
        } finally {
            g.dispose();
        }
        return image;
    }

    private static String title(FieldName name) {
        String meaning = name.meaning();
        return Character.toUpperCase(meaning.charAt(0)) + meaning.substring(1);
    }

    private static List<String> notes(Field field, Scale scale, ColourRange range) {
        TileGrid grid = field.grid();
        List<String> notes = new ArrayList<>();
        String size = grid.columns() + " \u00d7 " + grid.rows() + " tiles of " + length(grid.pitchMetres());
        notes.add(
                scale.block == 1
                        ? size
                        : size + "; a pixel shows the mean of " + scale.block + " \u00d7 " + scale.block + " tiles");
        if (range.below() + range.above() > 0) {
            FieldStatistics numbers = FieldStatistics.of(field);
            notes.add("Colours span the middle 99 % of the tiles: " + range.below() + " lie below (to "
                    + rounded(numbers.min(), 3) + "), " + range.above() + " above (to " + rounded(numbers.max(), 3)
                    + ")");
        }
        int unknown = grid.size() - field.knownCount();
        if (unknown > 0) {
            notes.add("Hatched: no value (" + unknown + (unknown == 1 ? " tile)" : " tiles)"));
        }
        return notes;
    }

    private void tiles(BufferedImage image, Field field, Scale scale, ColourRange range) {
        int[] colours = new int[scale.width / scale.tile];
        int[] line = new int[scale.width];
        int[] pixels = PngFile.pixels(image);
        for (int y = 0; y < scale.height; y++) {
            if (y % scale.tile == 0) {
                colours(colours, field, scale, range, (scale.height - 1 - y) / scale.tile);
            }
            for (int x = 0; x < scale.width; x++) {
                int colour = colours[x / scale.tile];
                line[x] = colour != UNKNOWN ? colour : (x + y) % 8 < 2 ? HATCH_LINE : HATCH_GROUND;
            }
            System.arraycopy(line, 0, pixels, (TOP + y) * image.getWidth() + LEFT, scale.width);
        }
    }

    /** Finds the colours of one row of tiles, or of blocks of tiles; {@link #UNKNOWN} where no tile has a value. */
    private static void colours(int[] colours, Field field, Scale scale, ColourRange range, int blockRow) {
        TileGrid grid = field.grid();
        Unit unit = field.name().unit();
        int firstRow = blockRow * scale.block;
        for (int i = 0; i < colours.length; i++) {
            int firstColumn = i * scale.block;
            double sum = 0;
            int known = 0;
            for (int row = firstRow; row < Math.min(firstRow + scale.block, grid.rows()); row++) {
                for (int column = firstColumn; column < Math.min(firstColumn + scale.block, grid.columns()); column++) {
                    int index = grid.index(column, row);
                    if (field.known(index)) {
                        sum += field.at(index);
                        known++;
                    }
                }
            }
            colours[i] = known == 0 ? UNKNOWN : range.colour(range.share(unit.fromSi(sum / known)));
        }
    }

    private static double pixelX(TileGrid grid, Scale scale, double xMetres) {
        return LEFT + (xMetres - grid.originXMetres()) / grid.pitchMetres() * scale.pixelsPerTile();
    }

    private static double pixelY(TileGrid grid, Scale scale, double yMetres) {
        return TOP + scale.height - (yMetres - grid.originYMetres()) / grid.pitchMetres() * scale.pixelsPerTile();
    }

    private void stampOutline(Graphics2D g, TileGrid grid, Scale scale) {
        double left = pixelX(grid, scale, outline.minX());
        double right = pixelX(grid, scale, outline.maxX());
        double top = pixelY(grid, scale, outline.maxY());
        double bottom = pixelY(grid, scale, outline.minY());
        // Around a map of a few pixels the line stands outside, so as not to cover it.
        double margin = Math.min(right - left, bottom - top) < THIN ? 3 : 0;
        Rectangle2D box = new Rectangle2D.Double(
                left - margin, top - margin, right - left + 2 * margin, bottom - top + 2 * margin);
        g.setColor(Color.WHITE);
        g.setStroke(new BasicStroke(4));
        g.draw(box);
        g.setColor(INK);
        g.setStroke(new BasicStroke(2));
        g.draw(box);
    }

    private void axes(Graphics2D g, TileGrid grid, Scale scale) {
        double side = grid.pitchMetres() / scale.pixelsPerTile();
        double width = scale.width * side;
        double height = scale.height * side;
        Unit unit = lengthUnit(Math.max(width, height));
        g.setColor(INK);
        g.setStroke(new BasicStroke(1.5f));
        double bottom = TOP + scale.height + 4.0;
        List<Double> across = ticks(unit, grid.originXMetres(), width, scale.width / 90);
        for (double tick : across) {
            double x = pixelX(grid, scale, unit.toSi(tick));
            g.draw(new Line2D.Double(x, bottom, x, bottom + 7));
            centred(g, rounded(tick), x, bottom + 28);
        }
        centred(g, "x (" + pretty(unit) + ")", LEFT + Math.max(scale.width / 2.0, 20), bottom + 54);
        for (double tick : ticks(unit, grid.originYMetres(), height, scale.height / 60)) {
            double y = pixelY(grid, scale, unit.toSi(tick));
            g.draw(new Line2D.Double(LEFT - 4.0, y, LEFT - 11.0, y));
            String text = rounded(tick);
            font.draw(g, text, LEFT - 17 - font.width(text, LABEL), y + LABEL * 0.36, LABEL);
        }
        font.draw(g, "y (" + pretty(unit) + ")", 18, TOP - 18, LABEL);
    }

    private static List<Double> ticks(Unit unit, double originMetres, double lengthMetres, int most) {
        double low = unit.fromSi(originMetres);
        double high = unit.fromSi(originMetres + lengthMetres);
        return most < 2 ? List.of() : NiceStep.ticks(low, high, Math.min(7, most + 1));
    }

    private void colourBar(Graphics2D g, Unit unit, ColourRange range, int left, int height) {
        int tip = 20;
        boolean under = range.below() > 0;
        boolean over = range.above() > 0;
        int top = TOP + (over ? tip : 0);
        int bottom = TOP + height - (under ? tip : 0);
        for (int y = top; y < bottom; y++) {
            g.setColor(new Color(range.colour(range.high() > range.low() ? (bottom - 0.5 - y) / (bottom - top) : 0.5)));
            g.fillRect(left, y, BAR_WIDTH, 1);
        }
        Path2D frame = new Path2D.Double();
        frame.moveTo(left, top);
        if (over) {
            frame.lineTo(left + BAR_WIDTH / 2.0, top - tip);
        }
        frame.lineTo(left + BAR_WIDTH, top);
        frame.lineTo(left + BAR_WIDTH, bottom);
        if (under) {
            frame.lineTo(left + BAR_WIDTH / 2.0, bottom + tip);
        }
        frame.lineTo(left, bottom);
        frame.closePath();
        fillTip(g, over, left, top, -tip, range.colour(1));
        fillTip(g, under, left, bottom, tip, range.colour(0));
        g.setColor(INK);
        g.setStroke(new BasicStroke(1.5f));
        g.draw(frame);

        double largest = Math.max(Math.abs(range.low()), Math.abs(range.high()));
        int power = largest > 0 ? (int) Math.floor(Math.log10(largest)) : 0;
        double factor = power >= 5 || power <= -4 ? Math.pow(10, power) : 1;
        String name = unit.symbol().equals("1") ? "" : pretty(unit);
        String heading = factor == 1 ? name : "\u00d7 1e" + power + (name.isEmpty() ? "" : " " + name);
        font.draw(g, heading, left, TOP - 18, LABEL);
        List<Double> ticks = range.high() > range.low()
                ? NiceStep.ticks(range.low() / factor, range.high() / factor, 7)
                : List.of(range.low() / factor);
        for (double tick : ticks) {
            double y = bottom - range.share(tick * factor) * (bottom - top);
            g.draw(new Line2D.Double(left + BAR_WIDTH, y, left + BAR_WIDTH + 7.0, y));
            font.draw(g, rounded(tick), left + BAR_WIDTH + 13, y + LABEL * 0.36, LABEL);
        }
    }

    private static void fillTip(Graphics2D g, boolean wanted, int left, int base, int reach, int colour) {
        if (wanted) {
            Path2D tip = new Path2D.Double();
            tip.moveTo(left, base);
            tip.lineTo(left + BAR_WIDTH / 2.0, base + reach);
            tip.lineTo(left + BAR_WIDTH, base);
            tip.closePath();
            g.setColor(new Color(colour));
            g.fill(tip);
        }
    }

    private void scaleBar(Graphics2D g, TileGrid grid, Scale scale, int baseline) {
        double side = grid.pitchMetres() / scale.pixelsPerTile();
        double metres = NiceStep.below(Math.max(scale.width * 0.25, 30) * side);
        double pixels = metres / side;
        double y = baseline - 6.0;
        g.setColor(INK);
        g.fill(new Rectangle2D.Double(LEFT, y - 3, pixels, 6));
        font.draw(g, length(metres), LEFT + pixels + 12, baseline, LABEL);
    }

    private void centred(Graphics2D g, String text, double x, double y) {
        font.draw(g, text, x - font.width(text, LABEL) / 2, y, LABEL);
    }

    private static Unit lengthUnit(double metres) {
        return Unit.parse(metres >= 2e-3 ? "mm" : metres >= 2e-6 ? "um" : "nm");
    }

    private static String length(double metres) {
        Unit unit = Unit.parse(metres >= 1e-3 ? "mm" : metres >= 1e-6 * (1 - 1e-9) ? "um" : "nm");
        return rounded(unit.fromSi(metres)) + " " + pretty(unit);
    }

    /** Rounds to six significant digits, enough for a label and short of what arithmetic leaves behind. */
    private static String rounded(double value) {
        return rounded(value, 6);
    }

    private static String rounded(double value, int digits) {
        if (value == 0) {
            return "0";
        }
        double power = Math.pow(10, digits - 1 - Math.floor(Math.log10(Math.abs(value))));
        return ShortDecimal.of(Math.rint(value * power) / power).replace('-', '\u2212');
    }

    private static String pretty(Unit unit) {
        return unit.symbol()
                .replaceAll("\\bu(?=[mslgPNJW])", "\u00b5")
                .replace("degC", "\u00b0C")
                .replace("^2", "\u00b2")
                .replace("^3", "\u00b3");
    }
}
