package org.evenstamp.geometry.tile;

import java.io.ByteArrayOutputStream;
import java.io.DataInput;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.HashMap;
import java.util.Map;
import java.util.Objects;
import org.evenstamp.geometry.coverage.CoverageSums;
import org.evenstamp.geometry.coverage.LayerRules;
import org.evenstamp.geometry.coverage.LayeredSums;
import org.evenstamp.geometry.layout.PolygonStore;
import org.evenstamp.geometry.merge.MergedLayout;
import org.evenstamp.geometry.merge.Survey;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;

/**
 * Makes one map of what {@link BandWorker} found in each band. First takes the sums of all bands, then says what the second half
 * of the work needs, then takes that of all bands. The map is that of {@link TileMapper}, bit for bit.
 */
public final class BandedMap {
    private final TileMapper mapper;
    private final TileMapper.Drawing drawing;
    private final GridChooser.Choice choice;
    private final BandSpec spec;
    private final TileGrid grid;
    private final LayerRules rules;
    private final MapOptions options;
    private final Progress progress;
    private final LayeredSums layered;
    private final Map<Integer, double[]> land = new HashMap<>();
    private long candidates;
    private long meeting;
    private int merged;
    private @Nullable TileSums sums;
    private @Nullable StructureMapper structure;
    private @Nullable WidthMapper widths;
    private boolean solve;

    /**
     * Chooses the tiles.
     *
     * @param options choices without regions and arrays
     * @param totals what is in the layout
     * @param mostBands number of bands, if there are rows enough
     * @param fewestRows rows of a band at least
     */
    public BandedMap(MapOptions options, Survey.Totals totals, int mostBands, int fewestRows, Progress progress) {
        this.options = options;
        this.mapper = new TileMapper(options);
        this.progress = progress;
        drawing = mapper.drawingOf(totals, new PolygonStore());
        choice = mapper.choose(drawing);
        grid = choice.grid();
        spec = new BandSpec(
                options.drawn() == MapOptions.Drawn.CAVITIES,
                options.depthMetres(),
                options.around(),
                grid.originXMetres(),
                grid.originYMetres(),
                grid.pitchMetres(),
                grid.columns(),
                grid.rows(),
                drawing.outline(),
                Math.max(1, Math.min(grid.rows() / fewestRows, mostBands)),
                drawing.edgeMetres() > CoverageSums.MOST_LENGTH * grid.pitchMetres());
        rules = spec.rules();
        layered = new LayeredSums(grid, rules::layerOf);
    }

    /** Returns what the workers have to know. */
    public BandSpec spec() {
        return spec;
    }

    /** Takes the sums of a band. */
    public void takeSums(int band, DataInput in) throws IOException {
        layered.add(in);
        candidates += in.readLong();
        meeting += in.readLong();
        merged += in.readInt();
        read(FarPaths.cellsPerTile(grid), band, in);
        read(LandNetwork.cellsPerTile(grid), band, in);
    }

    private void read(int perTile, int band, DataInput in) throws IOException {
        int cells = perTile * perTile;
        double[] all = land.computeIfAbsent(perTile, key -> new double[cells * grid.size()]);
        for (int i = cells * grid.columns() * spec.first(band); i < cells * grid.columns() * spec.end(band); i++) {
            all[i] = in.readDouble();
        }
    }

    /** Returns what the second half of the work has to know of the whole map; for once, when all sums were taken. */
    public byte[] shared() {
        AlikeTiles alike = AlikeTiles.none(grid);
        sums = new TileSums(grid, layered, TileMapper.outlineShare(grid, drawing.outline()), rules);
        structure = new StructureMapper(sums, rules, options.around(), alike, options.threads(), progress);
        widths = new WidthMapper(grid, rules, alike, options.threads(), progress);
        solve = mapper.solves(structure);
        if (solve) {
            structure.findFarPaths(this::landOf);
        }
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (DataOutputStream out = new DataOutputStream(bytes)) {
            out.writeBoolean(solve);
            layered.write(out);
            for (int i = 0; i < grid.size(); i++) {
                out.writeDouble(structure.pathMean[i]);
                out.writeDouble(structure.pathMax[i]);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return bytes.toByteArray();
    }

    /** Cells may be written to, so everybody gets their own. */
    private double[] landOf(int perTile) {
        return Objects.requireNonNull(land.get(perTile)).clone();
    }

    /** Takes pictures and widths of a band. */
    public void takeLook(int band, DataInput in) throws IOException {
        Objects.requireNonNull(structure).readRows(spec.first(band), spec.end(band), in);
        Objects.requireNonNull(widths).readRows(spec.first(band), spec.end(band), in);
    }

    /** Returns the map, when all was taken. */
    public TileMap map() {
        StructureMapper found = Objects.requireNonNull(structure);
        if (solve) {
            found.close(this::landOf);
        } else {
            found.estimate(this::landOf);
        }
        return mapper.assemble(
                drawing,
                choice,
                new MergedLayout.Report(candidates, meeting, 0, merged, 0, ""),
                new TileMapper.Passes(
                        layered, Objects.requireNonNull(sums), found, Objects.requireNonNull(widths), solve),
                "");
    }
}
