package org.evenstamp.geometry.measure;

import java.util.Arrays;

/**
 * Finds the narrowest places between walls, on both sides of them: <em>inside</em>, across what was drawn, and
 * <em>outside</em>, across the ground between drawn features.
 *
 * <p>Two stretches of wall face each other where they are within 45 degrees of parallel and a way square to the first of
 * them leads to the second with no other wall between; the shortest such way is their width. A corner that juts out faces
 * walls, and other such corners, in the directions in which it is itself the nearest point of its surroundings; there the
 * width is the distance. Hence of two features that stand apart the narrowest place between them is their distance. Walls
 * that meet in a corner of less than 45 degrees count with their width at the wide end.
 *
 * <p>Lengths in metres. Places narrower than 0.01 nm are walls that touch and count for nothing. Reuses its buffers; one a
 * thread.
 */
public final class FacingWalls {
    /** Cosine between the directions of walls that face each other, at the most. */
    private static final double FACING = -Math.sqrt(0.5);

    /** Walls this near touch: a tenth of the step in which layouts are written. */
    private static final double TOUCHING = 1e-11;

    private static final double ROUNDING = 1e-9;

    private double cavity;
    private double protrusion;
    private boolean outsideIsCavity;
    private boolean insideIsCavity;
    /** Parts of a stretch from which another is seen. */
    private double[] seenFrom = new double[8];

    private double[] seenTo = new double[8];
    private int seen;

    /**
     * Forgets what was found.
     *
     * @param cavityMetres only cavities narrower than this are looked for
     * @param protrusionMetres only protrusions narrower than this are looked for
     * @param groundIsCavity whether the ground between drawn features is a cavity, else land
     */
    public void restart(double cavityMetres, double protrusionMetres, boolean groundIsCavity) {
        cavity = cavityMetres;
        protrusion = protrusionMetres;
        outsideIsCavity = groundIsCavity;
    }

    /** Returns the narrowest cavity, or what the search began with. */
    public double cavityMetres() {
        return cavity;
    }

    /** Returns the narrowest protrusion, or what the search began with. */
    public double protrusionMetres() {
        return protrusion;
    }

    /**
     * Compares every wall within a window with all that are near enough to matter.
     *
     * @param walls all walls as far from the window as the search is asked to look
     * @param window left, lower, right and upper end
     * @param reach how far that is; infinite when all walls there are were given
     */
    public void compare(Stretches walls, double[] window, double reach) {
        boolean indexed = Double.isFinite(reach);
        if (indexed) {
            walls.index(window, reach);
        } else {
            walls.all();
        }
        walls.findWhole(window);
        for (int i = 0; i < walls.size; i++) {
            double low = 0;
            double high = walls.length(i);
            if (!walls.whole[i]) {
                int at = Stretches.PER * i;
                double x = walls.data[at];
                double y = walls.data[at + 1];
                double ux = walls.data[at + Stretches.UX];
                double uy = walls.data[at + Stretches.UY];
                low = Math.max(low, Math.max(entry(x, ux, window[0], window[2]), entry(y, uy, window[1], window[3])));
                high = Math.min(high, Math.min(exit(x, ux, window[0], window[2]), exit(y, uy, window[1], window[3])));
            }
            if (low <= high) {
                insideIsCavity = walls.cavityInside[i];
                if (!indexed || walls.findNear(i, inside() + TOUCHING, outside() + TOUCHING)) {
                    see(walls, i, low, high);
                }
            }
        }
    }

    private double inside() {
        return insideIsCavity ? cavity : protrusion;
    }

    private double outside() {
        return outsideIsCavity ? cavity : protrusion;
    }

    /** What can be seen from a stretch of wall, its part from low to high. */
    private void see(Stretches all, int i, double low, double high) {
        double[] data = all.data;
        int here = Stretches.PER * i;
        double x = data[here];
        double y = data[here + 1];
        double ux = data[here + Stretches.UX];
        double uy = data[here + Stretches.UY];
        double turn = low > 0 ? 0 : data[here + Stretches.TURN];
        long polygon = all.polygon[i];
        for (int n = 0; n < all.nearCount; n++) {
            int j = all.near[n];
            boolean same = polygon == all.polygon[j];
            if (i == j) {
                continue;
            }
            int there = Stretches.PER * j;
            boolean joined = same && (all.to[i] == all.from[j] || all.to[j] == all.from[i]);
            if (joined && ux * data[there + Stretches.UX] + uy * data[there + Stretches.UY] > FACING) {
                continue; // neither has a corner that could face the other
            }
            double ax = data[there] - x;
            double ay = data[there + 1] - y;
            double bx = data[there + 2] - x;
            double by = data[there + 3] - y;
            // Both ends of the other as seen along and across the first; inside is where across is positive.
            double overA = ay * ux - ax * uy;
            double overB = by * ux - bx * uy;
            // A little more, so that of ways equal but for rounding the shortest is found, in whatever order they come.
            double sideA = same ? inside() + TOUCHING : 0;
            double sideB = outside() + TOUCHING;
            if ((overA < sideA || overB < sideA) && (overA > -sideB || overB > -sideB)) {
                double hereA = ax * ux + ay * uy;
                double hereB = bx * ux + by * uy;
                if (Math.min(hereA, hereB) < high && Math.max(hereA, hereB) > low) {
                    double along = ux * data[there + Stretches.UX] + uy * data[there + Stretches.UY];
                    if (along <= FACING) {
                        facing(all, i, j, low, high, hereA, hereB, overA, overB, joined);
                    }
                }
                if (hereA >= low && hereA <= high && !joined) {
                    cornerAbove(all, i, j, hereA, overA, same);
                }
            }
            if (turn != 0) {
                ownCorner(all, i, j, turn, ax, ay, same);
            }
        }
    }

