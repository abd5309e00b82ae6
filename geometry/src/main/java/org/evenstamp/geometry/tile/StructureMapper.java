package org.evenstamp.geometry.tile;

import java.io.DataInput;
import java.io.DataOutput;
import java.io.IOException;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.IntFunction;
import org.evenstamp.geometry.coverage.LayerRules;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.measure.TextureMeasures;
import org.evenstamp.shared.field.LandLinks;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.thread.Workers;

/**
 * Finds squeeze moment and flow paths of every tile.
 *
 * <p>Textures bring theirs along. The land between drawn features is looked at in pictures at ten cells a feature pitch:
 * where features are coarse, one picture holds the tile and at least a pitch, at the coarsest a whole tile, of its
 * surrounding on every side; where they are too fine for that, four pictures sample the tile, each about three pitches
 * wide, and the mean over their land stands for the land of the tile, whose share is known exactly. One more coarse
 * picture then takes in what land there is without fine features. Against closed forms the moment is within 3 % for pads
 * down to three cells of the picture and for round features drawn out, and within 1 % for gratings.
 *
 * <p>Land farther from any cavity than about one tile is not this class's business: the film solve resolves it from tile to
 * tile. A tile without any cavity, in which nothing has to fill, gets the moment of a strip one tile wide, and its flow
 * paths from a map of the whole stamp with a few cells a tile.
 */
final class StructureMapper {
    private static final double NOTHING = TileSums.NOTHING;

    private final AlikeTiles alike;
    private final TileSums sums;
    private final TileGrid grid;
    private final LayerRules rules;
    private final MapOptions.Around around;
    private final int threads;
    private final Progress progress;
    private final PictureChoice pictures;
    private final PictureMemory memory = new PictureMemory();
    private final double[] edgeDensity;

    final double[] moment;
    /** Of the drawn features that are finer than the cells of {@link LandNetwork}, spread over the tile. */
    private final double[] fineMoment;

    private static final double[] NONE = {};
    LandLinks links = new LandLinks(NONE, NONE, NONE, NONE, NONE, NONE, NONE, NONE, NONE, NONE, NONE);
    final double[] pathMean;
    final double[] pathMax;
    int wholePictures;
    int sampledTiles;
    int unconverged;

    StructureMapper(
            TileSums sums,
            LayerRules rules,
            MapOptions.Around around,
            AlikeTiles alike,
            int threads,
            Progress progress) {
        this.alike = alike;
        this.sums = sums;
        this.grid = sums.grid;
        this.rules = rules;
        this.around = around;
        this.threads = threads;
        this.progress = progress;
        int size = grid.size();
        moment = new double[size];
        fineMoment = new double[size];
        pathMean = new double[size];
        pathMax = new double[size];
        pictures = new PictureChoice(sums);
        edgeDensity = pictures.edgeDensity;
    }

    /** Returns how many picture cells a solve would take. */
    double pictureCells() {
        return pictures.cells(alike);
    }

    /**
     * Finds everything from shares and edge lengths alone, as if the drawn features of every tile were a grating.
     *
     * @param land the share of land in every cell of the whole stamp, by the number of cells along a tile
     */
    void estimate(IntFunction<double[]> land) {
        findFarPaths(land);
        for (int tile = 0; tile < grid.size(); tile++) {
            LandPart part = new LandPart(sums, edgeDensity, tile);
            Fineness look = pictures.look(tile);
            if (look == Fineness.FAR || (look != Fineness.NONE && edgeDensity[tile] == 0)) {
                part.far(pathMean[tile], pathMax[tile]);
            } else if (look != Fineness.NONE) {
                part.grating();
            }
            finish(tile, part);
        }
        link(land);
    }

    /** Returns how to find the share of land in every cell of the whole stamp. */
    IntFunction<double[]> landOf(PolygonSource layout) {
        return perTile -> Band.landMap(layout, rules, grid, alike, perTile, threads, progress);
    }

