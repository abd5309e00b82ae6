package org.evenstamp.engine.design;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.dummy.DummySearch;
import org.evenstamp.analysis.dummy.DummySearch.Step;
import org.evenstamp.analysis.dummy.FlowWindow;
import org.evenstamp.analysis.dummy.GaussianWindow;
import org.evenstamp.analysis.film.LayerGoal;
import org.evenstamp.analysis.film.stamp.StampParameters;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.engine.job.DummyChoice;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.result.FieldStatistics;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.spi.Parameters;

/**
 * Proposes dummies, in rounds of deciding, placing and solving.
 *
 * <p>The first round takes the averaged cavity volume for the residual layer, the next ones what {@link DummySearch} makes of the
 * solves. Then fewer dummies are solved, so that what they bring is known over their number. Those are proposed behind which more
 * do not pay.
 */
public final class DummyDesign {
    /** The dummies that are proposed. */
    public static final String DUMMIES = "dummies.geojson";

    /** The layout with them. */
    public static final String MERGED = "merged.geojson.gz";

    /** Parts of the best round's dummies that are solved too. */
    private static final double[] FEWER = {0.6, 0.3, 0.1};

    private final Job job;
    private final DummyChoice choice;
    private final FileSink files;
    private final RunOptions options;
    private final Progress progress;

    private DummyDesign(Job job, FileSink files, RunOptions options, Progress progress) {
        this.job = job;
        this.choice = DummyChoice.of(job);
        this.files = files;
        this.options = options;
        this.progress = progress;
    }

    /**
     * Proposes dummies for the stamp of a job, within the rules of its section {@code dummy}.
     *
     * @param files gets {@value #DUMMIES}, and {@value #MERGED} where the layout is one file. The files of a layout in layers stay
     *     as they are; its dummies are one more layer
     * @throws InputException when the job lacks what dummies need
     */
    public static DummyProposal of(Job job, FileSink files, RunOptions options, Progress progress) {
        return new DummyDesign(job, files, options, progress).run();
    }

    private DummyProposal run() {
        if (job.layout().table() != null) {
            throw new InputException(
                    "dummy.table",
                    "layout.table",
                    "a table of tiles does not say where there is room for dummies",
                    "give the drawing as layout.file or layout.layers");
        }
        Results before = Simulation.run(job, options.withSketch(false), progress);
        TileGrid grid = before.fields().grid();
        DummyTrials.residual(before.fields());
        DummyGoal over = DummyGoal.of(choice.over(), before.fields());
        double[] weights = over.weights(grid.size());
        boolean range = choice.goal() == DummyChoice.Goal.RANGE;
        LayerGoal sigma3 = new LayerGoal(LayerGoal.Measure.SIGMA3, weights);
        LayerGoal goal = range ? new LayerGoal(LayerGoal.Measure.SPREAD, weights) : sigma3;
        DummyFill fill = new DummyFill(job, choice, files, before, DummyFill.Taken.DUMMIES, options, progress);
        double window = windowMetres(job, choice, before);
        DummyTrials trials = new DummyTrials(fill, goal, withoutSlopes(before), options, progress);
        double[] without = DummyTrials.layer(before.fields());
        double start = goal.value(without);

        List<Step<DummyTrials.Trial>> steps;
        int slopes;
        try (ThreadTeam team = ThreadTeam.forValues(grid.size(), options.threads());
                Stage stage = progress.stage("deciding on dummies", 0, "iterations")) {
            boolean periodic = job.settings()
                    .choice(StampParameters.SURROUND.id())
                    .equals(StampParameters.SURROUND.options().get(0));
            DummySearch search = new DummySearch(
                    new GaussianWindow(grid.columns(), grid.rows(), window / grid.pitchMetres(), periodic, team),
                    new DummySearch.Task(goal, weights, fill.least(), fill.most(), choice.prices()),
                    stage);
            double[] volume = before.fields().get(TileFields.CAVITY_VOLUME).toArray();
            steps = new ArrayList<>(search.run(volume, without, choice.rounds(), trials));
            slopes = steps.size();
            List<Step<DummyTrials.Trial>> curve = DummySearch.curve(steps, start);
            if (trials.noSlopes().isEmpty() && choice.rounds() > 1 && !curve.isEmpty()) {
                steps.addAll(search.fewer(curve.get(curve.size() - 1), without, FEWER, trials));
            }
        }
        List<Step<DummyTrials.Trial>> curve = DummySearch.curve(steps, start);
        // Where none helps, the one that hurts least is shown as it is.
        Step<DummyTrials.Trial> kept = curve.isEmpty()
                ? Collections.min(steps, Comparator.comparingDouble(Step::valueMetres))
                : DummySearch.paying(curve, start);
        List<DummyProposal.Round> rounds = new ArrayList<>();
        for (int n = 0; n < steps.size(); n++) {
            DummyProposal.Way way = n == 0
                    ? DummyProposal.Way.AVERAGES
                    : n >= slopes
                            ? DummyProposal.Way.FEWER
                            : trials.noSlopes().isEmpty() ? DummyProposal.Way.SLOPES : DummyProposal.Way.AVERAGES;
            rounds.add(round(n + 1, way, steps.get(n), sigma3, steps.get(n).equals(kept)));
        }
        Results after = last(fill, kept.trial(), before);
        return new DummyProposal(
                before,
                after,
                over.words(),
                window,
                kept.trial().filled().dummies(),
                kept.trial().filled().placedSquareMetres(),
                range ? "largest less smallest" : "3 sigma",
                start,
                rounds,
                curve.stream().map(step -> rounds.get(steps.indexOf(step))).toList(),
                trials.noSlopes(),
                kept.trial().filled().warnings());
    }

