package org.evenstamp.output.picture;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.evenstamp.engine.sweep.ProcessWindow;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.UnitException;
import org.jspecify.annotations.Nullable;

/**
 * Draws where all limits hold over two keys: a cell a run with the margin of its tightest limit in percent, green where it is
 * within and brown where it is not, a line where the margin between runs is 0, the present recipe as a cross, and in words which
 * limit closes which side. Cells of runs that failed are grey.
 */
public final class WindowDrawing {
    private static final double LEFT = 150;
    private static final double TOP = 62;
    private static final double WIDEST = 640;
    private static final double HIGHEST = 460;
    private static final double LARGEST_CELL = 92;
    private static final int FAILED = 0xc9c9c9;
    private static final int[] WITHIN = {0xe3f1ea, 0x2f8f6b};
    private static final int[] BEYOND = {0xf8ead9, 0xb5651d};
    /** A margin from which on the colour no longer changes. */
    private static final double FULL = 0.5;

    private final ProcessWindow window;
    private final Map<String, String> present;
    private final List<String> limits;
    private final double wide;
    private final double high;

    private WindowDrawing(ProcessWindow window, Map<String, String> present, List<String> limits) {
        this.window = window;
        this.present = present;
        this.limits = limits;
        this.wide = Math.min(LARGEST_CELL, WIDEST / window.columns().size());
        this.high = Math.min(LARGEST_CELL * 0.6, HIGHEST / window.rows().size());
    }

    /**
     * Returns the text of an SVG file.
     *
     * @param present the job's own values by key, where it sets them
     * @param limits the job's limits in words, in their order
     */
    public static String svg(ProcessWindow window, Map<String, String> present, List<String> limits) {
        Svg sheet = new Svg();
        WindowDrawing drawing = new WindowDrawing(window, present, limits);
        double height = drawing.draw(sheet);
        return sheet.file(drawing.width(), height, "process window");
    }

    /** Returns a PNG file. */
    public static byte[] png(ProcessWindow window, Map<String, String> present, List<String> limits) {
        PixelSheet sheet = new PixelSheet();
        WindowDrawing drawing = new WindowDrawing(window, present, limits);
        double height = drawing.draw(sheet);
        return sheet.file(drawing.width(), height);
    }

    private double width() {
        return LEFT + Math.max(wide * window.columns().size(), 420) + 40;
    }

    private double bottom() {
        return TOP + high * window.rows().size();
    }

    private double draw(Sheet sheet) {
        sheet.text(LEFT, 26, 16, "start", "Process window: margin of the tightest limit, %");
        sheet.text(
                LEFT, 46, 12.5, "start", "green: every limit holds; brown: one is exceeded; cross: the present recipe");
        cells(sheet);
        boundary(sheet);
        sheet.frame(
                LEFT, TOP, wide * window.columns().size(), high * window.rows().size(), 1);
        axes(sheet);
        cross(sheet);
        return words(sheet, bottom() + 66);
    }

    private void cells(Sheet sheet) {
        for (int row = 0; row < window.rows().size(); row++) {
            for (int column = 0; column < window.columns().size(); column++) {
                OptionalDouble margin = window.margin(column, row);
                double x = LEFT + column * wide;
                double y = bottom() - (row + 1) * high;
                sheet.fill(x, y, wide, high, margin.isPresent() ? colour(margin.getAsDouble()) : FAILED);
                if (wide >= 30 && high >= 14) {
                    String text = margin.isPresent()
                            ? String.format(Locale.ROOT, "%.0f", 100 * margin.getAsDouble() + 0.0)
                            : "failed";
                    sheet.text(x + wide / 2, y + high / 2 + 4.5, 12, "middle", text);
                }
            }
        }
    }

    private static int colour(double margin) {
        int[] ends = margin >= 0 ? WITHIN : BEYOND;
        double part = Math.min(1, Math.abs(margin) / FULL);
        int colour = 0;
        for (int shift = 16; shift >= 0; shift -= 8) {
            double channel = (1 - part) * ((ends[0] >> shift) & 0xff) + part * ((ends[1] >> shift) & 0xff);
            colour |= (int) Math.round(channel) << shift;
        }
        return colour;
    }

