package org.evenstamp.analysis.film;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.analysis.film.load.PressSchedule;
import org.evenstamp.analysis.film.solve.FillingTime;
import org.evenstamp.analysis.film.solve.FilmAdjoint;
import org.evenstamp.analysis.film.solve.FilmGradient;
import org.evenstamp.analysis.film.solve.FilmSolver;
import org.evenstamp.analysis.film.solve.FilmTape;
import org.evenstamp.analysis.film.solve.SolverInput;
import org.evenstamp.analysis.film.solve.SolverOptions;
import org.evenstamp.analysis.film.stamp.Stamp;
import org.evenstamp.analysis.film.stamp.StampParameters;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.Parameters;
import org.jspecify.annotations.Nullable;

/**
 * The film solve of a job with its way back: how numbers made of the residual layer at the end, and the time of filling, go with
 * everything that went into the solve. The layer is that after drying and curing, as {@code residual.final} tells it.
 *
 * <p>Derivatives hold at the time steps that the solve took; {@link #repeated} takes the same ones for a variant, so that
 * differences can be compared with them.
 */
public final class FilmSensitivity {
    private static final double REDUCTION = 1e-4; // of the linear solves on the way back
    private static final double TIGHT = 1e-8; // Newton's tolerance where differences are taken

    /**
     * What a solve is made of.
     *
     * @param parameters of the job
     * @param fields the fields that the film solve needs, and those it uses
     */
    public record Variant(Parameters parameters, FieldSet fields) {}

    /** A variant as the solver takes it. */
    private record Solve(Variant variant, Stamp stamp, PressSchedule schedule, FilmMaps maps, SolverInput input) {
        double keeping() {
            return schedule.keeping();
        }
    }

    private final int threads;
    private final Progress progress;
    private final Solve base;
    private final FilmTape tape;
    private final double[] gap;
    private @Nullable FilmGradient ofFilling;

    private FilmSensitivity(Variant variant, boolean wayBack, int threads, Progress progress) {
        this.threads = threads;
        this.progress = progress;
        base = read(variant, null);
        Problems problems = new Problems();
        FilmAdjoint.refusal(base.input)
                .ifPresent(reason -> problems.add(
                        "sensitivity.no-way-back",
                        "",
                        "sensitivities of this job are not known: " + reason,
                        "leave it out for this question, or vary it with the verb sweep"));
        problems.throwIfAny();
        tape = new FilmTape();
        try (ThreadTeam team = team();
                Stage stage = progress.stage("film", 0, "iterations")) {
            FilmSolver solver = new FilmSolver(base.input, options(), team);
            (wayBack ? solver.recordOn(tape) : solver.recordLast(tape)).run(new double[0], state -> {}, stage);
        }
        gap = tape.lastResidual();
    }

    /**
     * Solves a job and keeps the steps.
     *
     * @throws InputException when the way back of the job is not known, with the reason
     */
    public static FilmSensitivity solve(Variant variant, int threads, Progress progress) {
        return new FilmSensitivity(variant, true, threads, progress);
    }

    /** Returns the residual layer of each tile at the end, in m, and keeps no steps; for jobs whose way back is known. */
    public static double[] residual(Variant variant, int threads, Progress progress) {
        return new FilmSensitivity(variant, false, threads, progress).residual();
    }

    private ThreadTeam team() {
        return ThreadTeam.forValues(gridOf(base.variant).size(), threads);
    }

    private static TileGrid gridOf(Variant variant) {
        return variant.fields.grid();
    }

    private SolverOptions options() {
        return SolverOptions.STANDARD.withTimeTolerance(
                base.variant.parameters.quantity(FilmSolveParameters.STEP_ERROR.id()));
    }

    private Solve read(Variant variant, @Nullable Solve like) {
        AnalysisContext context = new AnalysisContext(gridOf(variant), variant.fields, threads, progress);
        Stamp stamp = StampParameters.stamp(variant.parameters);
        PressSchedule schedule = PressSchedule.of(variant.parameters).over(context.fields());
        FilmMaps maps = FilmMaps.of(variant.parameters, schedule.swelling(), context);
        SolverInputReader reader =
                new SolverInputReader(variant.parameters, stamp, schedule, maps, context, new FilmWarnings(maps));
        if (like != null && like.stamp.equals(stamp) && like.variant.fields == variant.fields) {
            reader = reader.saggingAs(like.input);
        }
        return new Solve(variant, stamp, schedule, maps, reader.input());
    }

    /** Returns the residual layer of each tile at the end, in m. */
    public double[] residual() {
        return Arrays.stream(gap).map(h -> h * base.keeping()).toArray();
    }

