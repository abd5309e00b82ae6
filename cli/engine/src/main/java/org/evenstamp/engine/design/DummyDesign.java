package org.evenstamp.engine.design;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.OptionalDouble;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.dummy.DummyPlan;
import org.evenstamp.analysis.dummy.DummyTask;
import org.evenstamp.analysis.dummy.FlowWindow;
import org.evenstamp.analysis.dummy.GaussianWindow;
import org.evenstamp.analysis.dummy.ProgramReport;
import org.evenstamp.analysis.dummy.RangeProgram;
import org.evenstamp.analysis.dummy.VarianceProgram;
import org.evenstamp.analysis.film.stamp.StampParameters;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.engine.job.DummyChoice;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.LayerChoice;
import org.evenstamp.engine.job.LayoutChoice;
import org.evenstamp.engine.result.FieldStatistics;
import org.evenstamp.engine.result.ResidualLayer;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.FileHash;
import org.evenstamp.engine.run.OpenLayout;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.geometry.dummy.DummyFiles;
import org.evenstamp.geometry.dummy.DummyPlacer;
import org.evenstamp.geometry.dummy.FreeSites;
import org.evenstamp.geometry.dummy.Placement;
import org.evenstamp.geometry.read.LayeredLayout;
import org.evenstamp.geometry.read.LayoutFile;
import org.evenstamp.geometry.read.ReadOptions;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.spi.Parameters;
import org.jspecify.annotations.Nullable;

/**
 * Proposes dummies, in rounds of deciding, placing and solving.
 *
 * <p>The averaged cavity volume only stands in for the residual layer. So after each round the program starts from what the
 * solver found instead: the averages are set to what they must have been for the residual layer that came out. The rounds end
 * when the spread of the residual layer no longer falls by {@value #LEAST_GAIN} of itself; the best round is kept.
 */
public final class DummyDesign {
    /** The dummies of the best round. */
    public static final String DUMMIES = "dummies.geojson";

    /** The layout with them. */
    public static final String MERGED = "merged.geojson.gz";

    private static final double LEAST_GAIN = 0.01;
    private static final double VARIANCE_GAP = 1e-5;
    private static final double RANGE_GAP = 1e-3;
    private static final int BUDGET = 5000;
    private static final double RANGE_PRICE = 0.01;

    private final Job job;
    private final DummyChoice choice;
    private final FileSink files;
    private final RunOptions options;
    private final Progress progress;
    /** The file that the dummies were read from again. */
    private @Nullable Path read;

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

