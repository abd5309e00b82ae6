package org.evenstamp.geometry.tile;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.evenstamp.geometry.coverage.CoverageSums;
import org.evenstamp.geometry.coverage.DepthCheck;
import org.evenstamp.geometry.coverage.LayerRules;
import org.evenstamp.geometry.coverage.LayeredSums;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSource;
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
import org.evenstamp.shared.spi.Figure;

/**
 * Measures a layout on tiles: a first pass learns its extent and finds what overlaps, a second sums areas and edges, a third
 * looks at the land between the features. Later passes come from memory where the layout fits there.
 */
public final class TileMapper {
    private static final String ORIGIN = "tile-map";

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
        private final MergedLayout layout;
        private final Survey survey;

        private Measured(TileMap tiles, MergedLayout layout, Survey survey) {
            this.tiles = tiles;
            this.layout = layout;
            this.survey = survey;
        }

        /** Returns its map. */
        public TileMap tiles() {
            return tiles;
        }

        /** Returns its polygons, in which nothing counts twice. */
        public PolygonSource layout() {
            return layout;
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
        int threads = options.threads();
        Survey survey = Survey.of(original, traits -> rules.layerOf(traits) != null, memoryBytes, threads, progress);
        GridChooser.Choice choice = choose(survey);
        PolygonSource source = survey.source(original);
        MergedLayout layout = new OverlapMerger(survey, source, rules, memoryBytes, threads, progress).merge();
        return measure(survey, layout, choice, new WidthMapper(choice.grid(), rules, threads, progress), progress);
    }

    /**
     * Measures a layout on other tiles; its polygons are neither read nor merged again.
     *
     * @param before what a mapper found whose choices differ only in the tiles' side and in what lies around
     */
    public Measured measureAgain(Measured before, Progress progress) {
        GridChooser.Choice choice = choose(before.survey);
        WidthMapper widths = new WidthMapper(choice.grid(), rules, options.threads(), progress);
        widths.startFrom(before.tiles.fields());
        return measure(before.survey, before.layout, choice, widths, progress);
    }

    private GridChooser.Choice choose(Survey survey) {
        GridChooser.Choice choice = GridChooser.choose(
                outline(survey.totals()), options.pitchMetres(), survey.totals().edgeMetres());
        TileMemory.check(
                choice.grid(),
                options.threads(),
                laterBytes,
                Runtime.getRuntime().maxMemory());
        return choice;
    }

    private Measured measure(
            Survey survey, MergedLayout layout, GridChooser.Choice choice, WidthMapper widths, Progress progress) {
        warnings.clear();
        int threads = options.threads();
        TileGrid grid = choice.grid();
        MapOptions.Outline outline = outline(survey.totals());
        if (layout.mayHeap() || survey.totals().edgeMetres() > CoverageSums.MOST_LENGTH * grid.pitchMetres()) {
            DepthCheck.check(layout, grid, rules, threads, progress);
        }
        LayeredSums layered = sum(layout, grid, progress);
        TileSums sums = new TileSums(grid, layered, outlineShare(grid, outline), rules);

        StructureMapper structure = new StructureMapper(sums, rules, options.around(), threads, progress);
        double cells = structure.pictureCells();
        boolean solve = switch (options.structure()) {
            case SOLVED -> true;
            case ESTIMATED -> false;
            case AUTO -> StructureMapper.affordable(cells);
        };
        if (solve) {
            structure.solve(layout, memoryBytes, 16 * survey.totals().vertices());
        } else {
            structure.estimate(layout);
        }
        widths.measure(layout, memoryBytes, 16 * survey.totals().vertices());
        warn(sums, structure, layout.report(), layered, grid, outline);
        RegionMapper regions = new RegionMapper(grid, outline, layered, sums);
        FieldSet fields = fields(grid, sums, structure, widths)
                .withRegions(regions.regions(options.regions(), DrawnRegion.of(survey.drawnRegions())));
        warnings.addAll(regions.warnings());
        TileMap map = new TileMap(
                fields,
                outline,
                choice.reason(),
                structureReason(solve, cells, structure),
                figures(sums, survey, layout.report(), layered, widths),
                sums.regions(),
                warnings);
        return new Measured(map, layout, survey);
    }