    /** Returns how many tiles have cavities that are not full at the end. */
    public int unfilledTiles() {
        boolean[] full = tape.lastFull();
        int count = 0;
        for (int i = 0; i < full.length; i++) {
            count += base.maps.volume[i] > 0 && !full[i] ? 1 : 0;
        }
        return count;
    }

    /** Returns the number of time steps. */
    public int steps() {
        return tape.length();
    }

    /** Returns how many bytes the steps take that are kept. */
    public long bytes() {
        return tape.bytes();
    }

    /**
     * Goes back.
     *
     * @param variants that differ a little from what was solved, on the same tiles
     */
    public List<LayerSensitivity> back(List<LayerGoal> goals, List<Variant> variants) {
        return back(goals, variants, false);
    }

    /**
     * Goes back from the time of filling too.
     *
     * @return one more than goals; the last tells the time, in s. No more where nothing fills at that time
     */
    public List<LayerSensitivity> backAndFilling(List<LayerGoal> goals, List<Variant> variants) {
        return back(goals, variants, true);
    }

    private List<LayerSensitivity> back(List<LayerGoal> goals, List<Variant> variants, boolean alsoFilling) {
        Optional<FillingTime> filling = alsoFilling ? FillingTime.of(base.input, tape) : Optional.empty();
        double[] layer = residual();
        List<double[]> slopes = new ArrayList<>();
        for (LayerGoal goal : goals) {
            slopes.add(Arrays.stream(goal.slopes(layer))
                    .map(s -> s * base.keeping())
                    .toArray());
        }
        List<Solve> others =
                variants.stream().map(variant -> read(variant, base)).toList();
        List<FilmGradient> gradients;
        try (ThreadTeam team = team();
                Stage stage = progress.stage("film backwards", 0, "iterations")) {
            gradients = new FilmAdjoint(base.input, tape, REDUCTION, team)
                    .back(slopes, filling, others.stream().map(Solve::input).toList(), stage);
        }
        List<LayerSensitivity> found = new ArrayList<>();
        for (int g = 0; g < goals.size(); g++) {
            double[] changes = new double[others.size()];
            double inProportion = 0; // what the goal gains when all that is kept of the layer grows
            for (int i = 0; i < gap.length; i++) {
                inProportion += slopes.get(g)[i] * gap[i];
            }
            for (int k = 0; k < changes.length; k++) {
                changes[k] = gradients.get(g).change(k)
                        + inProportion * (others.get(k).keeping() / base.keeping() - 1);
            }
            found.add(new LayerSensitivity(
                    goals.get(g).value(layer), gradients.get(g), changes, base.schedule.swelling()));
        }
        if (gradients.size() > goals.size()) {
            FilmGradient gradient = gradients.get(goals.size());
            double[] changes = new double[others.size()];
            Arrays.setAll(changes, gradient::change);
            ofFilling = gradient;
            found.add(
                    new LayerSensitivity(filling.orElseThrow().seconds(), gradient, changes, base.schedule.swelling()));
        }
        return found;
    }

    /** Returns the share of the cavities' volume that the time of filling counts to, just below 0.9; empty when there is none. */
    public OptionalDouble filledShare() {
        return FillingTime.of(base.input, tape).stream()
                .mapToDouble(FillingTime::share)
                .findFirst();
    }

    /**
     * A variant after the same time steps.
     *
     * @param residualMetres the residual layer of each tile at the end
     * @param seconds the time of filling, to first order from what is filled at the same step; empty before {@link #backAndFilling}
     */
    @SuppressWarnings("ArrayRecordComponent") // large, and read alone
    public record Repeated(double[] residualMetres, OptionalDouble seconds) {}

    /** Solves a variant with the same time steps; nothing where one of them does not converge. */
    public Optional<Repeated> repeated(Variant variant) {
        Solve other = read(variant, base);
        double[] steps = FilmAdjoint.stepsOf(base.input, tape, other.input);
        // Thin liquids do not always agree with a stiff stamp to the last digits: then as a run does.
        for (SolverOptions how : List.of(options().withNewtonTolerance(TIGHT), options())) {
            FilmTape again = new FilmTape();
            try (ThreadTeam team = team();
                    Stage stage = progress.stage("film again", 0, "iterations")) {
                if (new FilmSolver(other.input, how, team).recordLast(again).repeat(steps, stage)) {
                    double[] layer = Arrays.stream(again.lastResidual())
                            .map(h -> h * other.keeping())
                            .toArray();
                    return Optional.of(new Repeated(layer, seconds(other, again, steps)));
                }
            }
        }
        return Optional.empty();
    }

    private OptionalDouble seconds(Solve other, FilmTape again, double[] steps) {
        FilmGradient gradient = ofFilling;
        return gradient == null
                ? OptionalDouble.empty()
                : OptionalDouble.of(
                        FillingTime.of(base.input, tape).orElseThrow().secondsOf(other.input, again, steps, gradient));
    }
}
