package org.evenstamp.geometry.tile;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.evenstamp.geometry.coverage.CoverageSums;
import org.evenstamp.geometry.coverage.DepthCheck;
import org.evenstamp.geometry.coverage.LayerRules;
import org.evenstamp.geometry.coverage.LayeredSums;
import org.evenstamp.geometry.layout.Joined;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.layout.Pose;
import org.evenstamp.geometry.layout.Stepped;
import org.evenstamp.geometry.merge.DrawnRegion;
import org.evenstamp.geometry.merge.MergedLayout;
import org.evenstamp.geometry.merge.OverlapMerger;
import org.evenstamp.geometry.merge.Survey;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;

/**
 * Measures a layout on tiles: a first pass learns its extent and finds what overlaps, a second sums areas and edges, a third
 * looks at the land between the features. Later passes come from memory where the layout fits there.
 */
public final class TileMapper {
    private static final String ORIGIN = "tile-map";

    /** What a feature takes besides its vertices where its walls are looked at, about. */
    private static final long WALLS_OF_FEATURE = 180;
    /** Memory for walls at the most where the layout is at hand: going through it once more costs less than more memory. */
    private static final long MOST_WALL_MEMORY = 128L << 20;

    private final MapOptions options;
    private final LayerRules rules;
    private final long memoryBytes;
    private final List<Finding.Warning> warnings = new ArrayList<>();
    private long laterBytes;

    /** Creates a mapper with these choices. */
    public TileMapper(MapOptions options) {
        this(options, Runtime.getRuntime().maxMemory() / 5);
    }

    /** Creates a mapper that keeps at most so much of a layout in memory, and as much again of what has to be merged. */
    TileMapper(MapOptions options, long memoryBytes) {
        if (!(options.depthMetres() > 0)) {
            throw new IllegalArgumentException("the cavity depth must be positive, was " + options.depthMetres());
        }
        this.options = options;
        this.memoryBytes = memoryBytes;
        this.rules = new LayerRules(options.drawn() == MapOptions.Drawn.CAVITIES, options.depthMetres());
    }

    /** A measured layout. Its polygons may be held in memory. */
    public static final class Measured {
        private final TileMap tiles;
        private final Ground ground;

        private Measured(TileMap tiles, Ground ground) {
            this.tiles = tiles;
            this.ground = ground;
        }

        /** Returns its map. */
        public TileMap tiles() {
            return tiles;
        }

        /** Returns its polygons, in which nothing counts twice, all copies included. */
        public PolygonSource layout() {
            return ground.stepped(Stepped.Wanted.ALL);
        }
    }

    /**
     * What is to be measured.
     *
     * @param survey what a first pass learnt of {@code source}
     * @param source the polygons
     * @param array how they are stepped over the stamp; null where {@code source} has all that stands there
     * @param dies the copies of a stepped layout, also where {@code source} has them all
     * @param outline the stamp
     */
    record Drawing(
            Survey survey,
            PolygonSource source,
            @Nullable SteppedDies array,
            List<Die> dies,
            MapOptions.Outline outline) {
        int copies() {
            return array == null ? 1 : dies.size();
        }

        double edgeMetres() {
            return survey.totals().edgeMetres() * copies();
        }

        List<Pose> poses() {
            return array == null ? List.of(Pose.AS_DRAWN) : array.poses();
        }

        AlikeTiles alike(TileGrid grid) {
            return array == null ? AlikeTiles.none(grid) : AlikeTiles.of(grid, array.reliefBox(), poses());
        }
    }

    /**
     * What is measured.
     *
     * @param drawing where it comes from
     * @param layout its polygons, in which nothing counts twice
     */
    private record Ground(Drawing drawing, MergedLayout layout) {
        PolygonSource stepped(Stepped.Wanted wanted) {
            return drawing.array() == null ? layout : new Stepped(layout, drawing.poses(), wanted);
        }
    }

    /** Counts on so many bytes for every tile that will be wanted once the map is there; returns this mapper. */
    public TileMapper leaving(long bytes) {
        laterBytes = bytes;
        return this;
    }

    /**
     * Goes through the layout and returns its map.
     *
     * @throws InputException when the layout cannot be read, or is empty and no outline is given
     */
    public TileMap map(PolygonSource original, Progress progress) {
        return measure(original, progress).tiles();
    }