    /**
     * Solves on pictures.
     *
     * @param layout the merged layout
     * @param bandBytes memory for the features of one band of tile rows
     * @param layoutBytes what all features would take
     */
    void solve(PolygonSource layout, long bandBytes, long layoutBytes) {
        int bands = (int) Math.min(grid.rows(), Math.max(1, layoutBytes * 3 / 2 / bandBytes + 1));
        if (layoutBytes < bandBytes) {
            bands = 1;
        }
        IntFunction<double[]> land = landOf(layout);
        findFarPaths(land);
        int rowsPerBand = (grid.rows() + bands - 1) / bands;
        boolean repeats = around == MapOptions.Around.REPEATS;
        try (Stage stage = progress.stage("squeeze moments", grid.size(), "tiles")) {
            for (int first = 0; first < grid.rows(); first += rowsPerBand) {
                int end = Math.min(grid.rows(), first + rowsPerBand);
                solveBand(Band.collect(layout, rules, grid, first, end, repeats, threads, progress), first, end, stage);
            }
        }
        close(land);
    }

    /** Solves the pictures of some rows of tiles, whose far paths are known. */
    void solveRows(PolygonSource layout, int first, int end) {
        boolean repeats = around == MapOptions.Around.REPEATS;
        try (Stage stage = progress.stage("squeeze moments", (long) (end - first) * grid.columns(), "tiles")) {
            solveBand(Band.collect(layout, rules, grid, first, end, repeats, threads, progress), first, end, stage);
        }
    }

    /** Writes what was found for some rows. */
    void writeRows(int first, int end, DataOutput out) throws IOException {
        out.writeInt(wholePictures);
        out.writeInt(sampledTiles);
        out.writeInt(unconverged);
        for (int i = first * grid.columns(); i < end * grid.columns(); i++) {
            out.writeDouble(moment[i]);
            out.writeDouble(fineMoment[i]);
            out.writeDouble(pathMean[i]);
            out.writeDouble(pathMax[i]);
        }
    }

    /** Takes what was found for some rows. */
    void readRows(int first, int end, DataInput in) throws IOException {
        wholePictures += in.readInt();
        sampledTiles += in.readInt();
        unconverged += in.readInt();
        for (int i = first * grid.columns(); i < end * grid.columns(); i++) {
            moment[i] = in.readDouble();
            fineMoment[i] = in.readDouble();
            pathMean[i] = in.readDouble();
            pathMax[i] = in.readDouble();
        }
    }

    /** Puts together what was found in all rows. */
    void close(IntFunction<double[]> land) {
        alike.spread(moment);
        alike.spread(fineMoment);
        spreadPaths();
        link(land);
    }

    /** Takes paths over from tiles that look alike; those without a cavity have theirs from the map of the stamp. */
    private void spreadPaths() {
        double[] mean = pathMean.clone();
        double[] longest = pathMax.clone();
        alike.spread(mean);
        alike.spread(longest);
        for (int tile = 0; tile < mean.length; tile++) {
            if (pictures.look(tile) != Fineness.FAR) {
                pathMean[tile] = mean[tile];
                pathMax[tile] = longest[tile];
            }
        }
    }

    /** Solves for the land of the whole map, and so finds the moments of land that goes on from tile to tile. */
    private void link(IntFunction<double[]> landOfStamp) {
        double[] land = landOfStamp.apply(LandNetwork.cellsPerTile(grid));
        double[] pitch = new double[grid.size()];
        for (int tile = 0; tile < pitch.length; tile++) {
            boolean mixed = sums.cavity[tile] > NOTHING && sums.cavity[tile] < 1 - NOTHING;
            pitch[tile] =
                    mixed && edgeDensity[tile] > 0 && sums.texturedShare(tile) <= NOTHING ? 2 / edgeDensity[tile] : 0;
        }
        double[] edges = sums.edge.clone();
        for (int tile = 0; tile < edges.length; tile++) {
            edges[tile] /= grid.tileAreaSquareMetres();
        }
        CutFeatures features = new CutFeatures(
                grid,
                land,
                sums.cavity,
                sums.volume,
                edges,
                pitch,
                moment.clone(),
                around == MapOptions.Around.REPEATS);
        LandNetwork network = new LandNetwork(grid, land, features);
        for (int tile = 0; tile < grid.size(); tile++) {
            if (fineMoment[tile] > 0) {
                network.blur(tile, 2 / edgeDensity[tile], fineMoment[tile]);
            }
            double textured = sums.texturedShare(tile);
            double texturedMoment = sums.texturedMoment(tile);
            if (textured > NOTHING && texturedMoment > 0) {
                network.texture(tile, textured, texturedMoment);
            }
        }
        try (Stage stage = progress.stage("land between cavities", 0, "iterations")) {
            unconverged += network.solve(around, threads, stage) ? 0 : 1;
        }
        for (int tile = 0; tile < grid.size(); tile++) {
            if (network.mean[tile] > 0) {
                moment[tile] = 12 * network.mean[tile];
            } else {
                network.links.moment()[tile] = moment[tile];
            }
        }
        links = network.links;
    }

