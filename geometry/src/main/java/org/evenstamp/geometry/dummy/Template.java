package org.evenstamp.geometry.dummy;

/** A dummy about the origin, in steps: its corners, its exact area, and how near an edge may come to it. */
final class Template {
    /** A distance that falls short by less than this share is equal but for rounding. */
    private static final double EQUAL = 1 - 1e-12;

    final long halfX;
    final long halfY;
    final boolean round;
    /** Corners, x and y in turn, counterclockwise. */
    final long[] corners;
    /** Area in square steps. */
    final long area;

    private final long halfArm;

    Template(DummyShape shape) {
        halfX = Steps.half(shape.widthMetres());
        halfY = Steps.half(shape.heightMetres());
        round = shape.kind() == DummyShape.Kind.DISC;
        halfArm = shape.kind() == DummyShape.Kind.CROSS ? Steps.half(shape.armMetres()) : 0;
        corners = switch (shape.kind()) {
            case SQUARE, LINE -> new long[] {-halfX, -halfY, halfX, -halfY, halfX, halfY, -halfX, halfY};
            case CROSS -> cross(halfX, halfArm);
            case DISC -> disc(halfX);
        };
        long twice = 0;
        for (int i = 0, j = corners.length - 2; i < corners.length; j = i, i += 2) {
            twice += corners[j] * corners[i + 1] - corners[i] * corners[j + 1];
        }
        area = twice / 2; // even: every shape is its own mirror image
    }

    private static long[] cross(long s, long a) {
        return new long[] {-a, -s, a, -s, a, -a, s, -a, s, a, a, a, a, s, -a, s, -a, a, -s, a, -s, -a, -a, -a};
    }

    private static long[] disc(long radius) {
        int n = DummyShape.DISC_VERTICES;
        long[] corners = new long[2 * n];
        // The first quarter, inside the circle; the others are its mirror images to the last step.
        for (int k = 0; k < n / 4; k++) {
            double angle = 2 * Math.PI * (k + 0.5) / n;
            long x = (long) (radius * StrictMath.cos(angle));
            long y = (long) (radius * StrictMath.sin(angle));
            put(corners, k, x, y);
            put(corners, n / 2 - 1 - k, -x, y);
            put(corners, n / 2 + k, -x, -y);
            put(corners, n - 1 - k, x, -y);
        }
        return corners;
    }

    private static void put(long[] corners, int k, long x, long y) {
        corners[2 * k] = x;
        corners[2 * k + 1] = y;
    }

    /** Returns whether an edge, its ends relative to the dummy's centre, comes nearer than {@code spacing} or touches. */
    boolean tooNear(double x0, double y0, double x1, double y1, double spacing) {
        if (round) {
            return below(segmentPoint(x0, y0, x1, y1), halfX + spacing, spacing);
        }
        if (halfArm == 0) {
            return below(segmentBox(halfX, halfY, x0, y0, x1, y1), spacing, spacing);
        }
        return below(segmentBox(halfX, halfArm, x0, y0, x1, y1), spacing, spacing)
                || below(segmentBox(halfArm, halfY, x0, y0, x1, y1), spacing, spacing);
    }

    /** Returns whether this dummy and another, at this distance from centre to centre, come nearer than {@code gap}. */
    boolean tooNear(Template other, double dx, double dy, double gap) {
        if (round && other.round) {
            return below(dx * dx + dy * dy, halfX + other.halfX + gap, gap);
        }
        // Crosses and discs beside other shapes as the boxes around them.
        double x = Math.max(0, Math.abs(dx) - halfX - other.halfX);
        double y = Math.max(0, Math.abs(dy) - halfY - other.halfY);
        return below(x * x + y * y, gap, gap);
    }

    private static boolean below(double squaredDistance, double least, double spacing) {
        return squaredDistance < least * least * EQUAL || (spacing == 0 && squaredDistance <= least * least);
    }

    private static double segmentPoint(double x0, double y0, double x1, double y1) {
        double dx = x1 - x0;
        double dy = y1 - y0;
        double length = dx * dx + dy * dy;
        double along = -(x0 * dx + y0 * dy);
        if (along <= 0 || length == 0) {
            return x0 * x0 + y0 * y0;
        }
        if (along >= length) {
            return x1 * x1 + y1 * y1;
        }
        double cross = x0 * dy - y0 * dx;
        return cross * cross / length;
    }

    /** Squared distance of a segment from the box of these half sides about the origin; 0 when they meet. */
    private static double segmentBox(long hx, long hy, double x0, double y0, double x1, double y1) {
        double nearest = Math.min(pointBox(hx, hy, x0, y0), pointBox(hx, hy, x1, y1));
        if (nearest == 0) {
            return 0;
        }
        double dx = x1 - x0;
        double dy = y1 - y0;
        double length = dx * dx + dy * dy;
        boolean left = false;
        boolean right = false;
        for (int corner = 0; corner < 4; corner++) {
            double cx = ((corner & 1) == 0 ? -hx : hx) - x0;
            double cy = ((corner & 2) == 0 ? -hy : hy) - y0;
            double cross = dx * cy - dy * cx;
            left |= cross >= 0;
            right |= cross <= 0;
            double along = cx * dx + cy * dy;
            if (along > 0 && along < length) {
                nearest = Math.min(nearest, cross * cross / length);
            }
        }
        boolean boxesMeet =
                Math.min(x0, x1) <= hx && Math.max(x0, x1) >= -hx && Math.min(y0, y1) <= hy && Math.max(y0, y1) >= -hy;
        return left && right && boxesMeet ? 0 : nearest;
    }

    private static double pointBox(long hx, long hy, double x, double y) {
        double dx = Math.max(0, Math.abs(x) - hx);
        double dy = Math.max(0, Math.abs(y) - hy);
        return dx * dx + dy * dy;
    }
}
