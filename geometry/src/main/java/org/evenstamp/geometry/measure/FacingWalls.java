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

    private double inside;
    private double outside;
    /** Parts of a stretch from which another is seen. */
    private double[] seenFrom = new double[8];

    private double[] seenTo = new double[8];
    private int seen;

    /** Straight stretches of wall, the drawn ground on their left. */
    public static final class Stretches {
        private int size;
        private double[] x0 = new double[64];
        private double[] y0 = new double[64];
        private double[] x1 = new double[64];
        private double[] y1 = new double[64];
        private double[] ux = new double[64];
        private double[] uy = new double[64];
        private double[] length = new double[64];
        private double[] beforeX = new double[64];
        private double[] beforeY = new double[64];
        private int[] from = new int[64];
        private int[] to = new int[64];
        private long[] polygon = new long[64];

        /** Forgets all stretches. */
        public void clear() {
            size = 0;
        }

        /** Returns how many there are. */
        public int size() {
            return size;
        }

        /**
         * Adds the stretch from one vertex to the next.
         *
         * @param px vertex before its first
         * @param py vertex before its first
         * @param ax its first end
         * @param ay its first end
         * @param bx its other end
         * @param by its other end
         * @param first number of the vertex at its first end, the same for the stretch that ends there
         * @param last number of the vertex at its other end
         * @param owner number of its polygon: between walls of different ones there is no inside
         */
        public void add(
                double px, double py, double ax, double ay, double bx, double by, int first, int last, long owner) {
            double dx = bx - ax;
            double dy = by - ay;
            double along = Math.sqrt(dx * dx + dy * dy);
            if (!(along > 0)) {
                return;
            }
            if (size == x0.length) {
                grow();
            }
            x0[size] = ax;
            y0[size] = ay;
            x1[size] = bx;
            y1[size] = by;
            ux[size] = dx / along;
            uy[size] = dy / along;
            length[size] = along;
            beforeX[size] = ax - px;
            beforeY[size] = ay - py;
            from[size] = first;
            polygon[size] = owner;
            to[size++] = last;
        }

        private void grow() {
            int room = 2 * size;
            x0 = Arrays.copyOf(x0, room);
            y0 = Arrays.copyOf(y0, room);
            x1 = Arrays.copyOf(x1, room);
            y1 = Arrays.copyOf(y1, room);
            ux = Arrays.copyOf(ux, room);
            uy = Arrays.copyOf(uy, room);
            length = Arrays.copyOf(length, room);
            beforeX = Arrays.copyOf(beforeX, room);
            beforeY = Arrays.copyOf(beforeY, room);
            from = Arrays.copyOf(from, room);
            to = Arrays.copyOf(to, room);
            polygon = Arrays.copyOf(polygon, room);
        }

        /** Positive where the corner at the first end turns left, away from the ground outside. */
        private double turn(int i) {
            return beforeX[i] * uy[i] - beforeY[i] * ux[i];
        }

        /** Whether the corner at the first end is the nearest point of its surroundings for what lies in this direction. */
        private boolean corner(int i, double dx, double dy) {
            double slack = ROUNDING * (Math.abs(dx) + Math.abs(dy));
            double before = Math.abs(beforeX[i]) + Math.abs(beforeY[i]);
            return dx * ux[i] + dy * uy[i] <= slack && dx * beforeX[i] + dy * beforeY[i] >= -slack * before;
        }
    }

    /** Forgets what was found; only places narrower than these are looked for. */
    public void restart(double insideMetres, double outsideMetres) {
        inside = insideMetres;
        outside = outsideMetres;
    }

    /** Returns the narrowest place inside, or what the search began with. */
    public double insideMetres() {
        return inside;
    }

    /** Returns the narrowest place outside, or what the search began with. */
    public double outsideMetres() {
        return outside;
    }

    /**
     * Compares every stretch of the first with every wall.
     *
     * @param first those whose parts within the window count
     * @param all all walls as far from them as the search is asked to look, they themselves included
     * @param window left, lower, right and upper end
     */
    public void compare(Stretches first, Stretches all, double[] window) {
        for (int i = 0; i < first.size; i++) {
            double low = Math.max(
                    entry(first.x0[i], first.ux[i], window[0], window[2]),
                    entry(first.y0[i], first.uy[i], window[1], window[3]));
            double high = Math.min(
                    exit(first.x0[i], first.ux[i], window[0], window[2]),
                    exit(first.y0[i], first.uy[i], window[1], window[3]));
            low = Math.max(0, low);
            high = Math.min(first.length[i], high);
            if (low <= high) {
                see(first, i, low, high, all);
            }
        }
    }

    /** What can be seen from a stretch of wall, its part from low to high. */
    private void see(Stretches first, int i, double low, double high, Stretches all) {
        double ux = first.ux[i];
        double uy = first.uy[i];
        double turn = first.turn(i);
        for (int j = 0; j < all.size; j++) {
            boolean same = first.polygon[i] == all.polygon[j];
            double ax = all.x0[j] - first.x0[i];
            double ay = all.y0[j] - first.y0[i];
            double bx = all.x1[j] - first.x0[i];
            double by = all.y1[j] - first.y0[i];
            // Both ends of the other as seen along and across the first; inside is where across is positive.
            double hereA = ax * ux + ay * uy;
            double hereB = bx * ux + by * uy;
            double overA = ay * ux - ax * uy;
            double overB = by * ux - bx * uy;
            double most = same ? Math.max(inside, outside) : outside;
            if ((overA >= most && overB >= most)
                    || (overA <= -most && overB <= -most)
                    || (hereA - high >= most && hereB - high >= most)
                    || (low - hereA >= most && low - hereB >= most)
                    || (same && first.from[i] == all.from[j])) {
                continue;
            }
            boolean joined = same && (first.to[i] == all.from[j] || all.to[j] == first.from[i]);
            if (ux * all.ux[j] + uy * all.uy[j] <= FACING) {
                double from = Math.max(low, hereB);
                double to = Math.min(high, hereA);
                double slope = (overA - overB) / (hereA - hereB);
                double one = overB + slope * (from - hereB);
                double other = overB + slope * (to - hereB);
                double middle = (one + other) / 2;
                double reach = middle > 0 ? (same ? inside : 0) : outside;
                double least = joined ? 0 : Math.min(Math.abs(one), Math.abs(other));
                boolean onOneSide = joined || (one > 0) == (other > 0);
                if (to - from > ROUNDING * first.length[i] && onOneSide && least < reach) {
                    across(first, i, all, j, from, to, one, other, joined);
                }
            }
            if (!joined) {
                corners(first, i, low, high, turn, all, j, hereA, overA, same);
            }
        }
    }

    /** Ways square to a stretch from its part between two places to another, here one and other long. */
    private void across(
            Stretches first,
            int i,
            Stretches all,
            int j,
            double from,
            double to,
            double one,
            double other,
            boolean joined) {
        seenFrom[0] = from;
        seenTo[0] = to;
        seen = 1;
        double slope = (other - one) / (to - from);
        double side = one + other > 0 ? 1 : -1;
        double ux = first.ux[i];
        double uy = first.uy[i];
        for (int k = 0; k < all.size && seen > 0; k++) {
            double ax = all.x0[k] - first.x0[i];
            double ay = all.y0[k] - first.y0[i];
            double bx = all.x1[k] - first.x0[i];
            double by = all.y1[k] - first.y0[i];
            double hereA = ax * ux + ay * uy;
            double hereB = bx * ux + by * uy;
            double begins = Math.max(from, Math.min(hereA, hereB));
            double ends = Math.min(to, Math.max(hereA, hereB));
            if (k == j || !(ends - begins > ROUNDING * first.length[i])) {
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
        double wide = 0;
        for (int n = 0; n < seen; n++) {
            double a = side * (one + slope * (seenFrom[n] - from));
            double b = side * (one + slope * (seenTo[n] - from));
            narrow = Math.min(narrow, Math.min(a, b));
            wide = Math.max(wide, Math.max(a, b));
        }
        if (seen > 0) {
            take(joined ? wide : narrow, side > 0);
        }
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

    /** Places at the corner where either stretch begins. */
    private void corners(
            Stretches first,
            int i,
            double low,
            double high,
            double turn,
            Stretches all,
            int j,
            double hereA,
            double overA,
            boolean same) {
        double otherTurn = all.turn(j);
        // The other's corner above the first stretch.
        if (hereA >= low && hereA <= high && juts(otherTurn, overA > 0, same) && improves(Math.abs(overA), overA > 0)) {
            double ux = first.ux[i];
            double uy = first.uy[i];
            if (all.corner(j, overA * uy, -overA * ux)) {
                double x = first.x0[i] + hereA * ux;
                double y = first.y0[i] + hereA * uy;
                take(all.x0[j], all.y0[j], x, y, Math.abs(overA), overA > 0, all);
            }
        }
        if (low > 0 || turn == 0) {
            return;
        }
        double x = first.x0[i];
        double y = first.y0[i];
        double dx = all.x0[j] - x;
        double dy = all.y0[j] - y;
        double along = -(dx * all.ux[j] + dy * all.uy[j]);
        double over = dx * all.uy[j] - dy * all.ux[j];
        // The first's corner above the other stretch.
        if (along >= 0 && along <= all.length[j] && juts(turn, over > 0, same) && improves(Math.abs(over), over > 0)) {
            if (first.corner(i, over * all.uy[j], -over * all.ux[j])) {
                take(x, y, x + over * all.uy[j], y - over * all.ux[j], Math.abs(over), over > 0, all);
            }
        }
        boolean bothOut = turn > 0 && otherTurn > 0;
        boolean bothIn = turn < 0 && otherTurn < 0 && same;
        if ((bothOut || bothIn) && first.corner(i, dx, dy) && all.corner(j, -dx, -dy)) {
            take(x, y, x + dx, y + dy, Math.sqrt(dx * dx + dy * dy), bothIn, all);
        }
    }

    /** Whether a corner juts out into this side. */
    private static boolean juts(double turn, boolean insideOfIt, boolean same) {
        return insideOfIt ? same && turn < 0 : turn > 0;
    }

    private boolean improves(double width, boolean insideOfIt) {
        return width > TOUCHING && width < (insideOfIt ? inside : outside);
    }

    private void take(double width, boolean insideOfIt) {
        if (improves(width, insideOfIt)) {
            if (insideOfIt) {
                inside = width;
            } else {
                outside = width;
            }
        }
    }

    /** Takes the way from one point to another unless a wall crosses it. */
    private void take(double ax, double ay, double bx, double by, double width, boolean insideOfIt, Stretches all) {
        if (!improves(width, insideOfIt)) {
            return;
        }
        for (int k = 0; k < all.size; k++) {
            double a = (bx - ax) * (all.y0[k] - ay) - (by - ay) * (all.x0[k] - ax);
            double b = (bx - ax) * (all.y1[k] - ay) - (by - ay) * (all.x1[k] - ax);
            double c = all.ux[k] * (ay - all.y0[k]) - all.uy[k] * (ax - all.x0[k]);
            double d = all.ux[k] * (by - all.y0[k]) - all.uy[k] * (bx - all.x0[k]);
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
