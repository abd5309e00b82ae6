package org.evenstamp.geometry.tile;

import java.util.stream.IntStream;
import org.evenstamp.geometry.measure.FineFeatures;
import org.evenstamp.geometry.measure.LandSolver;
import org.evenstamp.shared.field.LandLinks;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.thread.Workers;

/**
 * The torsion function of all land of a map, on cells of which some make a tile: its mean over each tile, and what flows
 * between tiles while the land sinks evenly.
 *
 * <p>Features finer than the cells are a medium that takes film in at the rate their own squeeze moment says.
 */
final class LandNetwork {
    private static final long MOST_CELLS = 6_000_000;
    /** Cells a feature pitch takes to be seen; finer features are a medium. */
    private static final double CELLS_PER_PITCH = 6;
    /** Range of a link's conductance, over that between two tiles without cavities, in which it is believed. */
    private static final double LEAST_LINK = 0.05;

    private static final double LARGEST_LINK = 50;
    /** Flow over a face, as a share of what sinking displaces in a tile, that is none: it tells nothing of a conductance. */
    private static final double STILL = 0.01;

    private static final double NOTHING = 1e-9;

    private final TileGrid grid;
    private final int perTile;
    private final int columns;
    private final int rows;
    private final double cell;
    private final double[] land;
    private final double[] absorption;
    /** Mean of u over tiles that hold nothing but fine features; 0 elsewhere. */
    private final double[] known;

    private final CutFeatures features;
    private boolean repeats;

    /** Mean of u over each tile, m². */
    final double[] mean;

    final LandLinks links;

    /** Returns how many cells a tile's side has. */
    static int cellsPerTile(TileGrid grid) {
        for (int n : new int[] {20, 10, 4, 2}) {
            if ((long) grid.size() * n * n <= MOST_CELLS) {
                return n;
            }
        }
        return 1;
    }

    /** Returns whether features of a pitch are drawn into the cells. */
    static boolean resolves(TileGrid grid, double pitchMetres) {
        return pitchMetres >= CELLS_PER_PITCH * grid.pitchMetres() / cellsPerTile(grid);
    }

    /**
     * Takes the map up.
     *
     * @param land share of land in every cell, row 0 first
     * @param features what the film takes the tiles' cavities for
     */
    LandNetwork(TileGrid grid, double[] land, CutFeatures features) {
        this.grid = grid;
        perTile = cellsPerTile(grid);
        columns = grid.columns() * perTile;
        rows = grid.rows() * perTile;
        cell = grid.pitchMetres() / perTile;
        this.land = land;
        this.features = features;
        absorption = new double[land.length];
        int size = grid.size();
        mean = new double[size];
        known = new double[size];
        links = new LandLinks(
                new double[size],
                new double[size],
                new double[size],
                new double[size],
                new double[size],
                new double[size],
                new double[size],
                features.fraction,
                features.depthTimesFraction,
                features.edges,
                new double[size]);
    }

    /**
     * Takes the fine features of a tile for a medium: all that is neither land nor cavity for a pitch around.
     *
     * @param pitchMetres of the features
     * @param momentSquareMetres their squeeze moment, spread over the tile
     */
    void blur(int tile, double pitchMetres, double momentSquareMetres) {
        int reach = (int) Math.min(perTile, Math.ceil(pitchMetres / cell));
        boolean[] coarse = new boolean[perTile * perTile];
        int firstColumn = grid.column(tile) * perTile;
        int firstRow = grid.row(tile) * perTile;
        int fine = 0;
        for (int n = 0; n < coarse.length; n++) {
            coarse[n] = isCoarse(firstColumn + n % perTile, firstRow + n / perTile, reach);
            fine += coarse[n] ? 0 : 1;
        }
        if (fine == 0 || momentSquareMetres <= 0) {
            return;
        }
        if (fine == coarse.length) {
            known[tile] = momentSquareMetres / 12;
        }
        double u = momentSquareMetres / 12 * coarse.length / fine;
        for (int n = 0; n < coarse.length; n++) {
            if (!coarse[n]) {
                absorption[(firstRow + n / perTile) * columns + firstColumn + n % perTile] = cell * cell / u;
            }
        }
    }

    private boolean isCoarse(int column, int row, int reach) {
        double here = land[row * columns + column];
        boolean isLand = here >= FineFeatures.PURE_LAND;
        if (!isLand && here > 1 - FineFeatures.PURE_LAND) {
            return false;
        }
        for (int r = Math.max(0, row - reach); r <= Math.min(rows - 1, row + reach); r++) {
            for (int c = Math.max(0, column - reach); c <= Math.min(columns - 1, column + reach); c++) {
                double there = land[r * columns + c];
                if (isLand ? there < FineFeatures.PURE_LAND : there > 1 - FineFeatures.PURE_LAND) {
                    return false;
                }
            }
        }
        return true;
    }