    /** Two that are near enough to parallel, the other seen from the first at here and over. */
    private void facing(
            Stretches all,
            int i,
            int j,
            double low,
            double high,
            double hereA,
            double hereB,
            double overA,
            double overB,
            boolean joined) {
        double from = Math.max(low, hereB);
        double to = Math.min(high, hereA);
        if (!(to - from > ROUNDING * all.length(i))) {
            return;
        }
        double slope = (overA - overB) / (hereA - hereB);
        double one = overB + slope * (from - hereB);
        double other = overB + slope * (to - hereB);
        boolean insideOfIt = one + other > 0;
        boolean same = all.polygon[i] == all.polygon[j];
        if (joined) {
            // At the wide end of the walls, wherever the window ends, so that it is one width for every window.
            double nearEnd = overB + slope * (Math.max(0, hereB) - hereB);
            double farEnd = overB + slope * (Math.min(all.length(i), hereA) - hereB);
            take(Math.max(Math.abs(nearEnd), Math.abs(farEnd)), insideOfIt);
        } else if ((one > 0) == (other > 0)
                && (same || !insideOfIt)
                && improves(Math.min(Math.abs(one), Math.abs(other)), insideOfIt)) {
            across(all, i, j, from, to, one, other);
        }
    }

    /** Ways square to a stretch from its part between two places to another, here one and other long. */
    private void across(Stretches all, int i, int j, double from, double to, double one, double other) {
        seenFrom[0] = from;
        seenTo[0] = to;
        seen = 1;
        double slope = (other - one) / (to - from);
        double side = one + other > 0 ? 1 : -1;
        double[] data = all.data;
        int here = Stretches.PER * i;
        double ux = data[here + Stretches.UX];
        double uy = data[here + Stretches.UY];
        double least = ROUNDING * all.length(i);
        for (int n = 0; n < all.nearCount && seen > 0; n++) {
            int there = Stretches.PER * all.near[n];
            double ax = data[there] - data[here];
            double ay = data[there + 1] - data[here + 1];
            double bx = data[there + 2] - data[here];
            double by = data[there + 3] - data[here + 1];
            double hereA = ax * ux + ay * uy;
            double hereB = bx * ux + by * uy;
            double begins = Math.max(from, Math.min(hereA, hereB));
            double ends = Math.min(to, Math.max(hereA, hereB));
            if (all.near[n] == j || !(ends - begins > least)) {
                continue;
            }
            double middle = (begins + ends) / 2;
            double overA = ay * ux - ax * uy;
            double overB = by * ux - bx * uy;
            double over = side * (overA + (overB - overA) * (middle - hereA) / (hereB - hereA));
            double way = side * (one + slope * (middle - from));
            if (over > TOUCHING && over < way - TOUCHING) {
                hide(begins, ends);
            }
        }
        double narrow = Double.POSITIVE_INFINITY;
        for (int n = 0; n < seen; n++) {
            double a = side * (one + slope * (seenFrom[n] - from));
            double b = side * (one + slope * (seenTo[n] - from));
            narrow = Math.min(narrow, Math.min(a, b));
        }
        take(narrow, side > 0);
    }

    /** Takes a stretch out of those that are seen. */
    private void hide(double begins, double ends) {
        double slack = ROUNDING * (ends - begins);
        int count = seen;
        for (int n = count - 1; n >= 0; n--) {
            double from = seenFrom[n];
            double to = seenTo[n];
            if (ends <= from || begins >= to) {
                continue;
            }
            boolean left = begins - from > slack;
            boolean right = to - ends > slack;
            if (left && right) {
                if (seen == seenFrom.length) {
                    seenFrom = Arrays.copyOf(seenFrom, 2 * seen);
                    seenTo = Arrays.copyOf(seenTo, 2 * seen);
                }
                seenFrom[seen] = ends;
                seenTo[seen++] = to;
                seenTo[n] = begins;
            } else if (left) {
                seenTo[n] = begins;
            } else if (right) {
                seenFrom[n] = ends;
            } else {
                seen--;
                seenFrom[n] = seenFrom[seen];
                seenTo[n] = seenTo[seen];
            }
        }
    }

