package org.evenstamp.engine.design;

import java.nio.file.Files;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.function.Supplier;
import org.evenstamp.analysis.dummy.DummyPrices;
import org.evenstamp.analysis.dummy.DummySearch;
import org.evenstamp.analysis.dummy.DummySearch.Step;
import org.evenstamp.analysis.dummy.GaussianWindow;
import org.evenstamp.analysis.film.FilmSensitivity;
import org.evenstamp.analysis.film.LayerGoal;
import org.evenstamp.analysis.film.stamp.StampParameters;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.engine.design.LeverPlan.Kind;
import org.evenstamp.engine.design.LeverPlan.Lever;
import org.evenstamp.engine.job.DummyChoice;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.Attempt;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.engine.sensitivity.FilmVariant;
import org.evenstamp.geometry.dummy.Placement;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;

/**
 * Makes a plan of all levers: dummies, posts in the cavities that the job opens for them, a film that differs from tile to tile,
 * and the depth of the cavities. Each is solved alone; those that are drawn are solved together, the one that brings most first,
 * and the film map on top of them.
 */
public final class LeverDesign {
    /** The posts. */
    public static final String POSTS = "posts.geojson";

    /** The film, a row for each tile. */
    public static final String FILM = "film-map.csv";

    private static final int ALONE = 2; // rounds
    private static final int TOGETHER = 3;
    private static final double[] DEPTHS = {0.1, 0.2}; // a tenth, then a fifth, shallower or deeper
    private static final double SMALL_CURB = 0.001;

    private final Job job;
    private final DummyChoice choice;
    private final FileSink files;
    private final RunOptions options;
    private final Progress progress;
    private final Results before;
    private final TileGrid grid;
    private final LayerGoal goal;
    private final DummyGoal over;
    private final double[] weights;
    private final double[] without;
    private final double start;

    private LeverDesign(Job job, FileSink files, RunOptions options, Progress progress) {
        this.job = job;
        choice = DummyChoice.of(job);
        this.files = files;
        this.options = options;
        this.progress = progress;
        if (job.layout().table() != null) {
            throw new InputException(
                    "dummy.table",
                    "layout.table",
                    "a table of tiles does not say where there is room for dummies",
                    "give the drawing as layout.file or layout.layers");
        }
        before = Simulation.run(job, options.withSketch(false), progress);
        if (before.fields().find(ImprintFields.RESIDUAL_FINAL.id()).isEmpty()) {
            throw new InputException(
                    "dummy.levers",
                    "",
                    "a plan of levers is made of solves, and the film of this job is not solved: "
                            + before.skipped().getOrDefault("film", "its analysis is not there"),
                    "give what the film solve needs");
        }
        grid = before.fields().grid();
        over = DummyGoal.of(choice.over(), before.fields());
        weights = over.weights(grid.size());
        goal = new LayerGoal(
                choice.goal() == DummyChoice.Goal.RANGE ? LayerGoal.Measure.SPREAD : LayerGoal.Measure.SIGMA3, weights);
        without = DummyTrials.layer(before.fields());
        start = goal.value(without);
    }

    /**
     * Makes a plan.
     *
     * @param files gets the dummies, the posts and the film map of the plan
     * @throws InputException when the job lacks what it takes, or its solve has no way back
     */
    public static LeverPlan of(Job job, FileSink files, RunOptions options, Progress progress) {
        return new LeverDesign(job, files, options, progress).run();
    }

    /** A lever that is drawn, with the best solve of it. */
    private record Drawn(DummyFill.Taken taken, DummyFill fill, Step<DummyTrials.Trial> best) {}

