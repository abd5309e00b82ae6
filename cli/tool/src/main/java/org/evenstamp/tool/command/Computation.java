package org.evenstamp.tool.command;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.concurrent.atomic.AtomicReference;
import org.evenstamp.analysis.limit.LimitCheck;
import org.evenstamp.analysis.limit.Ranking;
import org.evenstamp.analysis.pipeline.Outcome;
import org.evenstamp.engine.job.FilmMap;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.CoatedFilm;
import org.evenstamp.engine.run.FileHash;
import org.evenstamp.engine.run.LayoutOpener;
import org.evenstamp.engine.run.StageMemory;
import org.evenstamp.geometry.draw.Sketch;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.geometry.tile.TileMap;
import org.evenstamp.geometry.tile.TileMapper;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;
import org.jspecify.annotations.Nullable;

/** The way from a job to its results: layout, tile map, analyses, limits. */
final class Computation {
    /** Stands in for a depth nobody gave; what depends on it is left out of the results. */
    private static final double ANY_DEPTH = 1e-7;

    private static final Set<String> DEPEND_ON_DEPTH = Set.of(TileFields.CAVITY_VOLUME.id(), TileFields.WALL_AREA.id());

    private final ToolContext context;
    private final int threads;
    private final boolean sketching;
    private final StageMemory recall;
    private Sketch sketch = Sketch.EMPTY;

    /** A computation that also keeps the polygons to draw, if it shall. */
    Computation(ToolContext context, int threads, boolean sketching) {
        this(context, threads, sketching, new StageMemory(0));
    }

    /** A computation that remembers its stages. */
    Computation(ToolContext context, int threads, boolean sketching, StageMemory recall) {
        this.context = context;
        this.threads = threads;
        this.sketching = sketching;
        this.recall = recall;
    }

    /**
     * A measured layout.
     *
     * @param map its tiles
     * @param read what became of its features
     * @param sketch its polygons to draw, when they were wanted
     */
    private record Measured(TileMap map, Results.ReadCount read, Sketch sketch) {}

    /** What a measured layout depends on. */
    private record MeasuredFrom(
            String contentHash,
            Job.LayoutChoice layout,
            @Nullable Double sideMetres,
            @Nullable Double depthMetres,
            MapOptions.Structure structure) {}

    /** What the film on the tiles depends on. */
    private record CoatedFrom(FilmMap film, TileMap map) {}

    /** Returns the layout's polygons to draw, once it has run. */
    Sketch sketch() {
        return sketch;
    }

    /**
     * Computes.
     *
     * @param inputs the hashes of the files that go in
     */
    Results run(Job job, List<FileHash> inputs) {
        Measured layout = recall.of("tile map", () -> measuredFrom(job), () -> measured(job));
        sketch = layout.sketch();
        TileMap map = layout.map();
        Double depth = job.depthMetres();
        List<Finding.Warning> warnings = new ArrayList<>(map.warnings());
        FieldSet measured = map.fields();
        if (depth == null) {
            measured = withoutDepth(measured);
            warnings.add(new Finding.Warning(
                    "measure",
                    "measure.no-depth",
                    "no depth was given, so " + TileFields.CAVITY_VOLUME.id() + " and " + TileFields.WALL_AREA.id()
                            + " are left out",
                    new Place.WholeStamp()));
        }
        Job.Coating film = job.film();
        if (film != null) {
            CoatedFilm coated = recall.of(
                    "film map",
                    () -> new CoatedFrom(film.map(), map),
                    () -> CoatedFilm.of(film.map(), map, context.progress()));
            measured = measured.with(List.of(coated.field()));
            warnings.addAll(coated.warnings());
        }
        Outcome outcome = job.planOn(measured).run(measured, threads, context.progress());
        warnings.addAll(outcome.warnings());
        List<Finding.LimitBroken> broken = new ArrayList<>();
        for (Finding finding : LimitCheck.check(job.limits(), outcome.fields())) {
            if (finding instanceof Finding.LimitBroken limit) {
                broken.add(limit);
            } else if (finding instanceof Finding.Warning warning) {
                warnings.add(warning);
            }
        }
        Map<String, String> skipped = new LinkedHashMap<>();
        outcome.skipped().forEach(one -> skipped.put(one.analysis().id(), one.reason()));
        return new Results(
                context.version(),
                job.name(),
                job.content(),
                inputs.stream().map(FileHash::await).toList(),
                layout.read(),
                map,
                outcome.fields(),
                outcome.results().stream()
                        .map(answer -> new Results.AnalysisPart(
                                answer.analysis().id(),
                                answer.analysis().description().summary(),
                                answer.result().figures(),
                                answer.result().curves(),
                                answer.result().snapshots()))
                        .toList(),
                skipped,
                job.limits(),
                broken,
                Ranking.of(
                        outcome.results().stream()
                                .map(answer -> answer.analysis().description())
                                .toList(),
                        job.limits(),
                        outcome.fields()),
                warnings);
    }

    /** Measures the layout, and the film, of a job that gives a depth, and runs no analysis. */
    FieldSet measure(Job job) {
        TileMap map = measured(job).map();
        Job.Coating film = job.film();
        return film == null
                ? map.fields()
                : map.fields()
                        .with(List.of(CoatedFilm.of(film.map(), map, context.progress())
                                .field()));
    }

    private MeasuredFrom measuredFrom(Job job) {
        Job.LayoutChoice layout = job.layout();
        String hash = FileHash.start(layout.file(), layout.asWritten(), context.progress())
                .await()
                .sha256();
        return new MeasuredFrom(hash, layout, job.tileSideMetres(), job.depthMetres(), job.structure());
    }

    /** Measures; when nothing usable was in the layout, says what became of its features. */
    private Measured measured(Job job) {
        LayoutOpener.Opened layout = context.layouts().open(job.layout());
        Double depth = job.depthMetres();
        MapOptions options = new MapOptions(
                job.layout().drawn(),
                depth == null ? ANY_DEPTH : depth,
                job.layout().outline(),
                job.tileSideMetres(),
                job.structure(),
                threads);
        AtomicReference<Sketch> drawn = new AtomicReference<>(Sketch.EMPTY);
        try {
            TileMap map = new TileMapper(options)
                    .map(layout.source(), merged -> drawn.set(sketch(merged, options)), context.progress());
            return new Measured(map, layout.count().get(), Objects.requireNonNull(drawn.get()));
        } catch (InputException e) {
            if (e.problems().stream().noneMatch(problem -> problem.code().equals("layout.empty"))) {
                throw e;
            }
            Problems problems = new Problems();
            problems.add(e);
            layout.count().get().examples().forEach(example -> problems.add("layout.skipped", "", example, ""));
            throw new InputException(problems.all());
        }
    }

    private Sketch sketch(PolygonSource layout, MapOptions options) {
        return sketching
                ? Sketch.of(
                        layout,
                        options.drawn() == MapOptions.Drawn.CAVITIES,
                        Sketch.Budget.PAGE,
                        threads,
                        context.progress())
                : Sketch.EMPTY;
    }

    private static FieldSet withoutDepth(FieldSet fields) {
        List<Field> kept = fields.all().stream()
                .filter(field -> !DEPEND_ON_DEPTH.contains(field.name().id()))
                .toList();
        return FieldSet.empty(fields.grid()).with(kept);
    }
}
