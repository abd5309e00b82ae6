package org.evenstamp.output.picture;

import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.evenstamp.engine.sweep.ProcessWindow;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.UnitException;

/**
 * Draws where all limits hold over two keys, side by side for every value of a third one: a cell a run with the margin of its
 * tightest limit in percent, green where it is within, brown with the letter of the limit where it is not, lines of equal margin
 * with that of 0 the boldest, the present recipe as a cross, and in words which limit closes which side and how far the recipe
 * may drift. Cells of runs that failed are grey.
 */
public final class WindowDrawing {
    private static final double LEFT = 110;
    private static final double TOP = 84;
    private static final double GAP = 26;
    private static final double WIDEST = 640;
    private static final double HIGHEST = 420;
    private static final double LARGEST_CELL = 92;
    private static final double LEAST_WIDTH = 680;
    private static final int FAILED = 0xc9c9c9;
    private static final int[] WITHIN = {0xe3f1ea, 0x2f8f6b};
    private static final int[] BEYOND = {0xf8ead9, 0xb5651d};
    private static final double[] CONTOURS = {-0.5, -0.25, -0.1, 0.1, 0.25, 0.5};
    /** A margin from which on the colour no longer changes. */
    private static final double FULL = 0.5;

    private final List<ProcessWindow> windows;
    private final ProcessWindow first;
    private final List<String> limits;
    private final double wide;
    private final double high;

    private WindowDrawing(List<ProcessWindow> windows, List<String> limits) {
        this.windows = windows;
        this.first = windows.get(0);
        this.limits = limits;
        double panel = (WIDEST + 240 * (Math.min(windows.size(), 4) - 1)) / windows.size();
        this.wide = Math.min(LARGEST_CELL, panel / first.columns());
        this.high = Math.min(Math.max(LARGEST_CELL * 0.6, wide * 0.6), HIGHEST / first.rows());
    }

    /**
     * Returns the text of an SVG file.
     *
     * @param windows at least one
     * @param limits the job's limits in words, in their order
     */
    public static String svg(List<ProcessWindow> windows, List<String> limits) {
        Svg sheet = new Svg();
        WindowDrawing drawing = new WindowDrawing(windows, limits);
        double height = drawing.draw(sheet);
        return sheet.file(drawing.width(), height, "process window");
    }

    /** Returns a PNG file. */
    public static byte[] png(List<ProcessWindow> windows, List<String> limits) {
        PixelSheet sheet = new PixelSheet();
        WindowDrawing drawing = new WindowDrawing(windows, limits);
        double height = drawing.draw(sheet);
        return sheet.file(drawing.width(), height);
    }

    private double width() {
        return LEFT + Math.max(windows.size() * (panelWidth() + GAP) - GAP, LEAST_WIDTH) + 30;
    }

    private double panelWidth() {
        return wide * first.columns();
    }

    private double bottom() {
        return TOP + high * first.rows();
    }

    private double draw(Sheet sheet) {
        sheet.text(LEFT, 26, 16, "start", "Process window: margin of the tightest limit, %");
        sheet.text(
                LEFT,
                46,
                12.5,
                "start",
                "green: every limit holds; brown: the limit of that letter does not; bold line: margin 0; cross: the job itself");
        for (int i = 0; i < windows.size(); i++) {
            new Panel(sheet, windows.get(i), LEFT + i * (panelWidth() + GAP)).draw(i == 0);
        }
        sheet.text(
                LEFT + (windows.size() * (panelWidth() + GAP) - GAP) / 2,
                bottom() + 40,
                13,
                "middle",
                first.across().key());
        sheet.text(8, TOP - 10, 13, "start", first.up().key());
        return words(sheet, bottom() + 66);
    }

    /** Returns the letter of a limit. */
    private static String letter(int limit) {
        return limit < 26 ? String.valueOf((char) ('a' + limit)) : String.valueOf(limit + 1);
    }

    /** One window at its place on the sheet. */
    private final class Panel {
        private final Sheet sheet;
        private final ProcessWindow window;
        private final double left;

        Panel(Sheet sheet, ProcessWindow window, double left) {
            this.sheet = sheet;
            this.window = window;
            this.left = left;
        }

        void draw(boolean labelled) {
            cells();
            for (double level : CONTOURS) {
                contour(level, level > 0 ? "#7fb79f" : "#d9a877", 1);
            }
            contour(0, "#1a1a1a", 2.4);
            sheet.frame(left, TOP, panelWidth(), high * window.rows(), 1);
            sheet.text(left + panelWidth() / 2, TOP - 10, 13, "middle", window.slice());
            axes(labelled);
            if (window.presentSlice()
                    && window.across().present().isPresent()
                    && window.up().present().isPresent()) {
                cross(
                        x(window.across().present().getAsDouble()),
                        y(window.up().present().getAsDouble()));
            }
        }

        private double x(double column) {
            return left + (column + 0.5) * wide;
        }

        private double y(double row) {
            return bottom() - (row + 0.5) * high;
        }

        private void cells() {
            for (int row = 0; row < window.rows(); row++) {
                for (int column = 0; column < window.columns(); column++) {
                    OptionalDouble margin = window.margin(column, row);
                    double x = left + column * wide;
                    double y = bottom() - (row + 1) * high;
                    sheet.fill(x, y, wide, high, margin.isPresent() ? colour(margin.getAsDouble()) : FAILED);
                    if (wide >= 34 && high >= 14) {
                        String text = margin.isPresent()
                                ? (margin.getAsDouble() < 0 ? letter(window.tightest(column, row)) + " " : "")
                                        + percent(margin.getAsDouble())
                                : "failed";
                        sheet.text(x + wide / 2, y + high / 2 + 4.5, 12, "middle", text);
                    }
                }
            }
        }