    private String withoutSlopes(Results before) {
        if (choice.amounts() == DummyChoice.Amounts.WINDOW) {
            return "dummy.amounts is window";
        }
        return before.fields().find(ImprintFields.RESIDUAL_FINAL.id()).isPresent()
                ? ""
                : "the film of this job is not solved";
    }

    /** Writes the dummies that are kept, and runs the job on the layout with them as it was written. */
    private Results last(DummyFill fill, DummyTrials.Trial kept, Results before) {
        DummyFill.Filled filled = fill.again(kept.filled());
        Results results = Simulation.run(filled.job(), options.withHashes(false), progress)
                .with(before.provenance());
        return results.with(fill.provenance(options.hashing()));
    }

    private static DummyProposal.Round round(
            int number, DummyProposal.Way way, Step<DummyTrials.Trial> step, LayerGoal sigma3, boolean kept) {
        DummyFill.Filled filled = step.trial().filled();
        return new DummyProposal.Round(
                number,
                way,
                step.program(),
                filled.dummies(),
                filled.askedSquareMetres(),
                filled.placedSquareMetres(),
                sigma3.value(step.trial().layer()),
                step.valueMetres(),
                kept);
    }

    /** Returns the length over which film and stamp of a job even out. */
    static double windowMetres(Job job, DummyChoice choice, Results before) {
        if (choice.windowMetres().isPresent()) {
            return choice.windowMetres().getAsDouble();
        }
        Parameters settings = job.settings();
        OptionalDouble viscosity = settings.find(CommonParameters.FILM_VISCOSITY.id());
        OptionalDouble hold = settings.find(CommonParameters.HOLD.id());
        if (viscosity.isEmpty() || hold.isEmpty()) {
            throw new InputException(
                    "dummy.window",
                    "dummy.window",
                    "cannot be found without " + CommonParameters.FILM_VISCOSITY.id() + " and "
                            + CommonParameters.HOLD.id(),
                    "set them, or dummy.window itself");
        }
        Field residual = DummyTrials.residual(before.fields());
        double gap = residual.name().unit().toSi(FieldStatistics.of(residual).mean());
        TileGrid grid = before.fields().grid();
        double longest = Math.max(grid.columns(), grid.rows()) * grid.pitchMetres() / 4;
        return gap > 0
                ? FlowWindow.lengthMetres(
                        StampParameters.stamp(settings), gap, viscosity.getAsDouble(), hold.getAsDouble(), longest)
                : 0;
    }
}