    /** Takes what is not land in a tile for a texture. */
    void texture(int tile, double share, double momentSquareMetres) {
        double u = momentSquareMetres / 12 / share;
        for (int r = 0; r < perTile; r++) {
            int first = (grid.row(tile) * perTile + r) * columns + grid.column(tile) * perTile;
            for (int i = first; i < first + perTile; i++) {
                if (land[i] <= 0.5) {
                    absorption[i] = cell * cell / u;
                }
            }
        }
    }

    /** Solves, and fills {@link #mean} and {@link #links}; returns whether the solve converged. */
    boolean solve(MapOptions.Around around, int threads, Stage stage) {
        repeats = around == MapOptions.Around.REPEATS;
        LandSolver solver =
                new LandSolver(columns, rows, land, absorption, repeats, around == MapOptions.Around.OPEN, threads);
        solver.solve(stage);
        double tileCells = perTile * perTile;
        double[] u = new double[grid.size()]; // over the tile's area
        double[] cellsU = new double[land.length];
        Workers.forEach(IntStream.range(0, grid.rows()).boxed().toList(), threads, tileRow -> {
            for (int row = tileRow * perTile; row < (tileRow + 1) * perTile; row++) {
                for (int column = 0; column < columns; column++) {
                    double here = solver.integral(column, row) / (tileCells * tileCells);
                    u[tileRow * grid.columns() + column / perTile] += here;
                    cellsU[row * columns + column] = here;
                }
            }
        });
        for (int i = 0; i < mean.length; i++) {
            mean[i] = known[i] > 0 ? known[i] : u[i] * grid.tileAreaSquareMetres();
            links.own()[i] = 1;
        }
        double[] even = features.even(mean, cellsU);
        for (int i = 0; i < mean.length; i++) {
            links.moment()[i] = 12 * even[i];
        }
        for (int tile = 0; tile < grid.size(); tile++) {
            face(solver, tile, u, false, links.linkRight(), links.wallRight(), links.cavityRight());
            face(solver, tile, u, true, links.linkUp(), links.wallUp(), links.cavityUp());
        }
        for (int i = 0; i < mean.length; i++) {
            links.own()[i] = Math.max(0, links.own()[i]);
        }
        return solver.converged();
    }

    private void face(
            LandSolver solver, int tile, double[] u, boolean up, double[] link, double[] wall, double[] cavity) {
        int other = neighbour(tile, up);
        if (other < 0) {
            return;
        }
        double through = 0;
        double ahead = 0;
        double behind = 0;
        int openFaces = 0;
        int cavityFaces = 0;
        for (int n = 0; n < perTile; n++) {
            int column = up ? grid.column(tile) * perTile + n : (grid.column(tile) + 1) * perTile - 1;
            int row = up ? (grid.row(tile) + 1) * perTile - 1 : grid.row(tile) * perTile + n;
            double flow = solver.flow(column, row, up) / (perTile * perTile);
            switch (solver.face(column, row, up)) {
                case LAND -> {
                    through += flow;
                    openFaces++;
                }
                case WALL_AHEAD -> ahead += flow;
                case WALL_BEHIND -> behind -= flow;
                case NONE -> {
                    cavityFaces++;
                    through += solver.isFine(column, row, up) ? flow : 0;
                }
            }
        }
        cavity[tile] = cavityFaces / (double) perTile;
        if (features.cuts(tile, other)) {
            // Land that ends at the side feeds cavities of which both tiles have their part.
            ahead = 0;
            behind = 0;
        }
        double difference = u[tile] - u[other];
        double open = openFaces / (double) perTile;
        boolean still = Math.abs(through) < STILL && open * Math.abs(difference) < STILL;
        double conductance = still || difference == 0 ? open : through / difference;
        link[tile] = Math.max(LEAST_LINK * open, Math.min(LARGEST_LINK, conductance));
        double out = link[tile] * (evenU(tile) - evenU(other));
        links.own()[tile] -= out;
        links.own()[other] += out;
        if (ahead > behind && evenU(tile) > NOTHING) {
            wall[tile] = ahead / evenU(tile);
            links.own()[tile] -= ahead;
        } else if (behind > 0 && evenU(other) > NOTHING) {
            wall[tile] = -behind / evenU(other);
            links.own()[other] -= behind;
        }
    }

    /** Returns the mean of u over a tile whose sides are drawn out, over the tile's area. */
    private double evenU(int tile) {
        return links.moment()[tile] / 12 / grid.tileAreaSquareMetres();
    }

    private int neighbour(int tile, boolean up) {
        int column = grid.column(tile);
        int row = grid.row(tile);
        if (!repeats && (up ? row + 1 == grid.rows() : column + 1 == grid.columns())) {
            return -1;
        }
        return up ? grid.index(column, (row + 1) % grid.rows()) : grid.index((column + 1) % grid.columns(), row);
    }
}
