package org.evenstamp.geometry.tile;

import java.io.ByteArrayInputStream;
import java.io.DataInputStream;
import java.io.DataOutput;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import org.evenstamp.geometry.coverage.DepthCheck;
import org.evenstamp.geometry.coverage.LayerRules;
import org.evenstamp.geometry.coverage.LayeredSums;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.layout.PolygonStore;
import org.evenstamp.geometry.merge.MergedLayout;
import org.evenstamp.geometry.merge.OverlapMerger;
import org.evenstamp.geometry.merge.Survey;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;

/**
 * Measures one band of rows of tiles from the polygons that {@link BandSpec#needs} names, in their order in the layout. All
 * numbers are those that {@link TileMapper} finds, bit for bit. One object a band, for one thread.
 */
public final class BandWorker {
    private final BandSpec spec;
    private final int band;
    private final int first;
    private final int end;
    private final TileGrid grid;
    private final LayerRules rules;
    private final PolygonSource layout;
    private final List<MergedLayout.Seam> seams;
    private final MergedLayout.Report report;
    private final Progress progress;

    private BandWorker(
            BandSpec spec,
            int band,
            PolygonSource layout,
            List<MergedLayout.Seam> seams,
            MergedLayout.Report report,
            Progress progress) {
        this.spec = spec;
        this.band = band;
        this.first = spec.first(band);
        this.end = spec.end(band);
        this.grid = spec.grid();
        this.rules = spec.rules();
        this.layout = layout;
        this.seams = seams;
        this.report = report;
        this.progress = progress;
    }

    /**
     * Begins the first half of the work: merges what overlaps.
     *
     * @throws InputException when features that hang together reach over more rows than the band sees
     */
    public static BandWorker merging(BandSpec spec, int band, PolygonStore polygons, Progress progress) {
        LayerRules rules = spec.rules();
        long memory = Runtime.getRuntime().maxMemory() / 5;
        Survey survey = Survey.of(polygons, traits -> rules.layerOf(traits) != null, 0, 1, progress);
        MergedLayout merged = new OverlapMerger(survey, polygons, rules, memory, 1, progress)
                .counting(lowerEnd -> spec.owns(band, lowerEnd))
                .merge();
        if (!merged.report().abandoned().isEmpty()) {
            throw new InputException(
                    "layout.not-merged",
                    "layout",
                    "overlapping features may count twice: " + merged.report().abandoned(),
                    "give the workers more memory, or measure without --engine");
        }
        for (MergedLayout.Span span : merged.spans()) {
            if (spec.mayGoOn(band, span.minY(), span.maxY())) {
                throw new InputException(
                        "layout.hangs-together",
                        "layout",
                        "features that overlap or touch hang together over more rows of tiles than a band sees",
                        "take larger tiles, merge the features before the export, or measure without --engine");
            }
        }
        return new BandWorker(spec, band, merged, merged.seams(), merged.report(), progress);
    }

    /** Begins the second half of the work, with the polygons that {@link #writePolygons} wrote. */
    public static BandWorker merged(BandSpec spec, int band, PolygonStore polygons, Progress progress) {
        return new BandWorker(spec, band, polygons, List.of(), new MergedLayout.Report(0, 0, 0, 0, 0, ""), progress);
    }

    /** Writes the polygons in which nothing counts twice. */
    public void writePolygons(DataOutput out) {
        layout.forEach(
                () -> (PolygonSink) polygon -> {
                    try {
                        PolygonStore.write(polygon, out);
                    } catch (IOException e) {
                        throw new UncheckedIOException(e);
                    }
                },
                1,
                "writing features",
                progress);
    }

    /** Writes the sums of the band: the first half of the work. */
    public void sum(DataOutput out) throws IOException {
        if (spec.looksForHeaps()) {
            DepthCheck.check(layout, grid, rules, 1, progress);
        }
        LayeredSums sums = new LayeredSums(grid, first, end, rules::layerOf);
        for (LayeredSums part : layout.forEach(
                () -> new LayeredSums(grid, first, end, rules::layerOf), 1, "measuring tiles", progress)) {
            sums.merge(part);
        }
        for (MergedLayout.Seam seam : seams) {
            sums.sumsOf(seam.layer()).addLength(seam.x0(), seam.y0(), seam.x1(), seam.y1());
        }
        sums.leaveDrawn();
        double[] box = new double[4];
        layout.forEach(() -> (PolygonSink) polygon -> countOwn(polygon, box, sums), 1, "adding up areas", progress);
        sums.write(out);
        out.writeLong(report.candidates());
        out.writeLong(report.meeting());
        out.writeInt(report.merged());
        write(FarPaths.cellsPerTile(grid), out);
        write(LandNetwork.cellsPerTile(grid), out);
    }

    private void countOwn(PackedPolygon polygon, double[] box, LayeredSums sums) {
        polygon.box(box);
        if (spec.owns(band, box[1])) {
            sums.countOnly(polygon);
        }
    }

    private void write(int perTile, DataOutput out) throws IOException {
        for (double land : Band.landRows(layout, rules, grid, perTile, first, end, progress)) {
            out.writeDouble(land);
        }
    }

    /**
     * Writes pictures and widths of the band: the second half of the work.
     *
     * @param shared what {@link BandedMap#shared} says of the whole map
     */
    public void look(byte[] shared, DataOutput out) throws IOException {
        DataInputStream in = new DataInputStream(new ByteArrayInputStream(shared));
        boolean solve = in.readBoolean();
        LayeredSums whole = new LayeredSums(grid, rules::layerOf);
        whole.add(in);
        TileSums sums = new TileSums(grid, whole, TileMapper.outlineShare(grid, spec.outline()), rules);
        AlikeTiles alike = AlikeTiles.none(grid);
        StructureMapper structure = new StructureMapper(sums, rules, spec.around(), alike, 1, progress);
        for (int i = 0; i < grid.size(); i++) {
            structure.pathMean[i] = in.readDouble();
            structure.pathMax[i] = in.readDouble();
        }
        if (solve) {
            structure.solveRows(layout, first, end);
        }
        structure.writeRows(first, end, out);
        WidthMapper widths = new WidthMapper(grid, rules, alike, 1, progress);
        widths.measureRows(layout, first, end);
        widths.writeRows(first, end, out);
    }
}
