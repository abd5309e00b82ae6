package org.evenstamp.tool.command;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import org.evenstamp.engine.calibrate.Calibration;
import org.evenstamp.engine.calibrate.CalibrationResult;
import org.evenstamp.engine.calibrate.FreeKey;
import org.evenstamp.engine.calibrate.FreeKeysReader;
import org.evenstamp.engine.calibrate.ReadingFit;
import org.evenstamp.engine.calibrate.Readings;
import org.evenstamp.engine.calibrate.ReadingsFile;
import org.evenstamp.engine.job.CalibrationChoice;
import org.evenstamp.engine.job.Job;
import org.evenstamp.output.file.CalibrationFiles;
import org.evenstamp.output.file.ResultsDirectory;
import org.evenstamp.output.picture.CalibrationDrawing;
import org.evenstamp.output.text.TextStyle;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.tool.exit.ExitCode;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code calibrate JOB MEASURED}: the values of free keys with which a job agrees best with readings. */
@Command(
        name = "calibrate",
        description = {
            "Finds the values of the keys in the job's section calibrate with which its residual layer agrees best with"
                    + " measured places, and says how sure they are, which places do not fit, what these places cannot tell and"
                    + " where to measure next.",
            "MEASURED is a table with the columns x_mm,y_mm,residual_nm and, if they are known, sigma_nm; with fill instead of"
                    + " residual_nm it holds filled shares, with step_nm heights after the etch."
        },
        footerHeading = "%nExample:%n",
        footer = "  evenstamp calibrate first/job.yaml first/readings.csv --out first/fitted")
final class CalibrateCommand implements Callable<Integer> {
    private final ToolContext context;

    @Parameters(index = "0", paramLabel = "JOB", description = "The job file, with a section calibrate.")
    @Nullable
    Path file;

    @Parameters(index = "1", paramLabel = "MEASURED", description = "The measured places, a CSV file.")
    @Nullable
    Path measured;

    @Option(
            names = "--out",
            paramLabel = "DIR",
            description = "Directory for the tables and the picture; none without.")
    @Nullable
    Path out;

    @Option(
            names = "--replace",
            description = "Let the new results take the place of old ones, once they are complete.")
    boolean replace;

    @Option(
            names = "--threads",
            paramLabel = "N",
            converter = CommonOptions.Count.class,
            description = "Number of threads, all processors by default. Does not change the results.")
    @Nullable
    Integer threads;

    @Option(names = "--json", description = "Print JSON instead of the tables: calibration.json.")
    boolean json;

    @Mixin
    CommonOptions.Plugins plugins = new CommonOptions.Plugins();

    CalibrateCommand(ToolContext context) {
        this.context = context;
    }

    @Override
    public Integer call() {
        Job job = Job.read(Objects.requireNonNull(file), context.pipeline(plugins.directories));
        List<FreeKey> free = FreeKeysReader.read(job);
        Readings readings = ReadingsFile.read(
                Objects.requireNonNull(measured), job.settings().quantity(CalibrationChoice.DEVIATION.id()));
        CalibrationResult found = context.watched(
                true, () -> Calibration.fit(job, readings, free, CommonOptions.run(threads), context.progress()));
        Unit unit = job.fieldName(readings.fieldId()).unit();
        if (out != null) {
            write(found, unit, out);
        }
        PrintWriter console = context.console().out();
        if (json) {
            console.print(CalibrationFiles.json(found, unit));
        } else {
            tell(found, unit);
        }
        console.flush();
        return ExitCode.WITHIN_LIMITS;
    }

    private void write(CalibrationResult found, Unit unit, Path target) {
        try (ResultsDirectory directory = ResultsDirectory.open(target, replace)) {
            context.interruption().cleanUpWith(directory::close);
            directory.add("places.csv", CalibrationFiles.places(found, unit));
            directory.add("fitted.json", CalibrationFiles.job(found, target));
            directory.add("calibration.svg", CalibrationDrawing.svg(found, unit));
            directory.add("calibration.png", to -> Files.write(to, CalibrationDrawing.png(found, unit)));
            // Last, so that it also says that the others are whole.
            directory.add(
                    "calibration.json",
                    to -> Files.write(to, CalibrationFiles.json(found, unit).getBytes(StandardCharsets.UTF_8)));
            directory.publish();
        }
    }

    private void tell(CalibrationResult found, Unit unit) {
        PrintWriter console = context.console().out();
        for (CalibrationResult.Value value : found.values()) {
            FreeKey key = value.key();
            console.println(context.console().in(TextStyle.STRONG, key.key()) + "  " + CalibrationFiles.shown(value)
                    + (key.logarithmic()
                            ? format("  x/÷ %.3g (95 %%)", value.factor())
                            : format(
                                    "  ± %.3g %s (standard error)",
                                    value.error() / key.unit().scale(),
                                    key.unit().symbol()))
                    + format(
                            "  was %.6g %s",
                            key.unit().fromSi(key.startSi()), key.unit().symbol()));
        }
        for (int i = 0; i < found.values().size(); i++) {
            for (int j = 0; j < i; j++) {
                console.println(format(
                        "correlation of %s and %s: %+.2f",
                        found.values().get(j).key().key(),
                        found.values().get(i).key().key(),
                        found.correlation(i, j)));
            }
        }
        String fits = found.probability() < 0.01
                ? context.console().in(TextStyle.BAD, "job and deviations do not explain these readings")
                : "job and deviations explain them";
        console.println(format(
                        "chi-square %.4g for %d degrees of freedom, probability %.3g: ",
                        found.chiSquare(), found.freedom(), found.probability())
                + fits);
        if (found.modelErrorSi() > 0) {
            console.println(context.console().in(TextStyle.CARE, "model error ")
                    + format(
                            "%.3g %s: the job explains the readings no better than that, whatever their own deviations;"
                                    + " it was estimated from them and added to these, so that chi-square says nothing more",
                            found.modelErrorSi() / unit.scale(), unit.symbol()));
        }
        console.println(format(
                "without the reading itself a place is predicted to %.3g %s (rms); %d runs",
                found.leftOutSi() / unit.scale(), unit.symbol(), found.runs()));
        for (CalibrationResult.Untold untold : found.untold()) {
            console.println(context.console().in(TextStyle.CARE, "these places cannot tell ")
                    + untold.parts().entrySet().stream()
                            .map(part -> format("%+.2f %s", part.getValue(), part.getKey()))
                            .collect(Collectors.joining(" "))
                    + format(": %.0f %% of what was unsure before is left", 100 * untold.leftOver()));
        }
        for (ReadingFit place : CalibrationFiles.misfits(found)) {
            console.println(context.console().in(TextStyle.CARE, "does not fit: ")
                    + format(
                            "line %d, x %.4g mm, y %.4g mm: measured %.4g, fitted %.4g %s, %.1f deviations",
                            place.reading().line(),
                            place.reading().xMetres() * 1e3,
                            place.reading().yMetres() * 1e3,
                            unit.fromSi(place.reading().valueSi()),
                            unit.fromSi(place.afterSi()),
                            unit.symbol(),
                            place.studentised()));
        }
        if (!found.next().isEmpty()) {
            console.println("measure next, the most telling place first: "
                    + found.next().stream()
                            .map(place -> format("(%.4g, %.4g) mm", place.xMetres() * 1e3, place.yMetres() * 1e3))
                            .collect(Collectors.joining(", ")));
        }
        console.println();
        console.print(CalibrationFiles.jobLines(found));
    }

    private static String format(String pattern, Object... values) {
        return String.format(Locale.ROOT, pattern, values);
    }
}
