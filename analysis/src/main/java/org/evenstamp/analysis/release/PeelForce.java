package org.evenstamp.analysis.release;

import java.util.List;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.spi.Curve;

/**
 * Force on a straight front that crosses the map: the work to part the tiles it passes, as {@link PeelFront#force} for a
 * flexible stamp. Each tile's work is shared by the two nearest of the front's places, one tile apart.
 */
final class PeelForce {
    private final double[] position;
    private final double[] force;

    private PeelForce(double[] position, double[] force) {
        this.position = position;
        this.force = force;
    }

    /**
     * Moves the front over the map.
     *
     * @param work to part each tile, J/m²
     * @param direction of the front's movement, rad from x towards y
     * @param angle of the peeled stamp against the film, rad
     */
    static PeelForce along(TileGrid grid, double[] work, double direction, double angle) {
        double pitch = grid.pitchMetres();
        double cos = Math.cos(direction);
        double sin = Math.sin(direction);
        double reach = Math.abs(cos) * (grid.columns() - 1) + Math.abs(sin) * (grid.rows() - 1);
        double[] force = new double[(int) Math.ceil(reach - 1e-9) + 1];
        double start = Math.min(0, cos * (grid.columns() - 1)) + Math.min(0, sin * (grid.rows() - 1));
        for (int i = 0; i < work.length; i++) {
            double place = Math.max(0, cos * grid.column(i) + sin * grid.row(i) - start);
            int low = Math.min(force.length - 1, (int) place);
            double share = Math.min(1, place - low);
            double tile = PeelFront.force(work[i], angle) * pitch;
            force[low] += (1 - share) * tile;
            force[Math.min(force.length - 1, low + 1)] += share * tile;
        }
        double[] position = new double[force.length];
        for (int k = 0; k < force.length; k++) {
            position[k] = (k + 0.5) * pitch;
        }
        return new PeelForce(position, force);
    }

    /** Returns the largest force, N. */
    double most() {
        double most = 0;
        for (double f : force) {
            most = Math.max(most, f);
        }
        return most;
    }

    /** Returns the way of the front, m. */
    double length() {
        return position[position.length - 1] + position[0];
    }

    /** Returns force against position. */
    Curve curve() {
        return new Curve(
                "peel",
                "force while the front crosses the stamp",
                List.of(new Curve.Column("front", "mm", position), new Curve.Column("force", "N", force)));
    }
}