    /**
     * Goes through the layout and returns its map, and the polygons that were measured.
     *
     * @throws InputException when the layout cannot be read, or is empty and no outline is given
     */
    public Measured measure(PolygonSource original, Progress progress) {
        return measure(original, null, progress);
    }

    /**
     * Goes through the layout and returns its map, and the polygons that were measured.
     *
     * @param original what is stepped over the stamp where the options have an array, else all there is
     * @param once what stands once on a stamp of stepped dies; null for nothing
     * @throws InputException when the layout cannot be read, or is empty and no outline is given, or when its copies overlap
     */
    public Measured measure(PolygonSource original, @Nullable PolygonSource once, Progress progress) {
        Drawing drawing = drawing(original, once, progress);
        GridChooser.Choice choice = choose(drawing);
        MergedLayout layout = new OverlapMerger(
                        drawing.survey(), drawing.source(), rules, memoryBytes, options.threads(), progress)
                .merge();
        return measure(new Ground(drawing, layout), choice, List.of(), progress);
    }

    private Drawing drawing(PolygonSource original, @Nullable PolygonSource once, Progress progress) {
        Survey survey = survey(original, progress);
        if (options.array() == null) {
            return new Drawing(survey, survey.source(original), null, List.of(), outline(survey.totals()));
        }
        SteppedDies array = SteppedDies.of(options.array(), survey, options.outline());
        MapOptions.Outline stamp = array.stamp(options.outline());
        if (once == null && array.standApart()) {
            return new Drawing(survey, survey.source(original), array, array.dies(), stamp);
        }
        PolygonSource copies = new Stepped(original, array.poses(), Stepped.Wanted.ALL);
        PolygonSource all = once == null ? copies : new Joined(List.of(copies, once));
        Survey ofAll = survey(all, progress);
        return new Drawing(ofAll, ofAll.source(all), null, array.dies(), stamp);
    }

    private Survey survey(PolygonSource source, Progress progress) {
        return Survey.of(source, traits -> rules.layerOf(traits) != null, memoryBytes, options.threads(), progress);
    }

    /**
     * Measures a layout on other tiles; its polygons are neither read nor merged again.
     *
     * @param before what a mapper found whose choices differ only in the tiles' side and in what lies around
     */
    public Measured measureAgain(Measured before, Progress progress) {
        return measure(before.ground, choose(before.ground.drawing()), List.of(before.tiles.fields()), progress);
    }

    /** Returns a drawing of which only the sums are known, and where its tiles are. */
    Drawing drawingOf(Survey.Totals totals, PolygonSource nothing) {
        return new Drawing(Survey.ofTotals(totals), nothing, null, List.of(), outline(totals));
    }

    GridChooser.Choice choose(Drawing drawing) {
        GridChooser.Choice choice =
                GridChooser.choose(drawing.outline(), options.pitchMetres(), drawing.edgeMetres(), options.array());
        TileMemory.check(
                choice.grid(),
                options.threads(),
                laterBytes,
                Runtime.getRuntime().maxMemory());
        return choice;
    }

    private Measured measure(Ground ground, GridChooser.Choice choice, List<FieldSet> finer, Progress progress) {
        warnings.clear();
        int threads = options.threads();
        TileGrid grid = choice.grid();
        Drawing drawing = ground.drawing();
        MapOptions.Outline outline = drawing.outline();
        AlikeTiles alike = drawing.alike(grid);
        PolygonSource layout = ground.stepped(alike.wanted());
        if (ground.layout().mayHeap() || drawing.edgeMetres() > CoverageSums.MOST_LENGTH * grid.pitchMetres()) {
            DepthCheck.check(layout, grid, rules, threads, progress);
        }
        LayeredSums layered = sum(ground, layout, alike, grid, progress);
        TileSums sums = new TileSums(grid, layered, outlineShare(grid, outline), rules);

        StructureMapper structure = new StructureMapper(sums, rules, options.around(), alike, threads, progress);
        boolean solve = solves(structure);
        long vertexBytes = 16 * drawing.survey().totals().vertices();
        if (solve) {
            structure.solve(layout, memoryBytes, vertexBytes);
        } else {
            structure.estimate(structure.landOf(layout));
        }
        WidthMapper widths = new WidthMapper(grid, rules, alike, threads, progress);
        finer.forEach(widths::startFrom);
        widths.measure(
                layout, wallMemory(drawing.survey()), wallBytes(drawing.survey().totals()));
        TileMap map = assemble(
                drawing,
                choice,
                ground.layout().report(),
                new Passes(layered, sums, structure, widths, solve),
                alike.words());
        return new Measured(map, ground);
    }