    /** The corner where the other begins, straight above the first. */
    private void cornerAbove(Stretches all, int i, int j, double hereA, double overA, boolean same) {
        double otherTurn = all.data[Stretches.PER * j + Stretches.TURN];
        if (juts(otherTurn, overA > 0, same) && improves(Math.abs(overA), overA > 0)) {
            double ux = all.data[Stretches.PER * i + Stretches.UX];
            double uy = all.data[Stretches.PER * i + Stretches.UY];
            if (all.corner(j, overA * uy, -overA * ux)) {
                double x = all.data[Stretches.PER * i] + hereA * ux;
                double y = all.data[Stretches.PER * i + 1] + hereA * uy;
                take(
                        all.data[Stretches.PER * j],
                        all.data[Stretches.PER * j + 1],
                        x,
                        y,
                        Math.abs(overA),
                        overA > 0,
                        all);
            }
        }
    }

    /** The corner where the first begins, straight above the other or opposite to the corner where that begins. */
    private void ownCorner(Stretches all, int i, int j, double turn, double dx, double dy, boolean same) {
        double limit = turn > 0 ? outside() : same ? inside() : 0;
        int there = Stretches.PER * j;
        double otherTurn = all.data[there + Stretches.TURN];
        double x = all.data[Stretches.PER * i];
        double y = all.data[Stretches.PER * i + 1];
        if (turn > 0 == otherTurn > 0
                && dx * dx + dy * dy < limit * limit
                && otherTurn != 0
                && all.corner(i, dx, dy)
                && all.corner(j, -dx, -dy)) {
            take(x, y, x + dx, y + dy, Math.sqrt(dx * dx + dy * dy), turn < 0, all);
        }
        if (all.whole[j]) {
            return; // the other looks at this corner itself
        }
        double wx = all.data[there + Stretches.UX];
        double wy = all.data[there + Stretches.UY];
        double over = dx * wy - dy * wx;
        double along = -(dx * wx + dy * wy);
        boolean joined = same && (all.to[i] == all.from[j] || all.to[j] == all.from[i]);
        if (Math.abs(over) < limit
                && along >= 0
                && along <= all.length(j)
                && !joined
                && juts(turn, over > 0, same)
                && all.corner(i, over * wy, -over * wx)) {
            take(x, y, x + over * wy, y - over * wx, Math.abs(over), over > 0, all);
        }
    }

    /** Whether a corner juts out into this side. */
    private static boolean juts(double turn, boolean insideOfIt, boolean same) {
        return insideOfIt ? same && turn < 0 : turn > 0;
    }

    private boolean improves(double width, boolean insideOfIt) {
        return width > TOUCHING && width < (insideOfIt ? inside() : outside());
    }

    private void take(double width, boolean insideOfIt) {
        if (improves(width, insideOfIt)) {
            if (insideOfIt ? insideIsCavity : outsideIsCavity) {
                cavity = width;
            } else {
                protrusion = width;
            }
        }
    }

    /** Takes the way from one point to another unless a wall crosses it. */
    private void take(double ax, double ay, double bx, double by, double width, boolean insideOfIt, Stretches all) {
        if (!improves(width, insideOfIt)) {
            return;
        }
        double[] data = all.data;
        for (int n = 0; n < all.nearCount; n++) {
            int k = Stretches.PER * all.near[n];
            double a = (bx - ax) * (data[k + 1] - ay) - (by - ay) * (data[k] - ax);
            double b = (bx - ax) * (data[k + 3] - ay) - (by - ay) * (data[k + 2] - ax);
            double c = data[k + Stretches.UX] * (ay - data[k + 1]) - data[k + Stretches.UY] * (ax - data[k]);
            double d = data[k + Stretches.UX] * (by - data[k + 1]) - data[k + Stretches.UY] * (bx - data[k]);
            double slack = TOUCHING * width;
            if (((a > slack && b < -slack) || (a < -slack && b > slack))
                    && ((c > TOUCHING && d < -TOUCHING) || (c < -TOUCHING && d > TOUCHING))) {
                return;
            }
        }
        take(width, insideOfIt);
    }

    /** Where along a line that starts at {@code at} the stretch between two ends begins. */
    private static double entry(double at, double step, double low, double high) {
        if (step == 0) {
            return at >= low && at <= high ? Double.NEGATIVE_INFINITY : Double.POSITIVE_INFINITY;
        }
        return ((step > 0 ? low : high) - at) / step;
    }

    private static double exit(double at, double step, double low, double high) {
        if (step == 0) {
            return at >= low && at <= high ? Double.POSITIVE_INFINITY : Double.NEGATIVE_INFINITY;
        }
        return ((step > 0 ? high : low) - at) / step;
    }
}