    private record Round(Placement placement, Results results, double sigma3) {}

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
        residual(before);
        DummyGoal goal = DummyGoal.of(choice.over(), before.fields());
        double start = goal.sigma3Metres(before.fields());
        OpenLayout opened = OpenLayout.open(job.layout());
        LayeredLayout layout = opened.source();
        DummyPlacer placer = new DummyPlacer(
                choice.rules(), job.layout().drawn(), before.map().outline(), grid);
        FreeSites sites = placer.surveyForSome(opened.onStamp(before.map().dies()), options.threads(), progress);
        double window = windowMetres(before);
        List<DummyProposal.Round> rounds = new ArrayList<>();
        Round best = null;
        boolean bestIsLast = false;
        try (ThreadTeam team = ThreadTeam.forValues(grid.size(), options.threads())) {
            boolean periodic = job.settings()
                    .choice(StampParameters.SURROUND.id())
                    .equals(StampParameters.SURROUND.options().get(0));
            GaussianWindow average =
                    new GaussianWindow(grid.columns(), grid.rows(), window / grid.pitchMetres(), periodic, team);
            double[] base = new double[grid.size()];
            average.average(volume(before), base);
            for (int n = 1; n <= choice.rounds(); n++) {
                DummyPlan plan = decide(goal, average, base, sites.capacitySquareMetres(), grid);
                Round last = round(goal, before, layout, sites, areas(plan.amounts(), grid));
                rounds.add(report(n, plan.report(), last));
                boolean gained = last.sigma3() < (best == null ? start : best.sigma3()) * (1 - LEAST_GAIN);
                bestIsLast = best == null || last.sigma3() < best.sigma3();
                if (bestIsLast) {
                    best = last;
                }
                if (!gained) {
                    break;
                }
                base = learnt(average, before, last.results());
            }
        }
        Round kept = Objects.requireNonNull(best);
        if (!bestIsLast) {
            write(layout, sites, kept.placement().askedSquareMetres());
        }
        return new DummyProposal(
                before,
                kept.results().with(shown(before.provenance())),
                goal.words(),
                window,
                kept.placement().dummies(),
                sum(kept.placement().placedSquareMetres()),
                rounds,
                kept.placement().warnings());
    }

    /** Returns the record of a run with the file that the dummies are in among those that were read. */
    private Results.Provenance shown(Results.Provenance before) {
        if (!options.hashing()) {
            return before;
        }
        String name = job.layout().isSingle() ? MERGED : DUMMIES;
        List<Results.InputFile> inputs = new ArrayList<>(before.inputs());
        inputs.add(FileHash.start(Objects.requireNonNull(read), name, progress).await());
        return new Results.Provenance(before.toolVersion(), before.name(), before.job(), inputs, before.cautions());
    }

    private static DummyProposal.Round report(int number, ProgramReport program, Round round) {
        return new DummyProposal.Round(
                number,
                program,
                round.placement().dummies(),
                sum(round.placement().askedSquareMetres()),
                sum(round.placement().placedSquareMetres()),
                round.sigma3());
    }

    private DummyPlan decide(DummyGoal goal, GaussianWindow average, double[] base, double[] capacity, TileGrid grid) {
        double[] least = new double[grid.size()];
        double[] most = new double[grid.size()];
        boolean recessed = choice.rules().sense() == MapOptions.Drawn.CAVITIES;
        for (int i = 0; i < capacity.length; i++) {
            double share = Math.min(choice.mostShare(), capacity[i] / grid.tileAreaSquareMetres());
            if (recessed) {
                most[i] = share * depth();
            } else {
                least[i] = -share * depth();
            }
        }
        DummyTask task = goal.weigh(DummyTask.of(average, base, least, most));
        try (Stage stage = progress.stage("deciding on dummies", 0, "iterations")) {
            return choice.goal() == DummyChoice.Goal.VARIANCE
                    ? new VarianceProgram(task, choice.prices()).solve(VARIANCE_GAP, BUDGET, stage)
                    : RangeProgram.range(task, RANGE_PRICE).solve(RANGE_GAP, BUDGET, stage);
        }
    }

    private double depth() {
        return Objects.requireNonNull(job.depthMetres()) * job.depthScale();
    }

    private double[] areas(double[] amounts, TileGrid grid) {
        double[] areas = new double[amounts.length];
        for (int i = 0; i < areas.length; i++) {
            areas[i] = Math.abs(amounts[i]) / depth() * grid.tileAreaSquareMetres();
        }
        return areas;
    }

    private Round round(DummyGoal goal, Results before, LayeredLayout layout, FreeSites sites, double[] asked) {
        Written written = write(layout, sites, asked);
        List<LayerChoice> layers = new ArrayList<>();
        if (job.layout().isSingle()) {
            layers.add(layer(written.merged(), MERGED, written.metresPerUnit()));
        } else {
            layers.addAll(job.layout().layers());
            layers.add(layer(written.dummies(), DUMMIES, null));
        }
        LayoutChoice merged = job.layout().with(layers, before.map().outline());
        Results results = Simulation.run(
                        job.on(merged, before.fields().grid().pitchMetres()), options.withHashes(false), progress)
                .with(before.provenance());
        residual(results);
        return new Round(written.placement(), results, goal.sigma3Metres(results.fields()));
    }

    private static LayerChoice layer(Path file, String name, @Nullable Double metresPerUnit) {
        return new LayerChoice(file, name, null, metresPerUnit, ReadOptions.Assigned.NOTHING, false);
    }

    private record Written(
            Path dummies,
            Path merged,
            Placement placement,
            @Nullable Double metresPerUnit) {}

    /** Writes the dummies; a layout of several files needs no other, as the dummies are one more of them. */
    private Written write(LayeredLayout layout, FreeSites sites, double[] asked) {
        List<Written> written = new ArrayList<>();
        files.add(DUMMIES, file -> {
            Path merged = file.resolveSibling(MERGED);
            DummyFiles both = new DummyFiles(file, merged, job.dummyProperties());
            if (!job.layout().isSingle()) {
                written.add(new Written(file, merged, both.writeAlone(sites, asked, progress), null));
                read = file;
                return;
            }
            LayoutFile own = layout.files().get(0);
            // What was copied as it stands need not say its unit; what was written anew does.
            Double unit = both.keepsAll(own) ? own.metresPerUnit() : null;
            written.add(new Written(file, merged, both.write(own, sites, asked, progress), unit));
            read = merged;
        });
        return written.get(0);
    }

    /** Returns the averages of the stamp without dummies that the solver's residual layer speaks for. */
    private static double[] learnt(GaussianWindow average, Results before, Results after) {
        double[] added = volume(after);
        double[] without = volume(before);
        for (int i = 0; i < added.length; i++) {
            added[i] -= without[i];
        }
        double[] base = new double[added.length];
        average.average(added, base);
        Field residual = residual(after);
        for (int i = 0; i < base.length; i++) {
            base[i] = -residual.at(i) - base[i];
        }
        return base;
    }

    private static double[] volume(Results results) {
        return results.fields().get(TileFields.CAVITY_VOLUME).toArray();
    }

    private static Field residual(Results results) {
        return ResidualLayer.of(results.fields())
                .orElseThrow(() -> new InputException(
                        "dummy.no-residual",
                        "",
                        "no analysis of this job gives a residual layer to even out",
                        "set " + CommonParameters.FILM_THICKNESS.id() + " at least"));
    }

    private double windowMetres(Results before) {
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
        Field residual = residual(before);
        double gap = residual.name().unit().toSi(FieldStatistics.of(residual).mean());
        TileGrid grid = before.fields().grid();
        double longest = Math.max(grid.columns(), grid.rows()) * grid.pitchMetres() / 4;
        return gap > 0
                ? FlowWindow.lengthMetres(
                        StampParameters.stamp(settings), gap, viscosity.getAsDouble(), hold.getAsDouble(), longest)
                : 0;
    }

    private static double sum(double[] values) {
        double sum = 0;
        for (double value : values) {
            sum += value;
        }
        return sum;
    }
}
