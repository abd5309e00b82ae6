package org.evenstamp.geometry.tile;

import java.util.Arrays;
import org.evenstamp.geometry.coverage.CoverageSums;
import org.evenstamp.geometry.coverage.LayerRules;
import org.evenstamp.geometry.measure.FineFeatures;
import org.evenstamp.geometry.measure.PictureMeasurer;
import org.evenstamp.geometry.measure.PictureMeasures;
import org.evenstamp.shared.grid.TileGrid;

/**
 * Draws and measures pictures of one size about the tiles of a band, and counts how many did not converge. Beyond the rim of
 * a map that repeats itself a picture shows the repeat.
 */
final class PictureStudio {
    private final Band band;
    private final TileGrid grid;
    private final LayerRules rules;
    private final boolean repeats;
    private final int cells;
    private final CoverageSums sheet;
    private final PictureMeasurer measurer;
    private final PictureMemory memory;
    private final double[] land;
    private final double[] repeat;
    private int unconverged;

    PictureStudio(Band band, TileGrid grid, LayerRules rules, boolean repeats, int cells, PictureMemory memory) {
        this.memory = memory;
        this.band = band;
        this.grid = grid;
        this.rules = rules;
        this.repeats = repeats;
        this.cells = cells;
        sheet = new CoverageSums(cells, cells, 0, 0, 1);
        measurer = new PictureMeasurer(cells, cells, false);
        land = new double[cells * cells];
        repeat = new double[cells * cells];
    }

    int unconverged() {
        return unconverged;
    }

    /** Draws a picture about a place in a tile or on its rim; cells in metres. */
    void draw(int tile, double centreX, double centreY, double cell) {
        double x = centreX - cells / 2.0 * cell;
        double y = centreY - cells / 2.0 * cell;
        draw(tile, x, y, cell, land);
        if (!repeats) {
            return;
        }
        double width = grid.columns() * grid.pitchMetres();
        double height = grid.rows() * grid.pitchMetres();
        int[] columns = rims(grid.originXMetres() - x, width, cell);
        int[] rows = rims(grid.originYMetres() - y, height, cell);
        for (int up = -1; up <= 1; up++) {
            for (int right = -1; right <= 1; right++) {
                int fromColumn = columns[right + 1];
                int toColumn = columns[right + 2];
                int fromRow = rows[up + 1];
                int toRow = rows[up + 2];
                if ((up == 0 && right == 0) || fromColumn >= toColumn || fromRow >= toRow) {
                    continue;
                }
                int column = right < 0 ? grid.columns() - 1 : right > 0 ? 0 : grid.column(tile);
                int row = up < 0 ? grid.rows() - 1 : up > 0 ? 0 : grid.row(tile);
                draw(grid.index(column, row), x - right * width, y - up * height, cell, repeat);
                for (int r = fromRow; r < toRow; r++) {
                    System.arraycopy(
                            repeat, r * cells + fromColumn, land, r * cells + fromColumn, toColumn - fromColumn);
                }
            }
        }
    }

    /** Returns where along the picture the repeat before the map, the map, the repeat behind it, and the picture end. */
    private int[] rims(double start, double length, double cell) {
        int first = (int) Math.max(0, Math.min(cells, Math.round(start / cell)));
        int last = (int) Math.max(first, Math.min(cells, Math.round((start + length) / cell)));
        return new int[] {0, first, last, cells};
    }

    private void draw(int tile, double x, double y, double cell, double[] into) {
        band.draw(tile, sheet, cells, x, y, cell);
        sheet.coverageInto(into);
        for (int i = 0; i < into.length; i++) {
            double covered = Math.max(0, Math.min(1, into[i]));
            into[i] = PictureMemory.rounded(rules.drawnAreCavities() ? 1 - covered : covered);
        }
    }

    /** Lets film through gaps between features that the cells do not show. */
    void open() {
        FineFeatures.open(land, cells);
    }

    PictureMeasures measure(int core) {
        int halo = (cells - core) / 2;
        return counted(memory.of(land, core, () -> measurer.measure(land, halo, halo)));
    }

    PictureMeasures sample(int core) {
        return counted(memory.of(land, -core, () -> measurer.sample(land, (cells - core) / 2)));
    }

    /**
     * Leaves only land without fine features, and of that only what is wider than two of their pitches; returns whether
     * there is any.
     */
    boolean keepPureLand(int pitchCells) {
        boolean any = false;
        boolean[] kept = new boolean[land.length];
        for (int row = 0; row < cells; row++) {
            for (int column = 0; column < cells; column++) {
                if (isPure(row, column, pitchCells)) {
                    any = true;
                    for (int r = Math.max(0, row - pitchCells); r <= Math.min(cells - 1, row + pitchCells); r++) {
                        int from = r * cells + Math.max(0, column - pitchCells);
                        int to = r * cells + Math.min(cells - 1, column + pitchCells);
                        Arrays.fill(kept, from, to + 1, true);
                    }
                }
            }
        }
        for (int i = 0; i < land.length; i++) {
            land[i] = kept[i] && land[i] >= FineFeatures.PURE_LAND ? 1 : 0;
        }
        return any;
    }

    private boolean isPure(int row, int column, int reach) {
        for (int r = Math.max(0, row - reach); r <= Math.min(cells - 1, row + reach); r++) {
            for (int c = Math.max(0, column - reach); c <= Math.min(cells - 1, column + reach); c++) {
                if (land[r * cells + c] < FineFeatures.PURE_LAND) {
                    return false;
                }
            }
        }
        return true;
    }

    private PictureMeasures counted(PictureMeasures measures) {
        if (!measures.converged()) {
            unconverged++;
        }
        return measures;
    }
}
