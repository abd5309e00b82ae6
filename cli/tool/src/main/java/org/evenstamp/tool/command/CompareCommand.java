package org.evenstamp.tool.command;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.evenstamp.engine.calibrate.ReadingsFile;
import org.evenstamp.engine.job.CalibrationChoice;
import org.evenstamp.output.compare.DifferenceJson;
import org.evenstamp.output.compare.DifferenceText;
import org.evenstamp.output.compare.ReadingAgreement;
import org.evenstamp.output.compare.RunDifference;
import org.evenstamp.output.compare.StoredRun;
import org.evenstamp.output.compare.Tolerance;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.unit.UnitException;
import org.evenstamp.tool.exit.ExitCode;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.TypeConversionException;

/** {@code compare A B}: two runs beside each other. */
@Command(
        name = "compare",
        description = {
            "Compares the results of two runs on the same tiles: how every field differs over the tiles, which figures and"
                    + " limits changed, which findings and warnings came, went or changed.",
            "Numbers are the same when they differ by no more than --absolute, or by no more than --relative times the largest"
                    + " magnitude of their field; without either, when they are equal. Exit code 0: the same, 1: different,"
                    + " 3: a run that cannot be used."
        },
        footerHeading = "%nExamples:%n",
        footer = {
            "  evenstamp compare first/job-results trial --relative 1e-6 --absolute \"0.1 nm\"",
            "  evenstamp compare first/job-results trial --absolute \"fill.time=0.5 s\" --json"
        })
final class CompareCommand implements Callable<Integer> {
    private final ToolContext context;

    @Parameters(index = "0", paramLabel = "A", description = "Results directory of the first run, or its result.json.")
    @Nullable
    Path first;

    @Parameters(
            index = "1",
            paramLabel = "B",
            description =
                    "Results directory of the second run, or its result.json; or a table of measured places, as calibrate"
                            + " takes it: then bias, spread and worst places are told.")
    @Nullable
    Path second;

    @Option(
            names = "--absolute",
            paramLabel = "[FIELD=]SIZE",
            converter = AbsoluteText.class,
            description = "Difference that does not count, such as \"0.1 nm\" for everything that is a length, or"
                    + " \"residual.final=0.1 nm\" for one field, or \"film:mass.error=1e-12 1\" for one figure; may be given several"
                    + " times.")
    List<Tolerance.Absolute> absolute = new ArrayList<>();

    @Option(
            names = "--relative",
            paramLabel = "[FIELD=]SHARE",
            converter = RelativeText.class,
            description = "Share that does not count, such as 1e-6 or \"0.1 %%\" for everything, or"
                    + " fill.time=1e-3 for one field; may be given several times.")
    List<Tolerance.Relative> relative = new ArrayList<>();

    @Option(names = "--json", description = "Print the difference as JSON instead.")
    boolean json;

    @Option(names = "--quiet", description = "Print nothing but problems; the exit code tells.")
    boolean quiet;

    CompareCommand(ToolContext context) {
        this.context = context;
    }

    @Override
    public Integer call() {
        Problems problems = new Problems();
        StoredRun a = StoredRun.read(Objects.requireNonNull(first), problems);
        if (isTable(Objects.requireNonNull(second))) {
            return agreement(a, second, problems);
        }
        StoredRun b = StoredRun.read(second, problems);
        if (a == null || b == null) {
            throw new InputException(problems.all());
        }
        RunDifference difference = RunDifference.of(a, b, new Tolerance(absolute, relative), context.progress());
        if (!quiet) {
            context.console()
                    .out()
                    .print(
                            json
                                    ? DifferenceJson.write(difference)
                                    : DifferenceText.of(
                                            difference, context.console().colour()));
            context.console().out().flush();
        }
        return difference.same() ? ExitCode.WITHIN_LIMITS : ExitCode.DIFFERENT;
    }

    private static boolean isTable(Path path) {
        String name = String.valueOf(path.getFileName()).toLowerCase(Locale.ROOT);
        return name.endsWith(".csv") || name.endsWith(".tsv") || name.endsWith(".txt");
    }

    private int agreement(@Nullable StoredRun run, Path table, Problems problems) {
        problems.throwIfAny();
        double deviation = CalibrationChoice.DEVIATION
                .unit()
                .toSi(CalibrationChoice.DEVIATION.standard().orElseThrow());
        ReadingAgreement found = ReadingAgreement.of(Objects.requireNonNull(run), ReadingsFile.read(table, deviation));
        if (!quiet) {
            context.console().out().print(json ? found.json() : found.text());
            context.console().out().flush();
        }
        return ExitCode.WITHIN_LIMITS;
    }

    /** Reads an absolute tolerance. */
    static final class AbsoluteText implements ITypeConverter<Tolerance.Absolute> {
        @Override
        public Tolerance.Absolute convert(String text) {
            try {
                return Tolerance.Absolute.parse(text);
            } catch (UnitException e) {
                throw new TypeConversionException(e.getMessage());
            }
        }
    }

    /** Reads a relative tolerance. */
    static final class RelativeText implements ITypeConverter<Tolerance.Relative> {
        @Override
        public Tolerance.Relative convert(String text) {
            try {
                return Tolerance.Relative.parse(text);
            } catch (UnitException e) {
                throw new TypeConversionException(e.getMessage());
            }
        }
    }
}
