package org.evenstamp.output.file;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.evenstamp.engine.calibrate.CalibrationResult;
import org.evenstamp.engine.calibrate.FreeKey;
import org.evenstamp.engine.calibrate.ReadingFit;
import org.evenstamp.engine.job.JobNode;
import org.evenstamp.shared.unit.Unit;
import org.jspecify.annotations.Nullable;

/** Writes what a fit to readings found: {@code calibration.json}, {@code places.csv}, and lines for the job. */
public final class CalibrationFiles {
    /** Keys of a job that name files. */
    private static final List<String> FILES =
            List.of("layout.file", "film.materials", "film.thickness-map", "film.drop-map", "process.lamp-map");

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
                    .number("model_error", result.modelErrorSi() / unit.scale())
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
            text.append("    - {key: ").append(value.key().key());
            spread(value)
                    .forEach((name, number) -> text.append(", ")
                            .append(name)
                            .append(": ")
                            .append(name.equals("factor") ? number : "\"" + number + "\""));
            text.append("}\n");
        }
        return text.toString().replace(System.lineSeparator(), "\n");
    }

    /**
     * Returns the job with the fitted values, as a job file in JSON, whose section {@code sweep} has their spreads: ready for a run
     * and for a sweep.
     *
     * @param directory where it will lie; the files that it names are named from there
     */
    public static String job(CalibrationResult result, Path directory) {
        JobNode.Mapping job = result.job().content().withoutMarks().without("output");
        Path from =
                result.job().inputs().get(0).file().toAbsolutePath().normalize().getParent();
        Path to = directory.toAbsolutePath().normalize();
        for (String key : FILES) {
            job = moved(job, key.substring(0, key.indexOf('.')), key.substring(key.indexOf('.') + 1), from, to);
        }
        List<JobNode> rows = new ArrayList<>();
        for (CalibrationResult.Value value : result.values()) {
            Map<String, JobNode.Entry> row = new LinkedHashMap<>();
            row.put("key", entry(text(value.key().key())));
            spread(value).forEach((name, number) -> row.put(name, entry(text(number))));
            rows.add(new JobNode.Mapping(JobNode.Mark.NOWHERE, row));
        }
        Map<String, JobNode.Entry> sweep = new LinkedHashMap<>();
        sweep.put("vary", entry(new JobNode.Sequence(JobNode.Mark.NOWHERE, rows)));
        JobNode.Mapping whole = job.with("sweep", entry(new JobNode.Mapping(JobNode.Mark.NOWHERE, sweep)));
        return JsonText.object(json -> {
            for (Map.Entry<String, JobNode.Entry> section : whole.entries().entrySet()) {
                json.key(section.getKey());
                ResultJson.node(json, section.getValue().value());
            }
        });
    }

    /** Returns the job with a file that it names named from another directory. */
    private static JobNode.Mapping moved(
            JobNode.Mapping job, String section, String key, @Nullable Path from, Path to) {
        JobNode.Entry group = job.entries().get(section);
        if (from == null || group == null || !(group.value() instanceof JobNode.Mapping keys)) {
            return job;
        }
        JobNode.Entry file = keys.entries().get(key);
        if (file == null || !(file.value() instanceof JobNode.Scalar name)) {
            return job;
        }
        String moved =
                to.relativize(from.resolve(name.text()).normalize()).toString().replace('\\', '/');
        return job.with(section, entry(keys.with(key, entry(text(moved)))));
    }

    private static JobNode.Entry entry(JobNode value) {
        return new JobNode.Entry(JobNode.Mark.NOWHERE, value);
    }

    private static JobNode text(String words) {
        return new JobNode.Scalar(JobNode.Mark.NOWHERE, words, JobNode.Scalar.Type.TEXT);
    }

    /** Returns what is known of a fitted value, as a row of a sweep says it. */
    private static Map<String, String> spread(CalibrationResult.Value value) {
        FreeKey key = value.key();
        Map<String, String> spread = new LinkedHashMap<>();
        if (key.logarithmic()) {
            spread.put("median", shown(value));
            spread.put("factor", String.format(Locale.ROOT, "%.4g", Math.max(value.factor(), 1.001)));
        } else {
            spread.put("mean", shown(value));
            spread.put(
                    "deviation",
                    String.format(
                            Locale.ROOT, "%.4g %s", value.error() / key.unit().scale(), difference(key.unit())));
        }
        return spread;
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
