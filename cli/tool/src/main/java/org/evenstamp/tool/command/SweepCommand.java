package org.evenstamp.tool.command;

import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.IntStream;
import org.evenstamp.analysis.statistics.ShareInterval;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.remote.RemoteEngines;
import org.evenstamp.engine.remote.RemotePlace;
import org.evenstamp.engine.result.LimitValue;
import org.evenstamp.engine.sweep.PointRunner;
import org.evenstamp.engine.sweep.ProcessWindow;
import org.evenstamp.engine.sweep.Sweep;
import org.evenstamp.engine.sweep.SweepPlan;
import org.evenstamp.engine.sweep.SweepReader;
import org.evenstamp.engine.sweep.SweepStore;
import org.evenstamp.engine.sweep.SweepSummary;
import org.evenstamp.output.file.SweepFiles;
import org.evenstamp.output.page.SweepResults;
import org.evenstamp.output.text.LimitText;
import org.evenstamp.output.text.TextStyle;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.tool.exit.ExitCode;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code sweep JOB}: many runs of a job that differ in a few values, and what they mean together. */
@Command(
        name = "sweep",
        description = {
            "Runs a job many times with the values that its section sweep varies, and says how often its limits hold, which"
                    + " value matters, and for a grid of two keys where the process window lies.",
            "Every run is kept in the directory: a sweep that was stopped goes on where it was, and one with more samples adds"
                    + " only those that are new. Without --out the directory is <job name>-sweep beside the job.",
            "With --engine a cluster runs them, such as flink://HOST:8081, and keeps them in --store until they are fetched; needs"
                    + " the archive for clusters.",
            "With --window it looks instead for the lowest and the highest value of one key between which all limits hold, and says"
                    + " which limit closes each end: the slowest and the fastest web of a roller. It needs no section sweep and writes nothing."
        },
        footerHeading = "%nExamples:%n",
        footer = {
            "  evenstamp sweep first/job.yaml",
            "  evenstamp sweep first/job.yaml --out trial --threads 2 --json",
            "  evenstamp sweep first/job.yaml --window process.pressure"
        })
final class SweepCommand implements Callable<Integer> {
    private final ToolContext context;

    @Parameters(paramLabel = "JOB", description = "The job file, YAML or JSON, with a section sweep.")
    @Nullable
    Path file;

    @Option(names = "--out", paramLabel = "DIR", description = "Directory in which the runs are kept.")
    @Nullable
    Path out;

    @Option(
            names = "--threads",
            paramLabel = "N",
            converter = CommonOptions.Count.class,
            description =
                    "How many runs are computed at a time, all processors by default. Does not change the results.")
    @Nullable
    Integer threads;

    @Option(
            names = "--window",
            paramLabel = "KEY",
            description =
                    "Look for the values of this key, a number above 0, between which all limits hold, such as process.web-speed:"
                            + " doubled and halved up to six times from the job's own, each end to 5 %%.")
    @Nullable
    String window;

    @Option(names = "--json", description = "Print JSON instead of the summary: sweep.json.")
    boolean json;

    @Option(names = "--quiet", description = "Print nothing but problems.")
    boolean quiet;

    @Mixin
    CommonOptions.Plugins plugins = new CommonOptions.Plugins();

    @Mixin
    EngineOptions engine = new EngineOptions();

    SweepCommand(ToolContext context) {
        this.context = context;
    }

    @Override
    public Integer call() {
        Path jobFile = Objects.requireNonNull(file);
        engine.place(1, plugins.directories); // told before anything is done when only half of it was given
        Job job = Job.read(jobFile, context.pipeline(plugins.directories));
        if (window != null) {
            return new WindowAnswer(context, job, window).tell(CommonOptions.run(threads), json, quiet);
        }
        SweepPlan plan = SweepReader.read(job);
        Path directory = out == null ? jobFile.resolveSibling(job.name() + "-sweep") : out;
        String identity = SweepResults.identity(plan, context.progress());
        SweepPlan ran;
        SweepSummary summary;
        try (SweepStore store = SweepStore.open(directory, identity)) {
            ran = context.watched(!quiet, () -> run(plan, store, identity));
            summary = SweepSummary.of(ran, store.points());
            SweepResults.write(ran, store, summary, directory, context.progress());
        } catch (UncheckedIOException e) {
            throw new InputException(
                    "sweep.unwritable",
                    directory.toString(),
                    "cannot be written: " + Objects.requireNonNull(e.getCause()).getMessage(),
                    "make room or get the right to write there; points that are kept are not run again");
        }
        if (!quiet) {
            PrintWriter console = context.console().out();
            if (json) {
                console.print(SweepFiles.summary(ran, summary));
            } else {
                tell(ran, summary, directory);
                if (ran.size() < plan.size()) {
                    console.println("enough after " + ran.size() + " of " + plan.size() + " samples: the interval is "
                            + percent(summary.broken()
                                    .map(one -> one.most() - one.least())
                                    .orElse(1.0)) + " wide");
                }
            }
            console.flush();
        }
        return summary.holds() ? ExitCode.WITHIN_LIMITS : ExitCode.LIMIT_EXCEEDED;
    }

    private SweepPlan run(SweepPlan plan, SweepStore store, String identity) {
        int at = CommonOptions.run(threads).threads();
        Optional<RemotePlace> elsewhere = engine.place(at, plugins.directories);
        if (elsewhere.isEmpty()) {
            return Sweep.run(plan, store, at, context.progress());
        }
        RemotePlace place = elsewhere.get();
        try (PointRunner runner = RemoteEngines.of(place).points(place, plan, identity, context.progress())) {
            return Sweep.run(plan, store, runner, context.progress());
        }
    }

