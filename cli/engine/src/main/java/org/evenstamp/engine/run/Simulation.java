package org.evenstamp.engine.run;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.evenstamp.analysis.limit.LimitCheck;
import org.evenstamp.analysis.limit.Ranking;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.analysis.pipeline.Outcome;
import org.evenstamp.analysis.pipeline.Skipped;
import org.evenstamp.analysis.process.SafetyCautions;
import org.evenstamp.engine.job.FilmMap;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.LampMap;
import org.evenstamp.engine.job.LayoutChoice;
import org.evenstamp.engine.job.TileTable;
import org.evenstamp.engine.result.Results;
import org.evenstamp.geometry.draw.Sketch;
import org.evenstamp.geometry.tile.Die;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.geometry.tile.TileMap;
import org.evenstamp.geometry.tile.TileMapper;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;

/**
 * Computes jobs: the layout becomes a tile map, the analyses add their fields, the limits are checked.
 *
 * <p>The same job on the same files gives the same results, whatever the number of threads. Nothing is printed and nothing is
 * written. Every method throws {@link InputException} when the layout or the film cannot be used, and
 * {@link org.evenstamp.shared.progress.CancelledException} soon after {@link Progress#cancel}.
 */
public final class Simulation {
    /** The version of classes that do not come from a jar. */
    public static final String NOT_PACKED = "development";

    /** Stands in for a depth nobody gave; what depends on it is left out of the results. */
    private static final double ANY_DEPTH = 1e-7;

    /**
     * What the analyses take for a tile and a field they give, the field included. Measured with all of ours on the sample
     * stamp: 2.3 kB a tile, the tile map included.
     */
    private static final long ANALYSIS_BYTES = 38;

    private static final Set<String> DEPEND_ON_DEPTH = Set.of(TileFields.CAVITY_VOLUME.id(), TileFields.WALL_AREA.id());

    private static final Set<String> SCALE_WITH_DEPTH = Set.of(
            TileFields.CAVITY_VOLUME.id(),
            TileFields.WALL_AREA.id(),
            TileFields.CAVITY_DEPTH_MIN.id(),
            TileFields.CAVITY_DEPTH_MAX.id());

    /** Beginnings of the codes of problems that stand in the job. */
    private static final Set<String> PLACED = Set.of("region", "array");

    /** Tiles along a side of the coarser map; on fewer it tells nothing. */
    private static final int FEWEST_WIDE = 4;

    private Simulation() {}

    /** Returns the version of the engine; {@link #NOT_PACKED} when its classes do not come from a jar. */
    public static String version() {
        String version = Simulation.class.getPackage().getImplementationVersion();
        return version == null ? NOT_PACKED : version;
    }

    /** Computes a job with {@link RunOptions#STANDARD}. */
    public static Results run(Job job, Progress progress) {
        return run(job, RunOptions.STANDARD, progress);
    }

    /** Computes a job. */
    public static Results run(Job job, RunOptions options, Progress progress) {
        return run(job, options, new StageMemory(0), progress);
    }

    /**
     * Computes a job again.
     *
     * @param memory what runs before have left, and this one leaves for those after it. It must only be used with equal
     *     options; analyses take part where their pipeline holds them as {@link RememberedAnalysis}
     */
    public static Results run(Job job, RunOptions options, StageMemory memory, Progress progress) {
        Reading reading = new Reading();
        return run(job, options, memory, reading, () -> layout(job, options, reading, progress), progress);
    }

    /**
     * Computes a job whose layout others measure.
     *
     * @param measuring returns what {@link #mapOptions} ask for
     */
    public static Results run(
            Job job, RunOptions options, Supplier<Results.MeasuredLayout> measuring, Progress progress) {
        return run(job, options, new StageMemory(0), new Reading(), measuring, progress);
    }

