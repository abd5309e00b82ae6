package org.evenstamp.geometry.dummy;

import java.util.Locale;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.progress.Progress;

/** Finds where dummies may stand on a stamp. */
public final class DummyPlacer {
    /** Sites looked at in one pass through the layout: two bits each. */
    private static final long SITES_AT_ONCE = 1L << 28;

    private static final int SPACING_TRIALS = 12;

    private final DummyRules rules;
    private final MapOptions.Drawn drawn;
    private final MapOptions.Outline outline;
    private final TileGrid grid;
    private final long sitesAtOnce;

    /**
     * Prepares.
     *
     * @param drawn what the layout's polygons are when a feature does not say it
     * @param outline the stamp's rectangle
     * @param grid the tiles
     * @throws InputException with all problems of {@link DummyRules#check}
     */
    public DummyPlacer(DummyRules rules, MapOptions.Drawn drawn, MapOptions.Outline outline, TileGrid grid) {
        this(rules, drawn, outline, grid, SITES_AT_ONCE);
    }

    /** Prepares for passes of at most so many sites, but a row of tiles at least. */
    DummyPlacer(DummyRules rules, MapOptions.Drawn drawn, MapOptions.Outline outline, TileGrid grid, long sitesAtOnce) {
        Problems problems = new Problems();
        rules.check(drawn, outline, grid, problems);
        problems.throwIfAny();
        this.rules = rules;
        this.drawn = drawn;
        this.outline = outline;
        this.grid = grid;
        this.sitesAtOnce = sitesAtOnce;
    }

    /**
     * Goes through the layout, once unless the stamp has more sites than fit into memory, and returns the sites that are left.
     *
     * <p>Overlapping features may be merged before or not: a site is free when it is so beside each of them.
     *
     * @param layout the drawn features; keep-out regions have the role for it
     * @param threads number of threads, at least 1; does not change the result
     * @throws InputException when the layout cannot be read
     */
    public FreeSites survey(PolygonSource layout, int threads, Progress progress) {
        return new FreeSites(rules, drawn, outline, grid, sitesAtOnce, layout, threads, progress);
    }

    /**
     * The same, for whoever cannot go on without a free site.
     *
     * @throws InputException also when there is none, with the largest spacing that leaves one
     */
    public FreeSites surveyForSome(PolygonSource layout, int threads, Progress progress) {
        FreeSites sites = survey(layout, threads, progress);
        if (sites.count() > 0) {
            return sites;
        }
        double feasible = -1;
        double infeasible = rules.spacingMetres();
        if (infeasible > 0 && anyAt(0, layout, threads, progress)) {
            feasible = 0;
            for (int trial = 0; trial < SPACING_TRIALS; trial++) {
                double middle = (feasible + infeasible) / 2;
                if (anyAt(middle, layout, threads, progress)) {
                    feasible = middle;
                } else {
                    infeasible = middle;
                }
            }
        }
        String message = "no dummy of " + Steps.micrometres(rules.shape().widthMetres()) + " x "
                + Steps.micrometres(rules.shape().heightMetres()) + " finds a free place "
                + Steps.micrometres(rules.spacingMetres()) + " from features";
        if (feasible < 0) {
            throw new InputException(
                    "dummy.no-free-area",
                    "dummy.size",
                    message + ", nor would one at any spacing",
                    "smaller dummies, fewer keep-out regions or dummies inside pads");
        }
        throw new InputException(
                "dummy.no-free-area",
                "dummy.spacing",
                message,
                String.format(Locale.ROOT, "at most %.4g um leaves a free place", feasible * 1e6));
    }

    private boolean anyAt(double spacing, PolygonSource layout, int threads, Progress progress) {
        DummyRules nearer = new DummyRules(
                rules.shape(),
                rules.small(),
                rules.arrangement(),
                rules.gapMetres(),
                spacing,
                rules.rimMetres(),
                rules.sense(),
                rules.insidePads(),
                rules.symmetric());
        return new FreeSites(nearer, drawn, outline, grid, sitesAtOnce, layout, threads, progress).count() > 0;
    }
}
