package org.evenstamp.geometry.layout;

import org.jspecify.annotations.Nullable;

/**
 * How a drawing lies on the stamp: mirrored first, then turned about its origin, then shifted. Quarter turns only, so that
 * coordinates stay what they were but for signs and the shift.
 *
 * @param mirroredX whether left and right are exchanged, x to -x
 * @param quarterTurns counterclockwise turns by 90 degrees, 0 to 3
 * @param shiftXMetres shift along x
 * @param shiftYMetres shift along y
 */
public record Pose(boolean mirroredX, int quarterTurns, double shiftXMetres, double shiftYMetres) {
    /** As it was drawn. */
    public static final Pose AS_DRAWN = new Pose(false, 0, 0, 0);

    /** Checks the ranges. */
    public Pose {
        if (quarterTurns < 0 || quarterTurns > 3 || !Double.isFinite(shiftXMetres) || !Double.isFinite(shiftYMetres)) {
            throw new IllegalArgumentException("a pose needs 0 to 3 quarter turns and finite shifts");
        }
    }

    /** Moves points, x and y in turn, in metres. */
    public void apply(double[] xy, int points) {
        for (int i = 0; i < 2 * points; i += 2) {
            double x = mirroredX ? -xy[i] : xy[i];
            double y = xy[i + 1];
            xy[i] = turnedX(x, y) + shiftXMetres;
            xy[i + 1] = turnedY(x, y) + shiftYMetres;
        }
    }

    /** Moves a box: left, lower, right and upper end, in metres. */
    public void applyToBox(double[] box) {
        apply(box, 2);
        double x0 = Math.min(box[0], box[2]);
        double x1 = Math.max(box[0], box[2]);
        double y0 = Math.min(box[1], box[3]);
        double y1 = Math.max(box[1], box[3]);
        box[0] = x0;
        box[1] = y0;
        box[2] = x1;
        box[3] = y1;
    }

    private double turnedX(double x, double y) {
        return switch (quarterTurns) {
            case 0 -> x;
            case 1 -> -y;
            case 2 -> -x;
            default -> y;
        };
    }

    private double turnedY(double x, double y) {
        return switch (quarterTurns) {
            case 0 -> y;
            case 1 -> x;
            case 2 -> -y;
            default -> -x;
        };
    }

    /** Returns the array that the copies of a moved polygon make. */
    public @Nullable Repeat apply(@Nullable Repeat repeat) {
        if (repeat == null) {
            return null;
        }
        double dx = mirroredX ? -repeat.dxMetres() : repeat.dxMetres();
        double dy = repeat.dyMetres();
        return quarterTurns % 2 == 0
                ? new Repeat(repeat.columns(), repeat.rows(), turnedX(dx, 0) + 0.0, turnedY(0, dy) + 0.0)
                : new Repeat(repeat.rows(), repeat.columns(), turnedX(0, dy) + 0.0, turnedY(dx, 0) + 0.0);
    }

    /** Returns the pattern that fills a moved polygon. */
    public @Nullable Texture apply(@Nullable Texture texture) {
        if (texture == null) {
            return null;
        }
        double angle = mirroredX ? Math.PI - texture.angleRadians() : texture.angleRadians();
        return new Texture(
                texture.kind(),
                texture.pitchMetres(),
                texture.widthMetres(),
                angle + quarterTurns * Math.PI / 2,
                texture.lattice());
    }
}
