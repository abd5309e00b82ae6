package org.evenstamp.output.picture;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.evenstamp.shared.spi.Curve;

/**
 * Draws one curve, as SVG or PNG: a panel a unit, the abscissa shared, series told apart by dashes as well as by colour. The
 * abscissa is logarithmic when its positive values span more than a factor of 300; what is not positive is then left out.
 */
public final class CurveDrawing {
    private static final double WIDE = 300;
    private static final double LEFT = 90;
    private static final double WIDTH = 560;
    private static final double PANEL = 200;
    private static final double TOP = 50;
    private static final double KEY = 20;
    private static final String[] INKS = {"#0b5566", "#a8530f", "#58616d", "#1b2430"};
    private static final String[] DASHES = {"", "9 4", "3 3", "12 3 3 3", "6 2 2 2 2 2"};

    private CurveDrawing() {}

    /** Returns the text of an SVG file. */
    public static String svg(Curve curve) {
        Svg sheet = new Svg();
        return sheet.file(LEFT + WIDTH + 40, draw(curve, sheet), curve.id());
    }

    /** Returns a PNG file. */
    public static byte[] png(Curve curve) {
        PixelSheet sheet = new PixelSheet();
        return sheet.file(LEFT + WIDTH + 40, draw(curve, sheet));
    }

    /** Draws and returns the height that it took. */
    private static double draw(Curve curve, Sheet sheet) {
        Curve.Column abscissa = curve.columns().get(0);
        double[] all = values(abscissa);
        double[] positive = IntStream.range(0, all.length)
                .filter(i -> all[i] > 0)
                .mapToDouble(i -> all[i])
                .toArray();
        double least = min(positive);
        boolean logarithmic = positive.length > 2 && max(positive) / least > WIDE;
        int[] kept = IntStream.range(0, all.length)
                .filter(i -> !logarithmic || all[i] > 0)
                .toArray();
        sheet.text(LEFT, 28, 16, "start", curve.meaning());
        double top = TOP;
        List<String> units = new ArrayList<>();
        for (Curve.Column column : curve.columns().subList(1, curve.columns().size())) {
            if (!units.contains(column.unit().symbol())) {
                units.add(column.unit().symbol());
            }
        }
        for (String unit : units) {
            List<Curve.Column> series = curve
                    .columns()
                    .subList(1, curve.columns().size())
                    .stream()
                    .filter(column -> column.unit().symbol().equals(unit))
                    .toList();
            top = panel(sheet, top, abscissa, kept, logarithmic, series);
        }
        String name = MapSvg.pretty(abscissa.unit());
        sheet.text(
                LEFT + WIDTH / 2, top + 8, 13, "middle", abscissa.name() + (name.isEmpty() ? "" : " (" + name + ")"));
        return top + 24;
    }

    /** Draws a panel and returns where the next one begins. */
    private static double panel(
            Sheet sheet,
            double top,
            Curve.Column abscissa,
            int[] kept,
            boolean logarithmic,
            List<Curve.Column> series) {
        double key = top;
        for (int s = 0; s < series.size(); s++) {
            double[] x = {LEFT, LEFT + 34};
            double[] y = {key + 8, key + 8};
            sheet.polyline(x, y, INKS[s % INKS.length], 1.8, DASHES[s % DASHES.length]);
            String unit = MapSvg.pretty(series.get(s).unit());
            sheet.text(
                    LEFT + 42,
                    key + 12.5,
                    13,
                    "start",
                    series.get(s).name() + (unit.isEmpty() ? "" : " (" + unit + ")"));
            key += KEY;
        }
        double bottom = key + 8 + PANEL;
        double[] xs = IntStream.of(kept)
                .mapToDouble(i -> along(abscissa, i, logarithmic))
                .toArray();
        Range across = Range.of(xs);
        Range up = Range.of(series.stream()
                .flatMapToDouble(column ->
                        IntStream.of(kept).mapToDouble(i -> column.unit().fromSi(column.at(i))))
                .toArray());
        for (double tick : NiceStep.ticks(up.low, up.high, 6)) {
            double y = bottom - up.share(tick) * PANEL;
            sheet.line(LEFT, y, LEFT + WIDTH, y, "#d8d5cd", 0.8);
            sheet.text(LEFT - 8, y + 4.5, 13, "end", MapSvg.label(tick));
        }
        for (double tick : logarithmic ? decades(across) : NiceStep.ticks(across.low, across.high, 9)) {
            double x = LEFT + across.share(tick) * WIDTH;
            sheet.line(x, bottom, x, bottom - PANEL, "#d8d5cd", 0.8);
            sheet.text(x, bottom + 18, 13, "middle", MapSvg.label(logarithmic ? Math.pow(10, tick) : tick));
        }
        sheet.frame(LEFT, bottom - PANEL, WIDTH, PANEL, 1);
        for (int s = 0; s < series.size(); s++) {
            Curve.Column column = series.get(s);
            double[] x = new double[kept.length];
            double[] y = new double[kept.length];
            for (int i = 0; i < kept.length; i++) {
                x[i] = LEFT + across.share(xs[i]) * WIDTH;
                y[i] = bottom - up.share(column.unit().fromSi(column.at(kept[i]))) * PANEL;
            }
            sheet.polyline(x, y, INKS[s % INKS.length], 1.8, DASHES[s % DASHES.length]);
        }
        return bottom + 40;
    }

    private static double along(Curve.Column abscissa, int index, boolean logarithmic) {
        double value = abscissa.unit().fromSi(abscissa.at(index));
        return logarithmic ? Math.log10(value) : value;
    }

    private static List<Double> decades(Range across) {
        List<Double> ticks = new ArrayList<>();
        for (double power = Math.ceil(across.low - 1e-9); power <= across.high + 1e-9; power++) {
            ticks.add(power);
        }
        return ticks;
    }

    private static double[] values(Curve.Column column) {
        return IntStream.range(0, column.length())
                .mapToDouble(i -> column.unit().fromSi(column.at(i)))
                .toArray();
    }

    private static double min(double[] values) {
        return IntStream.range(0, values.length)
                .mapToDouble(i -> values[i])
                .min()
                .orElse(0);
    }

    private static double max(double[] values) {
        return IntStream.range(0, values.length)
                .mapToDouble(i -> values[i])
                .max()
                .orElse(0);
    }

    /** Part of an axis, never empty. */
    private record Range(double low, double high) {
        static Range of(double[] values) {
            double low = min(values);
            double high = max(values);
            if (!(high > low)) {
                double margin = Math.max(Math.abs(low) * 0.05, 1e-12);
                return new Range(low - margin, low + margin);
            }
            return new Range(low, high);
        }

        double share(double value) {
            return (value - low) / (high - low);
        }
    }
}