        /** Draws where the margin has a value, straight within each square between four neighbouring runs. */
        private void contour(double level, String stroke, double width) {
            int[][] corners = {{0, 0}, {1, 0}, {1, 1}, {0, 1}};
            for (int row = 0; row + 1 < window.rows(); row++) {
                for (int column = 0; column + 1 < window.columns(); column++) {
                    double[] x = new double[4];
                    double[] y = new double[4];
                    int met = 0;
                    for (int side = 0; side < 4; side++) {
                        int[] from = corners[side];
                        int[] to = corners[(side + 1) % 4];
                        OptionalDouble a = window.margin(column + from[0], row + from[1]);
                        OptionalDouble b = window.margin(column + to[0], row + to[1]);
                        if (a.isPresent() && b.isPresent() && (a.getAsDouble() < level) != (b.getAsDouble() < level)) {
                            double part = (a.getAsDouble() - level) / (a.getAsDouble() - b.getAsDouble());
                            x[met] = x(column + from[0] + part * (to[0] - from[0]));
                            y[met++] = y(row + from[1] + part * (to[1] - from[1]));
                        }
                    }
                    for (int i = 0; i + 1 < met; i += 2) {
                        sheet.line(x[i], y[i], x[i + 1], y[i + 1], stroke, width);
                    }
                }
            }
        }

        private void axes(boolean labelled) {
            int every = Math.max(1, (int) Math.ceil(74 / wide));
            for (int column = 0; column < window.columns(); column += every) {
                sheet.text(
                        x(column),
                        bottom() + 18,
                        12,
                        "middle",
                        shortened(window.across().levels().get(column)));
            }
            for (int row = 0; labelled && row < window.rows(); row += Math.max(1, (int) Math.ceil(16 / high))) {
                sheet.text(
                        left - 8,
                        y(row) + 4.5,
                        12,
                        "end",
                        shortened(window.up().levels().get(row)));
            }
        }

        private void cross(double x, double y) {
            for (String[] stroke : new String[][] {{"#ffffff", "5"}, {"#1a1a1a", "2"}}) {
                double width = Double.parseDouble(stroke[1]);
                sheet.line(x - 9, y, x + 9, y, stroke[0], width);
                sheet.line(x, y - 9, x, y + 9, stroke[0], width);
            }
        }
    }

    private static String percent(double margin) {
        double percent = 100 * margin;
        return Math.abs(percent) < 0.95 && percent != 0
                ? String.format(Locale.ROOT, Math.abs(percent) < 0.05 ? "%.1g" : "%.1f", percent)
                : String.format(Locale.ROOT, "%.0f", percent);
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

    private static String shortened(String text) {
        try {
            Quantity quantity = Quantity.parse(text);
            double rounded = Double.parseDouble(String.format(Locale.ROOT, "%.4g", quantity.value()));
            return (MapSvg.label(rounded) + " " + MapSvg.pretty(quantity.unit())).strip();
        } catch (UnitException e) {
            return text;
        }
    }

    private double words(Sheet sheet, double top) {
        double y = top;
        TreeSet<Integer> shown = new TreeSet<>();
        for (ProcessWindow window : windows) {
            for (int i = 0; i < window.margins().size(); i++) {
                if (window.margins().get(i).orElse(0) < 0) {
                    shown.add(window.tightest().get(i));
                }
            }
        }
        for (int limit : shown) {
            sheet.text(LEFT, y, 12.5, "start", letter(limit) + ": " + limits.get(limit));
            y += 18;
        }
        y += 6;
        for (ProcessWindow window : windows) {
            for (String line : lines(window)) {
                sheet.text(LEFT, y, 12.5, "start", line);
                y += 18;
            }
        }
        return y + 6;
    }

    private List<String> lines(ProcessWindow window) {
        String where = window.slice().isEmpty() ? "" : window.slice() + ": ";
        if (window.openShare() == 0) {
            return List.of(where + "no run keeps every limit");
        }
        String closing = closing(window);
        List<ProcessWindow.Drift> drifts = window.drifts();
        return drifts.isEmpty()
                ? List.of(where + closing)
                : List.of(
                        where + closing,
                        "the present recipe may drift, one key at a time:",
                        drift(drifts.subList(0, 2)) + "; " + drift(drifts.subList(2, 4)));
    }

    private static String closing(ProcessWindow window) {
        String[] sides = {"left", "right", "below", "above"};
        List<List<Integer>> closing = window.closing();
        StringBuilder text = new StringBuilder();
        for (int side = 0; side < sides.length; side++) {
            text.append(side == 0 ? "" : "; ")
                    .append(sides[side])
                    .append(
                            closing.get(side).isEmpty()
                                    ? " open to the rim"
                                    : " closed by "
                                            + closing.get(side).stream()
                                                    .map(WindowDrawing::letter)
                                                    .collect(Collectors.joining(", ")));
        }
        return text.toString();
    }

    private static String drift(List<ProcessWindow.Drift> ways) {
        return ways.get(0).key() + " "
                + ways.stream()
                        .map(way -> (way.open() ? "beyond " : way.upwards() ? "up to " : "down to ") + way.to())
                        .collect(Collectors.joining(", "));
    }
}