    private LeverPlan run() {
        List<Drawn> alone = new ArrayList<>();
        alone.add(drawn(DummyFill.Taken.DUMMIES, ALONE));
        if (choice.posts() != null) {
            alone.add(drawn(DummyFill.Taken.POSTS, ALONE));
        }
        alone.sort(Comparator.comparingDouble((Drawn one) -> one.best.valueMetres()));
        List<Lever> levers = new ArrayList<>();
        List<Lever> told = new ArrayList<>();
        double reached = start;
        Drawn plan = null;
        for (Drawn one : alone) {
            Drawn joined = one;
            if (plan != null) {
                Drawn both = drawn(DummyFill.Taken.BOTH, TOGETHER);
                joined = both.best.valueMetres() < plan.best.valueMetres() ? both : plan;
            }
            double value = joined.best.valueMetres();
            boolean pays = value < reached - DummySearch.LEAST_GAIN * start;
            Lever lever = new Lever(
                    one.taken == DummyFill.Taken.POSTS ? "posts" : "dummies",
                    words(
                            one.taken == DummyFill.Taken.POSTS,
                            one.best.trial().filled().dummies(),
                            one.best.trial().filled().placedSquareMetres()),
                    pays ? Kind.DRAWN : Kind.TOLD,
                    pays ? (one.taken == DummyFill.Taken.POSTS ? POSTS : DummyDesign.DUMMIES) : "",
                    one.best.valueMetres(),
                    pays ? OptionalDouble.of(value) : OptionalDouble.empty());
            (pays ? levers : told).add(lever);
            if (pays) {
                plan = joined;
                reached = value;
            }
        }
        FieldSet tiles = plan == null ? measured() : plan.best.trial().tiles();
        double[] layer = plan == null ? without : plan.best.trial().layer();
        List<Step<FilmTrials.Trial>> films = films(
                plan == null
                        ? List.of(() -> film(measured(), without))
                        : List.of(() -> film(measured(), without), () -> film(tiles, layer)));
        Step<FilmTrials.Trial> filmAlone = films.get(0);
        Step<FilmTrials.Trial> filmToo = films.get(films.size() - 1);
        boolean filmPays = filmToo.valueMetres() < reached - DummySearch.LEAST_GAIN * start;
        if (filmPays) {
            write(filmToo.trial().coated());
        }
        (filmPays ? levers : told)
                .add(new Lever(
                        "film map",
                        String.format(
                                Locale.ROOT,
                                "film from tile to tile, at most %.3g %% thinner or thicker",
                                100 * choice.filmRange()),
                        filmPays ? Kind.FILM : Kind.TOLD,
                        filmPays ? FILM : "",
                        filmAlone.valueMetres(),
                        filmPays ? OptionalDouble.of(filmToo.valueMetres()) : OptionalDouble.empty()));
        told.add(depth());
        levers.addAll(told);
        if (plan != null) {
            for (int n = 0; n < levers.size(); n++) {
                levers.set(n, asWritten(levers.get(n), plan));
            }
        }
        Results after = plan == null ? before : last(plan);
        return new LeverPlan(
                before,
                after,
                filmPays
                        ? Simulation.analyse(
                                        plan == null
                                                ? job
                                                : plan.best.trial().filled().job(),
                                        on(tiles, filmToo.trial().coated()),
                                        options,
                                        progress)
                                .fields()
                        : after.fields(),
                over.words(),
                choice.goal() == DummyChoice.Goal.RANGE ? "largest less smallest" : "3 sigma",
                start,
                levers,
                plan == null ? List.of() : plan.best.trial().filled().warnings());
    }

    private String words(boolean posts, long count, double squareMetres) {
        return String.format(
                Locale.ROOT,
                "%,d %s, %.4g mm^2",
                count,
                posts ? postWord() + " in cavities that are open for them" : "dummies",
                squareMetres * 1e6);
    }

    private String postWord() {
        return choice.posts() != null && choice.posts().areRibs() ? "ribs" : "posts";
    }

    /** Tells of a lever that is drawn what is in its file, which may be other than it was alone. */
    private Lever asWritten(Lever lever, Drawn plan) {
        if (lever.kind() != Kind.DRAWN || plan.taken != DummyFill.Taken.BOTH) {
            return lever;
        }
        boolean posts = lever.file().equals(POSTS);
        Placement placed = plan.best.trial().filled().placements().get(posts ? 1 : 0);
        return new Lever(
                lever.name(),
                words(
                        posts,
                        placed.dummies(),
                        Arrays.stream(placed.placedSquareMetres()).sum()),
                lever.kind(),
                lever.file(),
                lever.aloneMetres(),
                lever.togetherMetres());
    }

    private Drawn drawn(DummyFill.Taken taken, int rounds) {
        DummyFill fill = new DummyFill(job, choice, files, before, taken, options, progress);
        DummyTrials trials = new DummyTrials(fill, goal, "", options, progress);
        return searching(fill.least(), fill.most(), choice.prices(), search -> {
            double[] volume = before.fields().get(TileFields.CAVITY_VOLUME).toArray();
            List<Step<DummyTrials.Trial>> steps = search.run(volume, without, rounds, trials);
            return new Drawn(
                    taken,
                    fill,
                    steps.stream()
                            .min(Comparator.comparingDouble(Step::valueMetres))
                            .orElseThrow());
        });
    }

    /** Finds films; at once where the solve of one takes one thread. */
    private List<Step<FilmTrials.Trial>> films(List<Supplier<Step<FilmTrials.Trial>>> wanted) {
        int atOnce = ThreadTeam.isWorthSharing(grid.size()) ? 1 : options.threads();
        return Attempt.atOnce(wanted, atOnce).stream()
                .map(Attempt::get)
                .map(Objects::requireNonNull)
                .toList();
    }

