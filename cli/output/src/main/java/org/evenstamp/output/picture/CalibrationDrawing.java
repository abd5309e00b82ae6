package org.evenstamp.output.picture;

import java.util.List;
import java.util.stream.DoubleStream;
import org.evenstamp.engine.calibrate.CalibrationResult;
import org.evenstamp.engine.calibrate.ReadingFit;
import org.evenstamp.shared.unit.Unit;

/**
 * Draws what was measured over what the job says, a place a point with two standard deviations either way: hollow before the fit,
 * full after it. On the diagonal both agree.
 */
public final class CalibrationDrawing {
    private static final double LEFT = 90;
    private static final double TOP = 64;
    private static final double SIDE = 460;
    private static final String AFTER = "#0b5566";
    private static final String BEFORE = "#b9a48c";

    private CalibrationDrawing() {}

    /** Returns the text of an SVG file. */
    public static String svg(CalibrationResult result, Unit unit) {
        Svg sheet = new Svg();
        draw(result, unit, sheet);
        return sheet.file(LEFT + SIDE + 40, TOP + SIDE + 60, "readings against the fitted job");
    }

    /** Returns a PNG file. */
    public static byte[] png(CalibrationResult result, Unit unit) {
        PixelSheet sheet = new PixelSheet();
        draw(result, unit, sheet);
        return sheet.file(LEFT + SIDE + 40, TOP + SIDE + 60);
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
        sheet.text(LEFT, 26, 16, "start", "Readings against the job, " + MapSvg.pretty(unit));
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