    private static Results run(
            Job job,
            RunOptions options,
            StageMemory memory,
            Reading reading,
            Supplier<Results.MeasuredLayout> measuring,
            Progress progress) {
        List<FileHash> hashes = options.hashing()
                ? job.inputs().stream()
                        .map(input -> FileHash.start(input.file(), input.asWritten(), progress))
                        .toList()
                : List.of();
        Results.MeasuredLayout layout =
                withDies(memory.of("tile map", () -> MeasuredFrom.of(job, progress), measuring), job.limits());
        LimitCheck.refuseUnknownRegions(job.limits(), layout.map().fields());
        List<Finding.Warning> warnings = new ArrayList<>(layout.map().warnings());
        FieldSet tiles = tiles(job, layout.map(), memory, warnings, progress);
        Supplier<@Nullable Outcome> here = () -> analyse(job, tiles, options, progress);
        Supplier<@Nullable Outcome> onWide = () -> onWideTiles(job, tiles, options, reading, memory, progress);
        Outcome outcome;
        Outcome wide;
        if (options.threads() > 1
                && !memory.remembers() // else it tells what was done in which order
                && !ThreadTeam.isWorthSharing(tiles.grid().size())) {
            // The film of few tiles takes one thread: the wide tiles are measured beside it.
            List<Attempt<@Nullable Outcome>> both = Attempt.atOnce(List.of(here, onWide), 2);
            outcome = Objects.requireNonNull(both.get(0).get());
            wide = both.get(1).get();
        } else {
            outcome = Objects.requireNonNull(here.get());
            wide = onWide.get();
        }
        warnings.addAll(outcome.warnings());
        List<Results.AnalysisPart> parts =
                new ArrayList<>(outcome.results().stream().map(Simulation::part).toList());
        List<Limit> close = List.of();
        if (wide != null) {
            Resolution resolution = new Resolution(outcome, wide, job.limits());
            parts.add(resolution.part());
            warnings.addAll(0, resolution.warnings()); // how far the rest is to be trusted
            close = resolution.close();
        }
        Results.Verdict verdict = verdict(job.limits(), close, outcome, warnings);
        return new Results(
                new Results.Provenance(
                        version(),
                        job.name(),
                        job.content(),
                        hashes.stream().map(FileHash::await).toList(),
                        SafetyCautions.of(
                                job.settings(), job.content().entries().containsKey("etch"))),
                layout,
                outcome.fields(),
                parts,
                skipped(outcome),
                verdict,
                warnings);
    }

    /** The layout of a run as it was measured last, so that it is read only once. */
    private static final class Reading {
        private @Nullable OpenLayout opened;
        private TileMapper.@Nullable Measured last;
    }

    /** Returns what the job comes to on tiles twice as wide, or null when nothing is to be compared. */
    private static @Nullable Outcome onWideTiles(
            Job job, FieldSet tiles, RunOptions options, Reading reading, StageMemory memory, Progress progress) {
        TileGrid grid = tiles.grid();
        if (!job.checksResolution()
                || job.layout().table() != null
                || (job.plan().running().isEmpty() && job.limits().isEmpty())
                || Math.min(grid.columns(), grid.rows()) < FEWEST_WIDE * 2
                || tiles.find("film.coated").isPresent()) {
            return null;
        }
        Job wide = job.on(job.layout(), 2 * grid.pitchMetres());
        Results.MeasuredLayout layout = withDies(
                memory.of(
                        "tile map",
                        () -> MeasuredFrom.of(wide, progress),
                        () -> layout(wide, options.withSketch(false), reading, progress)),
                job.limits());
        FieldSet fields = tiles(wide, layout.map(), memory, new ArrayList<>(), progress);
        return analyse(wide, fields, options, progress);
    }

    /** Returns the tile map of a job that gives a depth, and its film where it has a map of one; no analysis runs. */
    public static FieldSet measure(Job job, RunOptions options, Progress progress) {
        TileMap map =
                layout(job, options.withSketch(false), new Reading(), progress).map();
        return tiles(job, map, new StageMemory(0), new ArrayList<>(), progress);
    }

    /**
     * Runs the analyses of a job on tiles that are there already.
     *
     * @param tiles the fields of the tile map, and {@link TileFields#FILM_COATED} when the job has a map of its film
     */
    public static Outcome analyse(Job job, FieldSet tiles, RunOptions options, Progress progress) {
        try {
            return job.planOn(tiles).run(tiles, options.threads(), progress);
        } catch (InputException e) {
            throw job.placed(e);
        }
    }