    private void tell(SweepPlan plan, SweepSummary summary, Path directory) {
        PrintWriter console = context.console().out();
        int finished = summary.points().size() - summary.failed();
        console.println(
                context.console().in(TextStyle.STRONG, "sweep of " + plan.job().name()) + "  "
                        + plan.design().word() + ", " + String.join(", ", plan.keys()));
        boolean grid = plan.design() == SweepPlan.Design.GRID;
        summary.broken().ifPresent(broken -> {
            ShareInterval holds = new ShareInterval(1 - broken.share(), 1 - broken.most(), 1 - broken.least());
            TextStyle style = summary.holds() ? TextStyle.GOOD : TextStyle.BAD;
            console.println(context.console().in(style, grid ? "within limits" : "holds")
                    + " in " + percent(holds.share())
                    + (grid
                            ? " of the " + finished + " runs"
                            : " (" + span(holds) + ", 95 % interval) of "
                                    + summary.convergence()
                                            .get(summary.convergence().size() - 1)
                                            .points()
                                    + " samples"));
        });
        summary.demands().stream()
                .filter(demand ->
                        demand.allowed() > 0 && !(grid && demand.limit().isEmpty()))
                .forEach(demand -> demand(console, plan, demand));
        if (summary.failed() > 0) {
            console.println(summary.failed() + " runs could not be computed, such as point "
                    + summary.points().stream()
                            .filter(point -> !point.finished())
                            .findFirst()
                            .map(point -> point.index() + ": " + point.failure())
                            .orElse(""));
        }
        console.println();
        for (SweepSummary.OneLimit one : summary.limits()) {
            limit(console, plan, one);
        }
        ProcessWindow.of(plan, summary.points()).forEach(window -> window(console, plan, window));
        console.println("points: " + directory.resolve(SweepResults.POINTS));
        console.println("page: " + directory.resolve(SweepResults.PAGE));
    }

    private void demand(PrintWriter console, SweepPlan plan, SweepSummary.Demand demand) {
        console.println("    " + SweepFiles.of(plan, demand) + ": out in "
                + percent(demand.found().share()) + " ("
                + span(demand.found()) + "), allowed " + percent(demand.allowed()) + ": "
                + (demand.holds()
                        ? context.console().in(TextStyle.GOOD, "kept")
                        : context.console().in(TextStyle.BAD, "not kept"))
                + (demand.decided()
                        ? ""
                        : context.console().in(TextStyle.CARE, ", but more samples may say otherwise")));
    }

    private static String span(ShareInterval share) {
        return String.format(Locale.ROOT, "%.1f to %.1f", 100 * share.least(), 100 * share.most());
    }

    private static void limit(PrintWriter console, SweepPlan plan, SweepSummary.OneLimit one) {
        Unit unit = plan.job().fieldName(one.limit().fieldId()).unit();
        console.println(LimitText.of(one.limit(), unit) + "  out in "
                + percent(one.broken().share())
                + (plan.design() == SweepPlan.Design.GRID ? "" : " (" + span(one.broken()) + ")")
                + "; 5 %, 50 %, 95 %: " + shown(one, unit, one.low()) + ", " + shown(one, unit, one.median()) + ", "
                + shown(one, unit, one.high()) + " " + unit.symbol());
        one.weights().ifPresent(weights -> {
            StringBuilder line = new StringBuilder("    weights");
            for (int k : order(weights)) {
                line.append(String.format(Locale.ROOT, "  %s %+.2f", plan.keys().get(k), weights.get(k)));
            }
            console.println(line);
        });
        one.indices().ifPresent(indices -> {
            for (int k = 0; k < plan.keys().size(); k++) {
                console.println(String.format(
                        Locale.ROOT,
                        "    %-28s first %.2f (%.2f to %.2f)  total %.2f (%.2f to %.2f)",
                        plan.keys().get(k),
                        indices.first().get(k).value(),
                        indices.first().get(k).least(),
                        indices.first().get(k).most(),
                        indices.total().get(k).value(),
                        indices.total().get(k).least(),
                        indices.total().get(k).most()));
            }
        });
    }

    private static List<Integer> order(List<Double> weights) {
        return IntStream.range(0, weights.size())
                .boxed()
                .sorted((a, b) -> Double.compare(Math.abs(weights.get(b)), Math.abs(weights.get(a))))
                .toList();
    }

    private static void window(PrintWriter console, SweepPlan plan, ProcessWindow window) {
        List<String> limits = SweepFiles.limits(plan);
        String across = window.across().key();
        String up = window.up().key();
        String[] sides = {"low " + across, "high " + across, "low " + up, "high " + up};
        console.println();
        String name = "process window" + (window.slice().isEmpty() ? "" : ", " + window.slice());
        if (window.openShare() == 0) {
            console.println(name + ": none, in every run a limit is exceeded");
            return;
        }
        console.println(name + ": all limits hold in " + percent(window.openShare()) + " of the grid");
        for (int side = 0; side < sides.length; side++) {
            List<Integer> closing = window.closing().get(side);
            console.println("    " + sides[side] + ": "
                    + (closing.isEmpty() ? "open to the rim" : "closed by " + limits.get(closing.get(0))));
        }
        for (ProcessWindow.Drift drift : window.drifts()) {
            console.println("    the present " + drift.key() + " may " + (drift.upwards() ? "rise" : "fall")
                    + (drift.open() ? " beyond " : " to ") + drift.to());
        }
    }

    private static String shown(SweepSummary.OneLimit one, Unit unit, double si) {
        return String.format(Locale.ROOT, "%.4g", LimitValue.shown(one.limit(), unit, si));
    }

    private static String percent(double share) {
        return String.format(Locale.ROOT, "%.1f %%", 100 * share);
    }
}