    private MapOptions.Outline outline(Survey.Totals totals) {
        MapOptions.Outline given = options.outline();
        if (given != null) {
            return given;
        }
        if (totals.polygons() == 0 || !(totals.maxX() > totals.minX()) || !(totals.maxY() > totals.minY())) {
            throw new InputException(
                    "layout.empty",
                    "layout",
                    "the layout has no usable polygon, so the stamp has no extent",
                    "give the stamp's rectangle as layout.outline, or a layout with polygons");
        }
        return new MapOptions.Outline(totals.minX(), totals.minY(), totals.maxX(), totals.maxY());
    }

    private LayeredSums sum(MergedLayout layout, TileGrid grid, Progress progress) {
        LayeredSums total = new LayeredSums(grid, rules::layerOf);
        for (LayeredSums part : layout.forEach(
                () -> new LayeredSums(grid, rules::layerOf), options.threads(), "measuring tiles", progress)) {
            total.merge(part);
        }
        for (MergedLayout.Seam seam : layout.seams()) {
            total.sumsOf(seam.layer()).addLength(seam.x0(), seam.y0(), seam.x1(), seam.y1());
        }
        return total;
    }

    private static double[] outlineShare(TileGrid grid, MapOptions.Outline outline) {
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

    private static List<Figure> figures(
            TileSums sums, Survey survey, MergedLayout.Report report, LayeredSums layered, WidthMapper widths) {
        Survey.Totals totals = survey.totals();
        double cavity = 0;
        double volume = 0;
        for (int i = 0; i < sums.cavity.length; i++) {
            cavity += sums.cavity[i];
            volume += sums.volume[i];
        }
        double area = sums.grid.tileAreaSquareMetres();
        return List.of(
                Figure.of("polygons.drawn", (double) totals.polygons(), "1", "polygons in the layout"),
                Figure.of("polygons.standing", (double) totals.copies(), "1", "polygons with the copies of arrays"),
                Figure.of("vertices", (double) totals.vertices(), "1", "vertices of drawn polygons"),
                Figure.of(
                        "area.drawn", layered.drawnAreaSquareMetres(), "mm^2", "area of drawn polygons after merging"),
                Figure.of("area.outside", outside(layered, area), "mm^2", "part of it beyond the stamp's rim"),
                Figure.of("cavity.area", cavity * area, "mm^2", "cavity area of the stamp"),
                Figure.of("cavity.volume.total", volume * area, "mm^2 nm", "cavity volume of the stamp"),
                Figure.of(
                        "cavity.width.unknown",
                        (double) unknown(sums, widths.cavities(sums)),
                        "1",
                        "tiles with walls in which no cavity narrower than a tile is seen"),
                Figure.of(
                        "protrusion.width.unknown",
                        (double) unknown(sums, widths.protrusions(sums)),
                        "1",
                        "tiles with walls in which no protrusion narrower than a tile is seen"),
                Figure.of("merge.candidates", (double) report.candidates(), "1", "pairs of features whose boxes meet"),
                Figure.of("merge.meeting", (double) report.meeting(), "1", "pairs that overlap or share an edge"),
                Figure.of("merge.features", report.merged(), "1", "features merged because of that"));
    }

    private static long unknown(TileSums sums, double[] widths) {
        return IntStream.range(0, widths.length)
                .filter(tile -> sums.edge[tile] > 0 && Double.isNaN(widths[tile]))
                .count();
    }

    /** Drawn area beyond the grid, 0 where it is no more than rounding. */
    private static double outside(LayeredSums layered, double tileArea) {
        double outside = layered.drawnAreaSquareMetres() - inside(layered, tileArea);
        return outside > layered.roundingSquareMetres() ? outside : 0;
    }

    private static double inside(LayeredSums layered, double tileArea) {
        double inside = 0;
        for (var entry : layered.layers().entrySet()) {
            if (!entry.getKey().isEdges()) {
                for (double share : entry.getValue().coverage()) {
                    inside += share;
                }
            }
        }
        return inside * tileArea;
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
        double outside = outside(layered, grid.tileAreaSquareMetres());
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
