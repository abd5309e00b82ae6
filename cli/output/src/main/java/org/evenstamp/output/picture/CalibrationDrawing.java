package org.evenstamp.output.picture;

import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.Locale;
import java.util.stream.DoubleStream;
import org.evenstamp.engine.calibrate.CalibrationResult;
import org.evenstamp.engine.calibrate.ReadingFit;
import org.evenstamp.shared.unit.Unit;

/**
 * Draws how readings and a fitted job agree. On the left what was measured over what the job says, a place a cross with two
 * standard deviations either way; on the diagonal both agree. On the right where the places lie: squares that grow with the
 * difference over the deviation it should have, and the places worth measuring next as crosses.
 */
public final class CalibrationDrawing {
    private static final double LEFT = 90;
    private static final double TOP = 64;
    private static final double SIDE = 420;
    private static final double MAP_LEFT = LEFT + SIDE + 90;
    private static final double MAP_SIDE = 330;
    private static final int ABOVE = 0x0b5566;
    private static final int BELOW = 0xb5651d;
    private static final String AFTER = "#0b5566";
    private static final String BEFORE = "#b9a48c";

    private CalibrationDrawing() {}

    /** Returns the text of an SVG file. */
    public static String svg(CalibrationResult result, Unit unit) {
        Svg sheet = new Svg();
        draw(result, unit, sheet);
        return sheet.file(MAP_LEFT + MAP_SIDE + 30, TOP + SIDE + 60, "readings against the fitted job");
    }

    /** Returns a PNG file. */
    public static byte[] png(CalibrationResult result, Unit unit) {
        PixelSheet sheet = new PixelSheet();
        draw(result, unit, sheet);
        return sheet.file(MAP_LEFT + MAP_SIDE + 30, TOP + SIDE + 60);
    }

    private static void draw(CalibrationResult result, Unit unit, Sheet sheet) {
        List<ReadingFit> places = result.places();
        double[] all = places.stream()
                .flatMapToDouble(place -> DoubleStream.of(
                        place.beforeSi(),
                        place.afterSi(),
                        place.reading().valueSi() - 2 * place.reading().deviationSi(),
                        place.reading().valueSi() + 2 * place.reading().deviationSi()))
                .map(unit::fromSi)
                .toArray();
        double low = DoubleStream.of(all).min().orElse(0);
        double high = DoubleStream.of(all).max().orElse(1);
        double margin = Math.max((high - low) * 0.05, 1e-9);
        Axis axis = new Axis(low - margin, high + margin);
        sheet.text(LEFT, 26, 16, "start", words(result, unit));
        sheet.text(LEFT, 48, 12.5, "start", "brown: before the fit; blue: after it, with two standard deviations");
        for (double tick : NiceStep.ticks(axis.low, axis.high, 7)) {
            double x = LEFT + axis.share(tick) * SIDE;
            double y = TOP + SIDE - axis.share(tick) * SIDE;
            sheet.line(x, TOP, x, TOP + SIDE, "#e4e1da", 0.8);
            sheet.line(LEFT, y, LEFT + SIDE, y, "#e4e1da", 0.8);
            sheet.text(x, TOP + SIDE + 18, 12.5, "middle", MapSvg.label(tick));
            sheet.text(LEFT - 8, y + 4.5, 12.5, "end", MapSvg.label(tick));
        }
        sheet.line(LEFT, TOP + SIDE, LEFT + SIDE, TOP, "#8a8a8a", 1);
        sheet.frame(LEFT, TOP, SIDE, SIDE, 1);
        for (ReadingFit place : places) {
            double measured = unit.fromSi(place.reading().valueSi());
            double spread = 2 * place.reading().deviationSi() / unit.scale();
            cross(sheet, axis, unit.fromSi(place.beforeSi()), measured, BEFORE);
            double x = LEFT + axis.share(unit.fromSi(place.afterSi())) * SIDE;
            sheet.line(
                    x,
                    TOP + SIDE - axis.share(measured - spread) * SIDE,
                    x,
                    TOP + SIDE - axis.share(measured + spread) * SIDE,
                    AFTER,
                    1.2);
            cross(sheet, axis, unit.fromSi(place.afterSi()), measured, AFTER);
        }
        sheet.text(LEFT + SIDE / 2, TOP + SIDE + 42, 13, "middle", "the job says");
        sheet.text(LEFT - 8, TOP - 8, 13, "end", "measured");
        map(result, sheet);
    }