    /** Paths in tiles without a cavity: distances on a map of the stamp whose cells are land if hardly anything is cut into them. */
    void findFarPaths(IntFunction<double[]> landOfStamp) {
        boolean any = false;
        for (int tile = 0; tile < grid.size() && !any; tile++) {
            any = pictures.look(tile) == Fineness.FAR;
        }
        if (!any) {
            return;
        }
        int perTile = FarPaths.cellsPerTile(grid);
        double[] land = landOfStamp.apply(perTile);
        FarPaths.measure(grid, land, perTile, tile -> pictures.look(tile) == Fineness.FAR, pathMean, pathMax);
    }

    private void solveBand(Band band, int firstRow, int endRow, Stage stage) {
        boolean repeats = around == MapOptions.Around.REPEATS;
        AtomicInteger nextRow = new AtomicInteger(firstRow);
        List<PictureSolver> solvers = Workers.run(threads, () -> {
            PictureSolver solver = new PictureSolver(band, rules, repeats, sums, pictures, memory);
            int row;
            while ((row = nextRow.getAndIncrement()) < endRow) {
                for (int column = 0; column < grid.columns(); column++) {
                    int tile = grid.index(column, row);
                    if (!alike.measured(tile) && pictures.look(tile) != Fineness.FAR) {
                        continue;
                    }
                    LandPart part = new LandPart(sums, edgeDensity, tile);
                    switch (pictures.look(tile)) {
                        case NONE -> {}
                        case FAR -> part.far(pathMean[tile], pathMax[tile]);
                        case COARSE, MEDIUM, FINE -> solver.whole(tile, part);
                        case SAMPLED -> solver.sampled(tile, part);
                    }
                    finish(tile, part);
                }
                stage.advance(grid.columns());
            }
            return solver;
        });
        for (PictureSolver solver : solvers) {
            wholePictures += solver.wholePictures();
            sampledTiles += solver.sampledTiles();
            unconverged += solver.unconverged();
        }
    }

    /** Adds the textures' share and writes the tile's values; NaN where there is none. */
    private void finish(int tile, LandPart part) {
        double tileMoment = part.moment;
        if (edgeDensity[tile] > 0 && !LandNetwork.resolves(grid, 2 / edgeDensity[tile])) {
            fineMoment[tile] = part.fineMoment < 0 ? part.moment : part.fineMoment;
        }
        double path = 0;
        double land = 0;
        if (part.pathMean >= 0) {
            path = sums.drawnLand[tile] * part.pathMean;
            land = sums.drawnLand[tile];
        }
        double longest = part.pathMean >= 0 ? part.pathMax : 0;
        for (TileSums.TexturePart textured : sums.textures) {
            double share = textured.share[tile];
            TextureMeasures texture = textured.measures;
            if (share <= NOTHING) {
                continue;
            }
            tileMoment += share * texture.squeezeMoment();
            path += share * (1 - texture.cavityFraction()) * texture.pathMean();
            land += share * (1 - texture.cavityFraction());
            longest = Math.max(longest, texture.pathMax());
        }
        moment[tile] = tileMoment;
        pathMean[tile] = land > 0 ? path / land : Double.NaN;
        pathMax[tile] = land > 0 ? longest : Double.NaN;
    }
}
