package org.evenstamp.geometry.coverage;

import java.util.Locale;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;

/**
 * Refuses a layout that lies on itself so often that {@link CoverageSums} would wrap. Needed only where what overlaps could not
 * be merged, or where there is an edge length beyond all measure: it goes through the layout once more.
 */
public final class DepthCheck {
    private DepthCheck() {}

    /** One worker's coarse sums, of all layers together. */
    private static final class Sink implements PolygonSink {
        private final CoverageSums sums;
        private final LayerRules rules;
        private @Nullable Traits last;
        private boolean counts;

        Sink(TileGrid grid, LayerRules rules) {
            this.sums = CoverageSums.coarse(grid);
            this.rules = rules;
        }

        @Override
        public void accept(PackedPolygon polygon) {
            if (!polygon.traits.equals(last)) {
                last = polygon.traits;
                counts = rules.layerOf(last) != null;
            }
            if (counts) {
                LayeredSums.feed(polygon, polygon.traits.repeat(), sums);
            }
        }
    }

    /**
     * Goes through the layout and returns when it can be summed.
     *
     * @throws InputException when features lie on each other too often
     */
    public static void check(PolygonSource layout, TileGrid grid, LayerRules rules, int threads, Progress progress) {
        CoverageSums total = CoverageSums.coarse(grid);
        for (Sink part :
                layout.forEach(() -> new Sink(grid, rules), threads, "looking for heaps of features", progress)) {
            total.merge(part.sums);
        }
        double[] cover = total.coverage();
        double[] length = total.edgeLength();
        int worst = -1;
        double excess = 1;
        for (int i = 0; i < cover.length; i++) {
            double here = Math.max(Math.abs(cover[i]) / CoverageSums.MOST_COVER, length[i] / CoverageSums.MOST_LENGTH);
            if (here > excess) {
                excess = here;
                worst = i;
            }
        }
        if (worst >= 0) {
            int column = worst % grid.columns();
            int row = worst / grid.columns();
            throw new InputException(
                    "layout.heaped",
                    String.format(
                            Locale.ROOT,
                            "layout at x = %.6g um, y = %.6g um",
                            (grid.originXMetres() + (column + 0.5) * grid.pitchMetres()) * 1e6,
                            (grid.originYMetres() + (row + 0.5) * grid.pitchMetres()) * 1e6),
                    String.format(
                            Locale.ROOT,
                            "features cover a tile about %.0f times and bring %.3g tile sides of edge into it;"
                                    + " at most %d times and %d sides can be counted",
                            cover[worst],
                            length[worst],
                            CoverageSums.MOST_COVER,
                            CoverageSums.MOST_LENGTH),
                    "delete what lies on each other, check the steps of arrays, or merge the features before the export");
        }
    }
}
