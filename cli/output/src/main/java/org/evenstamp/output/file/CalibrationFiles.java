package org.evenstamp.output.file;

import java.io.IOException;
import java.util.List;
import java.util.Locale;
import org.evenstamp.engine.calibrate.CalibrationResult;
import org.evenstamp.engine.calibrate.FreeKey;
import org.evenstamp.engine.calibrate.ReadingFit;
import org.evenstamp.shared.unit.Unit;

/** Writes what a fit to readings found: {@code calibration.json}, {@code places.csv}, and lines for the job. */
public final class CalibrationFiles {
    private CalibrationFiles() {}

    /** Returns the text of {@code calibration.json}. */
    public static String json(CalibrationResult result, Unit unit) {
        return JsonText.object(json -> {
            json.list("values", list -> {
                for (CalibrationResult.Value value : result.values()) {
                    list.item(item -> value(item, value));
                }
            });
            json.list("correlations", list -> {
                for (int i = 0; i < result.values().size(); i++) {
                    int row = i;
                    list.list(of -> {
                        for (int j = 0; j < result.values().size(); j++) {
                            of.item(result.correlation(row, j));
                        }
                    });
                }
            });
            json.number("chi_square", result.chiSquare())
                    .whole("degrees_of_freedom", result.freedom())
                    .number("probability", result.probability())
                    .number("left_out_rms", result.leftOutSi() / unit.scale())
                    .text("unit", unit.symbol())
                    .whole("runs", result.runs());
            json.list("untold", list -> {
                for (CalibrationResult.Untold untold : result.untold()) {
                    list.item(item -> {
                        item.number("left_over", untold.leftOver());
                        item.group("parts", group -> {
                            for (var part : untold.parts().entrySet()) {
                                group.number(part.getKey(), part.getValue());
                            }
                        });
                    });
                }
            });
            json.list("next_places", list -> {
                for (CalibrationResult.NextPlace place : result.next()) {
                    list.item(item -> {
                        item.number("x_mm", place.xMetres() * 1e3).number("y_mm", place.yMetres() * 1e3);
                        item.list("errors", errors -> {
                            for (int k = 0; k < result.values().size(); k++) {
                                errors.item(place.error(k));
                            }
                        });
                    });
                }
            });
        });
    }

    private static void value(JsonText json, CalibrationResult.Value value) throws IOException {
        FreeKey key = value.key();
        json.text("key", key.key())
                .text("unit", key.unit().symbol())
                .number("start", key.unit().fromSi(key.startSi()))
                .number("value", key.unit().fromSi(value.si()));
        if (key.logarithmic()) {
            json.number("factor_95", value.factor());
        } else {
            json.number("standard_error", value.error() / key.unit().scale());
        }
    }

    /** Returns the text of {@code places.csv}, values in the unit of the field. */
    public static String places(CalibrationResult result, Unit unit) {
        StringBuilder text = new StringBuilder(
                "line,x_mm,y_mm,measured,deviation,before,after,leverage,studentised,left_out_difference\n");
        for (ReadingFit place : result.places()) {
            text.append(String.format(
                    Locale.ROOT,
                    "%d,%.9g,%.9g,%.9g,%.9g,%.9g,%.9g,%.4g,%.4g,%.6g%n",
                    place.reading().line(),
                    place.reading().xMetres() * 1e3,
                    place.reading().yMetres() * 1e3,
                    unit.fromSi(place.reading().valueSi()),
                    place.reading().deviationSi() / unit.scale(),
                    unit.fromSi(place.beforeSi()),
                    unit.fromSi(place.afterSi()),
                    place.leverage(),
                    place.studentised(),
                    place.leftOutSi() / unit.scale()));
        }
        return text.toString().replace(System.lineSeparator(), "\n");
    }

    /** Returns the fitted values as lines of a job, and their spreads as a section {@code sweep}. */
    public static String jobLines(CalibrationResult result) {
        StringBuilder text = new StringBuilder("# Fitted values, to be set in the job:\n");
        for (CalibrationResult.Value value : result.values()) {
            text.append(
                    String.format(Locale.ROOT, "#   %s: \"%s\"%n", value.key().key(), shown(value)));
        }
        text.append("sweep:\n  vary:\n");
        for (CalibrationResult.Value value : result.values()) {
            FreeKey key = value.key();
            text.append(
                    key.logarithmic()
                            ? String.format(
                                    Locale.ROOT,
                                    "    - {key: %s, median: \"%s\", factor: %.4g}%n",
                                    key.key(),
                                    shown(value),
                                    Math.max(value.factor(), 1.000001))
                            : String.format(
                                    Locale.ROOT,
                                    "    - {key: %s, mean: \"%s\", deviation: \"%.4g %s\"}%n",
                                    key.key(),
                                    shown(value),
                                    value.error() / key.unit().scale(),
                                    difference(key.unit())));
        }
        return text.toString().replace(System.lineSeparator(), "\n");
    }

    private static String difference(Unit unit) {
        return unit.offset() == 0 ? unit.symbol() : "K";
    }

    /** Returns a fitted value as a job writes it. */
    public static String shown(CalibrationResult.Value value) {
        Unit unit = value.key().unit();
        return String.format(Locale.ROOT, "%.6g %s", unit.fromSi(value.si()), unit.symbol());
    }

    /** Returns the places that do not fit: beyond three of the deviations they should have, the worst first. */
    public static List<ReadingFit> misfits(CalibrationResult result) {
        return result.places().stream()
                .filter(place -> Math.abs(place.studentised()) > 3)
                .sorted((a, b) -> Double.compare(Math.abs(b.studentised()), Math.abs(a.studentised())))
                .toList();
    }
}
