package org.evenstamp.geometry.dummy;

import java.util.Locale;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.Problems;
import org.jspecify.annotations.Nullable;

/**
 * What dummies look like and where they may stand. Distances are the least allowed, measured from edge to edge; a disc counts
 * as its circle. Nothing may touch, whatever the distances.
 *
 * <p>Every dummy lies within one tile and within the stamp. A <em>pad</em> is what was drawn to be large and whole where a
 * dummy would stand: for dummy cavities a drawn protrusion, or the land inside a hole of a drawn cavity; for dummy protrusions
 * a drawn cavity, or the ground inside a hole of a drawn protrusion.
 *
 * @param shape the dummy
 * @param small a second, smaller dummy for places where the first finds none; null for none
 * @param arrangement how the sites lie
 * @param gapMetres distance from dummy to dummy, positive
 * @param spacingMetres distance from dummies to drawn features, not negative
 * @param rimMetres distance from dummies to the stamp's rim, not negative
 * @param sense whether dummies are recessed or raised
 * @param insidePads whether dummies may stand in pads
 * @param symmetric whether a layout mirrored about the stamp's centre gets dummies that are mirrored exactly; the stamp must
 *     be a whole number of tiles then
 */
public record DummyRules(
        DummyShape shape,
        @Nullable DummyShape small,
        Arrangement arrangement,
        double gapMetres,
        double spacingMetres,
        double rimMetres,
        MapOptions.Drawn sense,
        boolean insidePads,
        boolean symmetric) {

    private static final double MOST_SITES = 4e9;

    /** How the sites lie. The step along a row is width plus gap. */
    public enum Arrangement {
        /** Rows as far apart as height plus gap, sites one above the other. */
        SQUARE,
        /** Every second row shifted by half a step, rows as close as the gap allows: equilateral triangles for discs. */
        HEXAGONAL,
        /** Every second row shifted by half a step, rows as far apart as height plus gap. */
        STAGGERED
    }

    /**
     * Adds everything that contradicts itself, the tiles or the stamp; {@code dummy.} and the rule's name say where.
     *
     * @param drawn what the layout's polygons are when a feature does not say it
     */
    public void check(MapOptions.Drawn drawn, MapOptions.Outline outline, TileGrid grid, Problems problems) {
        boolean sound = shape.check("dummy.size", problems);
        if (small != null) {
            sound &= small.check("dummy.small-size", problems);
        }
        sound &= distance("gap", "between dummies", gapMetres, gapMetres > 0, "the least is 0.0001 um", problems);
        sound &= distance("spacing", "to features", spacingMetres, spacingMetres >= 0, "the least is 0", problems);
        sound &= distance("rim", "to the rim", rimMetres, rimMetres >= 0, "the least is 0", problems);
        if (sense != drawn && !insidePads) {
            String ground = drawn == MapOptions.Drawn.CAVITIES ? "land" : "recessed";
            String dummies = sense == MapOptions.Drawn.CAVITIES ? "cavities" : "protrusions";
            problems.add(
                    "dummy.sense",
                    "dummy.sense",
                    "what is not drawn is " + ground + " already, so dummy " + dummies
                            + " have a place in drawn features alone, and those are closed to them",
                    "allow dummies inside pads, or dummies of the other sense");
        }
        if (sound) {
            checkSizes(outline, grid, problems);
        }
        if (symmetric) {
            checkSymmetry(outline, grid, problems);
        }
    }

    private static boolean distance(
            String rule, String what, double metres, boolean inRange, String fix, Problems problems) {
        if (inRange && Double.isFinite(metres)) {
            return true;
        }
        problems.add(
                "dummy." + rule,
                "dummy." + rule,
                "a distance " + what + " of " + Steps.micrometres(metres) + " is not possible",
                fix);
        return false;
    }

    private void checkSizes(MapOptions.Outline outline, TileGrid grid, Problems problems) {
        double longer = Math.max(shape.widthMetres(), shape.heightMetres());
        double tile = grid.pitchMetres();
        if (Steps.of(longer) > Steps.of(tile)) {
            problems.add(
                    "dummy.larger-than-tile",
                    "dummy.size",
                    "a dummy " + Steps.micrometres(longer) + " long does not fit into a tile of "
                            + Steps.micrometres(tile),
                    "dummies of at most " + Steps.micrometres(tile) + ", or tiles of at least "
                            + Steps.micrometres(longer));
        }
        if (small != null
                && !(small.widthMetres() <= shape.widthMetres()
                        && small.heightMetres() <= shape.heightMetres()
                        && small.widthMetres() + small.heightMetres() < shape.widthMetres() + shape.heightMetres())) {
            problems.add(
                    "dummy.small-size",
                    "dummy.small-size",
                    "the second dummy, " + Steps.micrometres(small.widthMetres()) + " x "
                            + Steps.micrometres(small.heightMetres()) + ", is not smaller than the first",
                    "less than " + Steps.micrometres(shape.widthMetres()) + " x "
                            + Steps.micrometres(shape.heightMetres()));
        }
        DummyShape least = small == null ? shape : small;
        double cell = (least.widthMetres() + gapMetres) * (least.heightMetres() + gapMetres);
        double sites = outline.width() * outline.height() / cell;
        if (sites > MOST_SITES) {
            problems.add(
                    "dummy.too-many-sites",
                    small == null ? "dummy.size" : "dummy.small-size",
                    String.format(Locale.ROOT, "the stamp has %.3g sites for dummies this small and near", sites),
                    String.format(
                            Locale.ROOT,
                            "at most %.0e: size and gap together %s or more",
                            MOST_SITES,
                            Steps.micrometres(Math.sqrt(outline.width() * outline.height() / MOST_SITES))));
        }
        double rimX = (outline.width() - shape.widthMetres()) / 2;
        double rimY = (outline.height() - shape.heightMetres()) / 2;
        double most = Math.min(rimX, rimY);
        if (Steps.of(rimMetres) > Steps.of(most)) {
            problems.add(
                    "dummy.rim",
                    "dummy.rim",
                    "a distance to the rim of " + Steps.micrometres(rimMetres)
                            + " leaves no room for a dummy on a stamp of " + Steps.micrometres(outline.width()) + " x "
                            + Steps.micrometres(outline.height()),
                    most < 0 ? "dummies smaller than the stamp" : "at most " + Steps.micrometres(most));
        }
    }

    private static void checkSymmetry(MapOptions.Outline outline, TileGrid grid, Problems problems) {
        double overX = grid.originXMetres() + grid.columns() * grid.pitchMetres() - outline.maxX();
        double overY = grid.originYMetres() + grid.rows() * grid.pitchMetres() - outline.maxY();
        if (Steps.of(overX) != 0 || Steps.of(overY) != 0) {
            double side = Math.max(outline.width() / grid.columns(), outline.height() / grid.rows());
            problems.add(
                    "dummy.symmetric",
                    "dummy.symmetric",
                    "tiles of " + Steps.micrometres(grid.pitchMetres()) + " are not mirrored onto tiles: the stamp of "
                            + Steps.micrometres(outline.width()) + " x " + Steps.micrometres(outline.height())
                            + " is no whole number of them",
                    "a tile side that divides both sides, near " + Steps.micrometres(side));
        }
        if (odd(outline.minX(), outline.maxX()) || odd(outline.minY(), outline.maxY())) {
            problems.add(
                    "dummy.symmetric",
                    "dummy.symmetric",
                    "the stamp's centre lies between the steps of 0.1 nm of layout files, so nothing can be mirrored about it"
                            + " exactly",
                    "a stamp whose sides are multiples of 0.2 nm");
        }
    }

    /** Whether the middle of two ends is no whole step. */
    private static boolean odd(double from, double to) {
        double sum = Steps.of(from) + Steps.of(to);
        return sum != 2 * Math.rint(sum / 2);
    }
}