    private long wallMemory(Survey survey) {
        return survey.isHeld() ? Math.min(memoryBytes, MOST_WALL_MEMORY) : memoryBytes;
    }

    private static long wallBytes(Survey.Totals totals) {
        return 16 * totals.vertices() * 4 / 3 + WALLS_OF_FEATURE * totals.polygons();
    }

    boolean solves(StructureMapper structure) {
        return switch (options.structure()) {
            case SOLVED -> true;
            case ESTIMATED -> false;
            case AUTO -> PictureChoice.affordable(structure.pictureCells());
        };
    }

    /** What the passes through a layout have found. */
    record Passes(LayeredSums layered, TileSums sums, StructureMapper structure, WidthMapper widths, boolean solved) {}

    /** Makes the map of what was found. */
    TileMap assemble(
            Drawing drawing, GridChooser.Choice choice, MergedLayout.Report report, Passes found, String alike) {
        TileGrid grid = choice.grid();
        MapOptions.Outline outline = drawing.outline();
        TileSums sums = found.sums();
        warn(sums, found.structure(), report, found.layered(), grid, outline);
        RegionMapper regions = new RegionMapper(grid, outline, found.layered(), sums);
        FieldSet fields = fields(grid, sums, found.structure(), found.widths())
                .withRegions(regions.regions(
                        options.regions(), DrawnRegion.of(drawing.survey().drawnRegions(), drawing.poses())));
        warnings.addAll(regions.warnings());
        warnings.addAll(SteppedDies.warnings(drawing.dies(), outline));
        return new TileMap(
                fields,
                outline,
                choice.reason(),
                structureReason(found.solved(), found.structure().pictureCells(), found.structure()) + alike,
                MapFigures.of(
                        sums, drawing.survey().totals(), drawing.copies(), report, found.layered(), found.widths()),
                sums.regions(),
                drawing.dies(),
                warnings);
    }

    private MapOptions.Outline outline(Survey.Totals totals) {
        MapOptions.Outline given = options.outline();
        return given != null ? given : SteppedDies.box(totals);
    }

    private LayeredSums sum(Ground ground, PolygonSource layout, AlikeTiles alike, TileGrid grid, Progress progress) {
        LayeredSums total = new LayeredSums(grid, rules::layerOf);
        for (LayeredSums part : layout.forEach(
                () -> new LayeredSums(grid, rules::layerOf), options.threads(), "measuring tiles", progress)) {
            total.merge(part);
        }
        for (MergedLayout.Seam seam : ground.layout().seams()) {
            for (Pose pose : ground.drawing().poses()) {
                double[] ends = {seam.x0(), seam.y0(), seam.x1(), seam.y1()};
                pose.apply(ends, 2);
                total.sumsOf(seam.layer()).addLength(ends[0], ends[1], ends[2], ends[3]);
            }
        }
        if (ground.drawing().array() != null) {
            total.layers().values().forEach(sums -> alike.spread(sums, 1));
            total.countDrawn(ground.layout(), ground.drawing().copies(), options.threads(), progress);
        }
        return total;
    }

    static double[] outlineShare(TileGrid grid, MapOptions.Outline outline) {
        CoverageSums sums = new CoverageSums(
                grid.columns(), grid.rows(), grid.originXMetres(), grid.originYMetres(), grid.pitchMetres());
        PackedPolygon rectangle = new PackedPolygon();
        double[] corners = {
            outline.minX(), outline.minY(), outline.maxX(), outline.minY(),
            outline.maxX(), outline.maxY(), outline.minX(), outline.maxY()
        };
        System.arraycopy(corners, 0, rectangle.xy, 0, corners.length);
        rectangle.endRing(corners.length / 2);
        sums.add(rectangle);
        return sums.coverage();
    }