    /** What a measured layout depends on. */
    private record MeasuredFrom(
            List<String> contentHashes,
            LayoutChoice layout,
            @Nullable Double sideMetres,
            @Nullable Double depthMetres,
            MapOptions.Structure structure,
            MapOptions.Around around) {
        static MeasuredFrom of(Job job, Progress progress) {
            LayoutChoice layout = job.layout();
            List<String> hashes = layout.layers().stream()
                    .map(layer -> FileHash.start(layer.file(), layer.asWritten(), progress)
                            .await()
                            .sha256())
                    .toList();
            return new MeasuredFrom(
                    hashes, layout, job.tileSideMetres(), job.depthMetres(), job.structure(), surroundOf(job));
        }
    }

    /** What the film on the tiles depends on. */
    private record CoatedFrom(FilmMap film, TileMap map) {}

    /** What the light on the tiles depends on. */
    private record LitFrom(LampMap lamp, TileGrid grid) {}

    /** Measures; when nothing usable was in the layout, says what became of its features. */
    private static Results.MeasuredLayout layout(Job job, RunOptions options, Reading reading, Progress progress) {
        TileTable table = job.layout().table();
        if (table != null) {
            return GivenTiles.of(table, job.layout().regions(), job::placed);
        }
        OpenLayout layout = reading.opened == null ? OpenLayout.open(job.layout()) : reading.opened;
        reading.opened = layout;
        MapOptions choices = mapOptions(job, options.threads());
        try {
            TileMapper mapper = new TileMapper(choices).leaving(ANALYSIS_BYTES * fieldsOfAnalyses(job));
            TileMapper.Measured before = reading.last;
            TileMapper.Measured measured = before == null
                    ? mapper.measure(layout.stepped(), layout.once(), progress)
                    : mapper.measureAgain(before, progress);
            reading.last = measured;
            return new Results.MeasuredLayout(
                    measured.tiles().warning(layout.warnings()),
                    layout.count(),
                    sketch(measured, choices, options, progress));
        } catch (InputException e) {
            if (e.problems().stream()
                    .anyMatch(problem -> PLACED.contains(problem.code().split("\\.", 2)[0]))) {
                throw job.placed(e);
            }
            if (e.problems().stream().noneMatch(problem -> problem.code().equals("layout.empty"))) {
                throw e;
            }
            Problems problems = new Problems();
            problems.add(e);
            layout.count().examples().forEach(example -> problems.add("layout.skipped", "", example, ""));
            throw new InputException(problems.all());
        }
    }

    /** Returns how the layout of a job is measured. */
    public static MapOptions mapOptions(Job job, int threads) {
        Double depth = job.depthMetres();
        return new MapOptions(
                job.layout().drawn(),
                depth == null ? ANY_DEPTH : depth,
                job.layout().outline(),
                job.tileSideMetres(),
                job.structure(),
                surroundOf(job),
                job.layout().regions(),
                job.layout().array(),
                threads);
    }

    /** Makes every die that a limit looks at a region, which does not count beside those of the layout. */
    private static Results.MeasuredLayout withDies(Results.MeasuredLayout layout, List<Limit> limits) {
        TileMap map = layout.map();
        Set<String> named = limits.stream().map(Limit::region).collect(Collectors.toSet());
        List<NamedRegion> regions = new ArrayList<>(map.fields().regions());
        int last = regions.isEmpty() || !regions.get(regions.size() - 1).isFeatures()
                ? regions.size()
                : regions.size() - 1;
        TileGrid grid = map.fields().grid();
        for (Die die : map.dies()) {
            if (named.contains(die.name()) && map.fields().region(die.name()).isEmpty()) {
                regions.add(last++, die.region(grid, map.outline()));
            }
        }
        return new Results.MeasuredLayout(map.with(map.fields().withRegions(regions)), layout.read(), layout.sketch());
    }

    private static long fieldsOfAnalyses(Job job) {
        return job.plan().running().stream()
                .mapToLong(analysis -> analysis.description().gives().size())
                .sum();
    }

    /** Returns what lies around the map, as the film solve will have it. */
    private static MapOptions.Around surroundOf(Job job) {
        if (job.settings()
                .findChoice("stamp.surround")
                .filter("isolated"::equals)
                .isEmpty()) {
            return MapOptions.Around.REPEATS;
        }
        return job.settings().findChoice("film.edge").filter("open"::equals).isPresent()
                ? MapOptions.Around.OPEN
                : MapOptions.Around.CLOSED;
    }