    private static String words(CalibrationResult result, Unit unit) {
        String name =
                (result.places().isEmpty() ? "" : "Readings against the fitted job, " + MapSvg.pretty(unit)).strip();
        return name
                + String.format(
                        Locale.ROOT,
                        ": chi-square %.3g for %d degrees of freedom, probability %.2g",
                        result.chiSquare(),
                        result.freedom(),
                        result.probability());
    }

    /** Draws the places as they lie. */
    private static void map(CalibrationResult result, Sheet sheet) {
        DoubleStream.Builder across = DoubleStream.builder();
        DoubleStream.Builder up = DoubleStream.builder();
        for (ReadingFit place : result.places()) {
            across.add(place.reading().xMetres() * 1e3);
            up.add(place.reading().yMetres() * 1e3);
        }
        for (CalibrationResult.NextPlace place : result.next()) {
            across.add(place.xMetres() * 1e3);
            up.add(place.yMetres() * 1e3);
        }
        DoubleSummaryStatistics x = across.build().summaryStatistics();
        DoubleSummaryStatistics y = up.build().summaryStatistics();
        double size = Math.max(Math.max(x.getMax() - x.getMin(), y.getMax() - y.getMin()) * 1.12, 1e-6);
        Axis columns = new Axis((x.getMin() + x.getMax() - size) / 2, (x.getMin() + x.getMax() + size) / 2);
        Axis rows = new Axis((y.getMin() + y.getMax() - size) / 2, (y.getMin() + y.getMax() + size) / 2);
        for (double tick : NiceStep.ticks(columns.low, columns.high, 6)) {
            sheet.text(
                    MAP_LEFT + columns.share(tick) * MAP_SIDE, TOP + MAP_SIDE + 18, 12.5, "middle", MapSvg.label(tick));
        }
        for (double tick : NiceStep.ticks(rows.low, rows.high, 6)) {
            sheet.text(MAP_LEFT - 8, TOP + (1 - rows.share(tick)) * MAP_SIDE + 4.5, 12.5, "end", MapSvg.label(tick));
        }
        sheet.text(MAP_LEFT + MAP_SIDE / 2, TOP + MAP_SIDE + 38, 13, "middle", "x, mm");
        sheet.text(MAP_LEFT - 8, TOP - 8, 13, "end", "y, mm");
        sheet.frame(MAP_LEFT, TOP, MAP_SIDE, MAP_SIDE, 1);
        for (ReadingFit place : result.places()) {
            double half = 2 + 3 * Math.min(4, Math.abs(place.studentised()));
            sheet.fill(
                    MAP_LEFT + columns.share(place.reading().xMetres() * 1e3) * MAP_SIDE - half,
                    TOP + (1 - rows.share(place.reading().yMetres() * 1e3)) * MAP_SIDE - half,
                    2 * half,
                    2 * half,
                    place.studentised() > 0 ? ABOVE : BELOW);
        }
        for (int i = 0; i < result.next().size(); i++) {
            CalibrationResult.NextPlace place = result.next().get(i);
            double atX = MAP_LEFT + columns.share(place.xMetres() * 1e3) * MAP_SIDE;
            double atY = TOP + (1 - rows.share(place.yMetres() * 1e3)) * MAP_SIDE;
            sheet.line(atX - 6, atY, atX + 6, atY, "#1a1a1a", 2);
            sheet.line(atX, atY - 6, atX, atY + 6, "#1a1a1a", 2);
            sheet.text(atX + 8, atY - 4, 12, "start", Integer.toString(i + 1));
        }
        sheet.text(MAP_LEFT, TOP + MAP_SIDE + 60, 12.5, "start", "squares: difference over its deviation, from");
        sheet.text(MAP_LEFT, TOP + MAP_SIDE + 76, 12.5, "start", "0 to 4 and more; blue where more was measured;");
        sheet.text(MAP_LEFT, TOP + MAP_SIDE + 92, 12.5, "start", "crosses: where to measure next, in this order");
    }

    private static void cross(Sheet sheet, Axis axis, double predicted, double measured, String stroke) {
        double x = LEFT + axis.share(predicted) * SIDE;
        double y = TOP + SIDE - axis.share(measured) * SIDE;
        sheet.line(x - 3.5, y, x + 3.5, y, stroke, 2.4);
        sheet.line(x, y - 3.5, x, y + 3.5, stroke, 2.4);
    }

    private record Axis(double low, double high) {
        double share(double value) {
            return (value - low) / (high - low);
        }
    }
}