    /** Returns the best film on measured tiles. */
    private Step<FilmTrials.Trial> film(FieldSet tiles, double[] layer) {
        double[] coated = tiles.find(TileFields.FILM_COATED.id())
                .map(Field::toArray)
                .orElseGet(() -> {
                    double[] even = new double[grid.size()];
                    Arrays.fill(even, job.settings().quantity("film.thickness"));
                    return even;
                });
        double[] most = Arrays.stream(coated).map(h -> h * choice.filmRange()).toArray();
        double[] least = Arrays.stream(most).map(h -> -h).toArray();
        FilmTrials trials = new FilmTrials(job, tiles, coated, goal, options, progress);
        return searching(
                least,
                most,
                new DummyPrices(0, SMALL_CURB),
                search -> search.onward(layer, TOGETHER, trials).stream()
                        .min(Comparator.comparingDouble(Step::valueMetres))
                        .orElseThrow());
    }

    private interface Searching<R> {
        R by(DummySearch search);
    }

    private <R> R searching(double[] least, double[] most, DummyPrices prices, Searching<R> use) {
        double window = DummyDesign.windowMetres(job, choice, before);
        try (ThreadTeam team = ThreadTeam.forValues(grid.size(), options.threads());
                Stage stage = progress.stage("deciding on levers", 0, "iterations")) {
            boolean periodic = job.settings()
                    .choice(StampParameters.SURROUND.id())
                    .equals(StampParameters.SURROUND.options().get(0));
            return use.by(new DummySearch(
                    new GaussianWindow(grid.columns(), grid.rows(), window / grid.pitchMetres(), periodic, team),
                    new DummySearch.Task(goal, weights, least, most, prices),
                    stage));
        }
    }

    /** Tells what shallower or deeper cavities would do; nobody takes that unasked. */
    private Lever depth() {
        double best = start;
        double factor = 1;
        for (int sign : new int[] {-1, 1}) {
            double reached = start;
            for (double step : DEPTHS) {
                FieldSet tiles = Simulation.deeper(measured(), 1 + sign * step);
                double value = goal.value(FilmSensitivity.solve(FilmVariant.of(job, tiles), options.threads(), progress)
                        .residual());
                if (value >= reached) {
                    break;
                }
                reached = value;
                if (value < best) {
                    best = value;
                    factor = 1 + sign * step;
                }
            }
            if (factor != 1) {
                break;
            }
        }
        return new Lever(
                "depth",
                factor == 1
                        ? "no other depth of all cavities tried does better"
                        : String.format(Locale.ROOT, "all cavities %.2g times as deep (stamp.depth-scale)", factor),
                Kind.TOLD,
                "",
                best,
                OptionalDouble.empty());
    }

    /** Returns the tiles of the stamp as it is, before any analysis ran. */
    private FieldSet measured() {
        FieldSet map = before.map().fields();
        FieldSet deep = job.depthScale() == 1 ? map : Simulation.deeper(map, job.depthScale());
        FieldSet tiles = before.fields()
                .find(TileFields.LAMP_IRRADIANCE.id())
                .map(light -> deep.with(List.of(light)))
                .orElse(deep);
        return before.fields()
                .find(TileFields.FILM_COATED.id())
                .map(film -> on(tiles, film.toArray()))
                .orElse(tiles);
    }

    /** Returns tiles with another film. */
    static FieldSet on(FieldSet tiles, double[] coated) {
        List<Field> fields = new ArrayList<>();
        for (Field field : tiles.all()) {
            if (!field.name().equals(TileFields.FILM_COATED)) {
                fields.add(field);
            }
        }
        fields.add(Field.of(TileFields.FILM_COATED, tiles.grid(), coated));
        FieldSet on = FieldSet.empty(tiles.grid()).with(fields).withRegions(tiles.regions());
        return tiles.links().map(on::with).orElse(on);
    }

    private Results last(Drawn plan) {
        DummyFill.Filled filled = plan.fill.again(plan.best.trial().filled());
        return Simulation.run(filled.job(), options.withHashes(false), progress)
                .with(before.provenance())
                .with(plan.fill.provenance(options.hashing()));
    }

    private void write(double[] coated) {
        files.add(FILM, file -> {
            StringBuilder text = new StringBuilder("x_mm,y_mm,thickness_nm\n");
            for (int row = 0; row < grid.rows(); row++) {
                for (int column = 0; column < grid.columns(); column++) {
                    text.append(String.format(
                            Locale.ROOT,
                            "%.9g,%.9g,%.9g%n",
                            (grid.originXMetres() + (column + 0.5) * grid.pitchMetres()) * 1e3,
                            (grid.originYMetres() + (row + 0.5) * grid.pitchMetres()) * 1e3,
                            coated[grid.index(column, row)] * 1e9));
                }
            }
            Files.writeString(file, text.toString());
        });
    }
}
