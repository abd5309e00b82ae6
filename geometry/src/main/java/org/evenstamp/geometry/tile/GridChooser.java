package org.evenstamp.geometry.tile;

import java.util.Comparator;
import java.util.Locale;
import java.util.stream.DoubleStream;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.jspecify.annotations.Nullable;

/**
 * Chooses the tiles: about {@value #WANTED} along the stamp's longer side, but none smaller than two mean feature pitches
 * (on tiles of a period and more fronts fill within 2 %, at 1.25 within 7 %: docs/physics.md), none so large that fewer than {@value
 * #FEWEST} remain, and so that a whole number of tiles covers both sides where that can be had.
 */
final class GridChooser {
    private static final int WANTED = 128;
    private static final int FEWEST = 16;
    private static final double PITCHES_PER_TILE = 2;
    private static final long MOST_TILES = 16_000_000;
    /** So many stamps may fit into the tiles: what covers 1e-9 of a tile is taken for rounding, and so at most 1e-6 of the stamp. */
    private static final double MOST_STAMPS = 1e3;

    private GridChooser() {}

    record Choice(TileGrid grid, String reason) {}

    /**
     * Chooses.
     *
     * @param pitchMetres tile side if it is given
     * @param edgeMetres edge length of all drawn features
     * @param array how the layout is stepped over the stamp; null when it is not
     */
    static Choice choose(
            MapOptions.Outline outline, @Nullable Double pitchMetres, double edgeMetres, @Nullable DieArray array) {
        if (pitchMetres != null) {
            return new Choice(grid(outline, pitchMetres), "as given");
        }
        double longer = Math.max(outline.width(), outline.height());
        double shorter = Math.min(outline.width(), outline.height());
        double featurePitch =
                edgeMetres > 0 ? 2 * outline.width() * outline.height() / edgeMetres : Double.POSITIVE_INFINITY;
        double finest = longer / WANTED;
        double wanted = Math.min(Math.max(finest, PITCHES_PER_TILE * featurePitch), longer / FEWEST);
        double[] steps = array == null ? new double[0] : steps(array);
        if (steps.length > 0) {
            return new Choice(
                    grid(outline, fitting(steps, outline, wanted)),
                    reason(wanted, finest, longer, featurePitch)
                            + ", the same tiles for every die where that can be had");
        }
        int count = (int) Math.round(longer / wanted);
        int best = count;
        double bestMisfit = Double.POSITIVE_INFINITY;
        for (int n = Math.max(1, count - count / 5); n <= count + count / 5; n++) {
            double along = shorter / (longer / n);
            // A tile too few or too many costs less than a shorter side that ends inside a tile.
            double misfit = (Math.abs(along - Math.rint(along)) > 1e-6 ? 1 : 0) + Math.abs(n - count) / (double) count;
            if (misfit < bestMisfit) {
                bestMisfit = misfit;
                best = n;
            }
        }
        return new Choice(grid(outline, longer / best), reason(wanted, finest, longer, featurePitch));
    }

    private static String reason(double wanted, double finest, double longer, double featurePitch) {
        if (wanted == finest) {
            return "about " + WANTED + " tiles along the longer side";
        } else if (wanted < longer / FEWEST) {
            return String.format(Locale.ROOT, "at least two mean feature pitches of %.3g um", featurePitch * 1e6);
        }
        return "few features: " + FEWEST + " tiles along the longer side";
    }

    /** Steps from die to die, the longer one first. */
    private static double[] steps(DieArray array) {
        return DoubleStream.of(
                        array.columns() > 1 ? array.stepXMetres() : 0, array.rows() > 1 ? array.stepYMetres() : 0)
                .filter(step -> step > 0)
                .boxed()
                .sorted(Comparator.reverseOrder())
                .mapToDouble(Double::doubleValue)
                .toArray();
    }

    /** A side near the wanted one of which steps, or else the stamp's sides, are whole numbers. */
    private static double fitting(double[] steps, MapOptions.Outline outline, double wanted) {
        double step = steps[0];
        double best = wanted;
        double bestMisfit = Double.POSITIVE_INFINITY;
        int parts = (int) Math.min(MOST_TILES, Math.max(1, Math.round(step / wanted)));
        for (int n = (parts + 1) / 2; n <= 2 * parts; n++) {
            // Of dies smaller than a tile a tile takes a whole number.
            double pitch = step >= wanted ? step / n : step * Math.max(1, Math.round(wanted / step));
            double misfit = pitch < wanted ? 2 * (wanted / pitch - 1) : pitch / wanted - 1;
            for (double other : steps) {
                misfit += isWhole(other / pitch) || isWhole(pitch / other) ? 0 : 4;
            }
            misfit += isWhole(outline.width() / pitch) ? 0 : 1;
            misfit += isWhole(outline.height() / pitch) ? 0 : 1;
            if (misfit < bestMisfit) {
                bestMisfit = misfit;
                best = pitch;
            }
        }
        return best;
    }

    private static boolean isWhole(double ratio) {
        return Math.rint(ratio) >= 1 && Math.abs(ratio - Math.rint(ratio)) <= 1e-6;
    }

    private static TileGrid grid(MapOptions.Outline outline, double pitch) {
        double columns = tiles(outline.width(), pitch);
        double rows = tiles(outline.height(), pitch);
        if (columns * rows > MOST_TILES) {
            throw new InputException(
                    "tiles.too-many",
                    "tiles.side",
                    String.format(
                            Locale.ROOT,
                            "tiles of %.4g um on a stamp of %.4g x %.4g mm would be %.0f x %.0f",
                            pitch * 1e6,
                            outline.width() * 1e3,
                            outline.height() * 1e3,
                            columns,
                            rows),
                    String.format(
                            Locale.ROOT,
                            "at most %d tiles: a side of %.3g um or more",
                            MOST_TILES,
                            Math.sqrt(outline.width() * outline.height() / MOST_TILES) * 1e6));
        }
        if (columns * rows * pitch * pitch > MOST_STAMPS * outline.areaSquareMetres()) {
            throw new InputException(
                    "tiles.too-large",
                    "tiles.side",
                    String.format(
                            Locale.ROOT,
                            "tiles of %.4g um on a stamp of %.4g x %.4g mm: what is drawn would be lost in the rounding of a tile",
                            pitch * 1e6,
                            outline.width() * 1e3,
                            outline.height() * 1e3),
                    String.format(
                            Locale.ROOT,
                            "take a side of at most %.3g um; or is a coordinate wrong?",
                            1e6
                                    * Math.min(
                                            MOST_STAMPS / 2 * Math.min(outline.width(), outline.height()),
                                            0.9 * Math.sqrt(MOST_STAMPS * outline.areaSquareMetres()))));
        }
        return new TileGrid(outline.minX(), outline.minY(), pitch, (int) columns, (int) rows);
    }

    /** Tiles that cover a length; a millionth of a tile over is rounding. */
    private static double tiles(double length, double pitch) {
        return Math.max(1, Math.ceil(length / pitch - 1e-6));
    }
}