    private static Sketch sketch(
            TileMapper.Measured measured, MapOptions choices, RunOptions options, Progress progress) {
        return options.sketching()
                ? Sketch.of(
                        measured.layout(),
                        choices.drawn() == MapOptions.Drawn.CAVITIES,
                        Sketch.Budget.PAGE,
                        options.threads(),
                        progress)
                : Sketch.EMPTY;
    }

    /** Returns what the analyses start from: the tile map less what was not given, and the film on it. */
    private static FieldSet tiles(
            Job job, TileMap map, StageMemory memory, List<Finding.Warning> warnings, Progress progress) {
        FieldSet tiles = job.depthScale() == 1 ? map.fields() : deeper(map.fields(), job.depthScale());
        if (job.depthMetres() == null) {
            tiles = withoutDepth(tiles);
            warnings.add(new Finding.Warning(
                    "measure",
                    "measure.no-depth",
                    "no depth was given, so " + TileFields.CAVITY_VOLUME.id() + " and " + TileFields.WALL_AREA.id()
                            + " are left out",
                    new Place.WholeStamp()));
        }
        Job.Coating film = job.film();
        if (film != null) {
            CoatedFilm coated = memory.of(
                    "film map", () -> new CoatedFrom(film.map(), map), () -> CoatedFilm.of(film.map(), map, progress));
            tiles = tiles.with(List.of(coated.field()));
            warnings.addAll(coated.warnings());
        }
        LampMap lamp = job.lamp();
        if (lamp != null) {
            TileGrid grid = tiles.grid();
            MeasuredPlaces light =
                    memory.of("lamp map", () -> new LitFrom(lamp, grid), () -> MeasuredPlaces.ofLamp(lamp, grid));
            tiles = tiles.with(List.of(light.field()));
            warnings.addAll(light.warnings());
        }
        return tiles;
    }

    /** Returns the tiles of a stamp whose every depth is so many times as large; what hangs on depths is proportional to them. */
    public static FieldSet deeper(FieldSet fields, double scale) {
        List<Field> scaled = new ArrayList<>();
        for (Field field : fields.all()) {
            double[] values = field.toArray();
            if (SCALE_WITH_DEPTH.contains(field.name().id())) {
                Arrays.setAll(values, i -> scale * values[i]);
            }
            scaled.add(Field.of(field.name(), fields.grid(), values));
        }
        FieldSet deeper = FieldSet.empty(fields.grid()).with(scaled).withRegions(fields.regions());
        return fields.links()
                .map(links -> deeper.with(links.withVolumeTimes(scale)))
                .orElse(deeper);
    }

    private static FieldSet withoutDepth(FieldSet fields) {
        List<Field> kept = fields.all().stream()
                .filter(field -> !DEPEND_ON_DEPTH.contains(field.name().id()))
                .toList();
        return FieldSet.empty(fields.grid()).with(kept).withRegions(fields.regions());
    }

    private static Results.Verdict verdict(
            List<Limit> limits, List<Limit> close, Outcome outcome, List<Finding.Warning> warnings) {
        List<Finding.LimitBroken> broken = new ArrayList<>();
        for (Finding finding : LimitCheck.check(limits, outcome.fields())) {
            if (finding instanceof Finding.LimitBroken limit) {
                broken.add(limit);
            } else if (finding instanceof Finding.Warning warning) {
                warnings.add(warning);
            }
        }
        Ranking ranking = Ranking.of(
                outcome.results().stream()
                        .map(answer -> answer.analysis().description())
                        .toList(),
                limits,
                outcome.fields());
        return new Results.Verdict(limits, broken, close, ranking);
    }

    private static Results.AnalysisPart part(Outcome.Answer answer) {
        return new Results.AnalysisPart(
                answer.analysis().id(),
                answer.analysis().description().summary(),
                answer.result().figures(),
                answer.result().curves(),
                answer.result().snapshots());
    }

    private static Map<String, String> skipped(Outcome outcome) {
        Map<String, String> skipped = new LinkedHashMap<>();
        outcome.skipped().stream()
                .filter(Skipped::isTold)
                .forEach(one -> skipped.put(one.analysis().id(), one.reason()));
        return skipped;
    }
}