    private static FieldSet fields(TileGrid grid, TileSums sums, StructureMapper structure, WidthMapper widths) {
        double[] edgeDensity = sums.edge.clone();
        for (int i = 0; i < edgeDensity.length; i++) {
            edgeDensity[i] /= grid.tileAreaSquareMetres();
        }
        return FieldSet.empty(grid)
                .with(List.of(
                        field(TileFields.CAVITY_FRACTION, grid, sums.cavity),
                        field(TileFields.CAVITY_VOLUME, grid, sums.volume),
                        field(TileFields.CAVITY_DEPTH_MIN, grid, sums.depthMetres(false)),
                        field(TileFields.CAVITY_DEPTH_MAX, grid, sums.depthMetres(true)),
                        field(TileFields.EDGE_DENSITY, grid, edgeDensity),
                        field(TileFields.WALL_AREA, grid, sums.wall),
                        field(TileFields.SQUEEZE_MOMENT, grid, structure.moment),
                        field(TileFields.FLOW_PATH_MEAN, grid, structure.pathMean),
                        field(TileFields.FLOW_PATH_MAX, grid, structure.pathMax),
                        field(TileFields.PROTRUSION_WIDTH_MIN, grid, widths.protrusions(sums)),
                        field(TileFields.CAVITY_WIDTH_MIN, grid, widths.cavities(sums))))
                .with(structure.links);
    }

    private static Field field(FieldName name, TileGrid grid, double[] values) {
        return Field.of(name, grid, values);
    }

    private String structureReason(boolean solved, double cells, StructureMapper structure) {
        if (solved) {
            return String.format(
                    Locale.ROOT,
                    "solved: %d tiles on one picture, %d sampled by four, the rest from closed forms",
                    structure.wholePictures,
                    structure.sampledTiles);
        }
        String why = options.structure() == MapOptions.Structure.AUTO
                ? String.format(Locale.ROOT, " (a solve would take %.0f million picture cells)", cells / 1e6)
                : "";
        return "estimated from fill factor and edge density as if every tile were a grating" + why;
    }

    private void warn(
            TileSums sums,
            StructureMapper structure,
            MergedLayout.Report report,
            LayeredSums layered,
            TileGrid grid,
            MapOptions.Outline outline) {
        if (!report.abandoned().isEmpty()) {
            warn("overlaps.not-merged", "overlapping features may count twice: " + report.abandoned());
        }
        if (report.uncheckedArrays() > 0) {
            warn(
                    "arrays.not-compared",
                    report.uncheckedArrays() + " arrays have too many copies to look for overlaps among them");
        }
        if (sums.largestShare > 1 + 1e-6) {
            warn(
                    "overlaps.left",
                    String.format(
                            Locale.ROOT, "a tile is covered %.4f times: features overlap there", sums.largestShare));
        }
        if (structure.unconverged > 0) {
            warn(
                    "squeeze.not-converged",
                    structure.unconverged + " pictures ended their iteration before it met its tolerance");
        }
        double outside = MapFigures.outside(layered, grid.tileAreaSquareMetres());
        if (outside > 0) {
            warn(
                    "layout.outside",
                    String.format(
                            Locale.ROOT,
                            "%.4g mm^2 of the drawn features lie beyond the stamp's tiles and were left out",
                            outside * 1e6));
        }
        double overhangX = overhang(grid.columns(), grid.pitchMetres(), outline.width());
        double overhangY = overhang(grid.rows(), grid.pitchMetres(), outline.height());
        if (Math.max(overhangX, overhangY) > 0.01 * grid.pitchMetres()) {
            warn(
                    "tiles.overhang",
                    "the stamp is no whole number of tiles: beyond its rim reach the last "
                            + Stream.of(beyond("column by", overhangX), beyond("row by", overhangY))
                                    .filter(part -> !part.isEmpty())
                                    .collect(Collectors.joining(", the last "))
                            + "; what lies there reads as land");
        }
    }

    /** How far tiles reach beyond an outline, 0 where it is rounding. */
    private static double overhang(int tiles, double pitch, double length) {
        double over = tiles * pitch - length;
        return over > 1e-6 * pitch ? over : 0;
    }

    private static String beyond(String what, double metres) {
        return metres > 0 ? String.format(Locale.ROOT, "%s %.4g um", what, metres * 1e6) : "";
    }

    private void warn(String code, String message) {
        warnings.add(new Finding.Warning(ORIGIN, code, message, new Place.WholeStamp()));
    }
}
