package org.evenstamp.geometry.tile;

import java.io.Serializable;
import java.util.List;
import org.evenstamp.shared.grid.TileGrid;
import org.jspecify.annotations.Nullable;

/**
 * Choices for a tile map.
 *
 * @param drawn what the drawn polygons are when a feature does not say it
 * @param depthMetres the stamp's cavity depth, for features without their own; positive
 * @param outline the stamp's rectangle; null for the bounding box of all features
 * @param pitchMetres tile side; null to choose it from the layout
 * @param structure how squeeze moment, flow paths and widths are found
 * @param around what lies around the map
 * @param regions what is said of regions beside the layout
 * @param array how the layout is stepped over the stamp; null when it stands there once
 * @param threads number of threads, at least 1; does not change the result
 */
public record MapOptions(
        Drawn drawn,
        double depthMetres,
        @Nullable Outline outline,
        @Nullable Double pitchMetres,
        Structure structure,
        Around around,
        List<RegionRule> regions,
        @Nullable DieArray array,
        int threads) {

    /** Copies the list. */
    public MapOptions {
        regions = List.copyOf(regions);
    }

    /** Choices that say nothing of regions, for a layout that stands once. */
    public MapOptions(
            Drawn drawn,
            double depthMetres,
            @Nullable Outline outline,
            @Nullable Double pitchMetres,
            Structure structure,
            Around around,
            int threads) {
        this(drawn, depthMetres, outline, pitchMetres, structure, around, List.of(), null, threads);
    }

    /** What lies around the map. */
    public enum Around {
        /** Its repeats, on all sides. */
        REPEATS,
        /** Nothing that film could flow to. */
        CLOSED,
        /** A rim over which film leaves. */
        OPEN
    }

    /** What drawn polygons are. */
    public enum Drawn {
        /** Recessed parts; the rest of the stamp touches the film. */
        CAVITIES,
        /** Raised parts; the rest of the stamp is recessed by its depth. */
        PROTRUSIONS
    }

    /** How the quantities that need the shape of the land are found. */
    public enum Structure {
        /** {@link #SOLVED} where that is a matter of seconds, {@link #ESTIMATED} for large layouts. */
        AUTO,
        /** From a fine picture of every tile: distance transform and a solve of the torsion problem. */
        SOLVED,
        /** From cavity fraction and edge density, as if every tile were a grating: exact for lines, rough for sparse holes. */
        ESTIMATED
    }

    /**
     * A rectangle in the layout's plane, metres.
     *
     * @param minX left
     * @param minY bottom
     * @param maxX right, larger than left
     * @param maxY top, larger than bottom
     */
    public record Outline(double minX, double minY, double maxX, double maxY) implements Serializable {
        /** Checks the order and that all numbers are finite. */
        public Outline {
            if (!(maxX > minX) || !(maxY > minY) || !Double.isFinite(maxX - minX) || !Double.isFinite(maxY - minY)) {
                throw new IllegalArgumentException("an outline needs min < max and finite numbers");
            }
        }

        /** Returns whether a place lies in it, its rim included. */
        public boolean holds(double xMetres, double yMetres) {
            return xMetres >= minX && xMetres <= maxX && yMetres >= minY && yMetres <= maxY;
        }

        /** Returns the part of a tile, 0 to 1, that it covers within another rectangle. */
        public double shareOf(TileGrid grid, int tile, Outline within) {
            double pitch = grid.pitchMetres();
            double left = grid.originXMetres() + grid.column(tile) * pitch;
            double low = grid.originYMetres() + grid.row(tile) * pitch;
            double width =
                    Math.min(left + pitch, Math.min(maxX, within.maxX)) - Math.max(left, Math.max(minX, within.minX));
            double height =
                    Math.min(low + pitch, Math.min(maxY, within.maxY)) - Math.max(low, Math.max(minY, within.minY));
            return width > 0 && height > 0 ? Math.min(1, width * height / grid.tileAreaSquareMetres()) : 0;
        }

        /** Returns the extent along x in metres. */
        public double width() {
            return maxX - minX;
        }

        /** Returns the extent along y in metres. */
        public double height() {
            return maxY - minY;
        }

        /** Returns the area in square metres. */
        public double areaSquareMetres() {
            return width() * height();
        }
    }
}