    /** Draws where the margin is 0, straight within each square between four neighbouring runs. */
    private void boundary(Sheet sheet) {
        for (int row = 0; row + 1 < window.rows().size(); row++) {
            for (int column = 0; column + 1 < window.columns().size(); column++) {
                int[][] corners = {{0, 0}, {1, 0}, {1, 1}, {0, 1}};
                double[] x = new double[4];
                double[] y = new double[4];
                int met = 0;
                for (int side = 0; side < 4; side++) {
                    int[] from = corners[side];
                    int[] to = corners[(side + 1) % 4];
                    OptionalDouble a = window.margin(column + from[0], row + from[1]);
                    OptionalDouble b = window.margin(column + to[0], row + to[1]);
                    if (a.isPresent() && b.isPresent() && (a.getAsDouble() < 0) != (b.getAsDouble() < 0)) {
                        double part = a.getAsDouble() / (a.getAsDouble() - b.getAsDouble());
                        x[met] = across(column + from[0] + part * (to[0] - from[0]));
                        y[met++] = up(row + from[1] + part * (to[1] - from[1]));
                    }
                }
                for (int i = 0; i + 1 < met; i += 2) {
                    sheet.line(x[i], y[i], x[i + 1], y[i + 1], "#1a1a1a", 2);
                }
            }
        }
    }

    private double across(double column) {
        return LEFT + (column + 0.5) * wide;
    }

    private double up(double row) {
        return bottom() - (row + 0.5) * high;
    }

    private void axes(Sheet sheet) {
        int every = Math.max(1, (int) Math.ceil(74 / wide));
        for (int column = 0; column < window.columns().size(); column += every) {
            sheet.text(
                    across(column),
                    bottom() + 18,
                    12,
                    "middle",
                    shortened(window.columns().get(column)));
        }
        for (int row = 0; row < window.rows().size(); row += Math.max(1, (int) Math.ceil(16 / high))) {
            sheet.text(
                    LEFT - 8, up(row) + 4.5, 12, "end", shortened(window.rows().get(row)));
        }
        sheet.text(LEFT + wide * window.columns().size() / 2, bottom() + 40, 13, "middle", window.across());
        sheet.text(LEFT - 8, TOP - 8, 13, "end", window.up());
    }

    private static String shortened(String text) {
        try {
            Quantity quantity = Quantity.parse(text);
            double rounded = Double.parseDouble(String.format(Locale.ROOT, "%.4g", quantity.value()));
            return MapSvg.label(rounded) + " " + quantity.unit().symbol();
        } catch (UnitException e) {
            return text;
        }
    }

    private void cross(Sheet sheet) {
        OptionalDouble column = place(window.columns(), present.get(window.across()));
        OptionalDouble row = place(window.rows(), present.get(window.up()));
        if (column.isPresent() && row.isPresent()) {
            double x = across(column.getAsDouble());
            double y = up(row.getAsDouble());
            for (String[] stroke : new String[][] {{"#ffffff", "5"}, {"#1a1a1a", "2"}}) {
                double width = Double.parseDouble(stroke[1]);
                sheet.line(x - 9, y, x + 9, y, stroke[0], width);
                sheet.line(x, y - 9, x, y + 9, stroke[0], width);
            }
        }
    }

    /** Returns where a value lies among ascending or descending levels; nothing outside them. */
    private static OptionalDouble place(List<String> levels, @Nullable String value) {
        if (value == null) {
            return OptionalDouble.empty();
        }
        try {
            double at = Quantity.parse(value).si();
            for (int i = 0; i + 1 < levels.size(); i++) {
                double a = Quantity.parse(levels.get(i)).si();
                double b = Quantity.parse(levels.get(i + 1)).si();
                if (a != b && (at - a) * (at - b) <= 0) {
                    return OptionalDouble.of(i + (at - a) / (b - a));
                }
            }
        } catch (UnitException e) {
            int index = levels.indexOf(value);
            return index < 0 ? OptionalDouble.empty() : OptionalDouble.of(index);
        }
        return OptionalDouble.empty();
    }

    private double words(Sheet sheet, double top) {
        String[] sides = {"to the left", "to the right", "below", "above"};
        double y = top;
        if (window.openShare() == 0) {
            sheet.text(LEFT, y, 12.5, "start", "no run keeps every limit");
            return y + 24;
        }
        List<List<Integer>> closing = window.closing();
        for (int side = 0; side < sides.length; side++) {
            List<Integer> by = closing.get(side);
            String words = by.isEmpty()
                    ? "open to the rim of the picture"
                    : "closed by " + by.stream().map(limits::get).collect(Collectors.joining(", then "));
            sheet.text(LEFT, y, 12.5, "start", sides[side] + ": " + words);
            y += 18;
        }
        return y + 6;
    }
}
