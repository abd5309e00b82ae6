package org.evenstamp.analysis.film.solve;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/**
 * How a weighted sum of what {@link TileFlow} moves in a step goes with pressures and conductances: {@code Σ w H + Σ a A}, H the
 * film of a tile after the step and A what the flow of its land adds to its gap.
 *
 * <p>By the pressures it is the transposed flow; by the conductances it goes on to {@link MobilitySlopes}.
 */
final class FlowSlopes {
    final double[] byPressure; // of the film, P
    final double[] byStamp; // pressure on the stamp, q
    double byLogViscosity;

    private final TileFlow flow;
    private final TileStates tiles;
    private final int columns;
    private final int rows;
    private boolean reversed;

    FlowSlopes(SolverInput input, TileFlow flow, TileStates tiles) {
        this.flow = flow;
        this.tiles = tiles;
        columns = input.grid.columns();
        rows = input.grid.rows();
        byPressure = new double[input.grid.size()];
        byStamp = new double[input.grid.size()];
    }

    /** Takes the derivatives by the pressures. */
    void take(double[] weight, double[] ofLand) {
        take(weight, ofLand, null);
    }

    /**
     * Takes the derivatives by pressures and viscosity, and hands on those by the conductances.
     *
     * @param weight w, one a tile
     * @param ofLand a, one a tile; 0 where the gap does not go with the flow of its land
     * @param mobility takes the derivatives by conductances; null for none
     */
    void take(double[] weight, double[] ofLand, @Nullable MobilitySlopes mobility) {
        Arrays.fill(byPressure, 0);
        Arrays.fill(byStamp, 0);
        byLogViscosity = 0;
        reversed = false;
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                int i = row * columns + column;
                face(flow.east, i, flow.cyclicRight(i, column), weight, ofLand, mobility);
                face(flow.north, i, flow.cyclicUp(i, row), weight, ofLand, mobility);
                if (flow.edge[i] != 0) {
                    double drop = flow.edgePressure - tiles.pressure[i];
                    byPressure[i] -= weight[i] * flow.edge[i];
                    byLogViscosity -= weight[i] * flow.edge[i] * drop;
                    if (mobility != null) {
                        mobility.ofEdge(i, row, column, weight[i] * drop);
                    }
                }
            }
        }
    }

    /** Returns whether film went from cavities back under land in the last map taken: there Newton's matrix is no derivative. */
    boolean isReversed() {
        return reversed;
    }

    private void face(
            FaceConductances faces,
            int i,
            int next,
            double[] weight,
            double[] ofLand,
            @Nullable MobilitySlopes mobility) {
        double rise = weight[next] - weight[i];
        double ofOpen = 0;
        double ofLinked = 0;
        double ofWall = 0;
        if (tiles.full[i] || tiles.full[next]) {
            double turned = rise * faces.open[i];
            byPressure[i] += turned;
            byPressure[next] -= turned;
            ofOpen = rise * (tiles.pressure[i] - tiles.pressure[next]);
            byLogViscosity -= ofOpen * faces.open[i];
        }
        if (faces.linked()) {
            if (tiles.bearing[i] && tiles.bearing[next]) {
                double both = rise + ofLand[next] - ofLand[i];
                double turned = both * faces.land[i];
                byStamp[i] += turned;
                byStamp[next] -= turned;
                ofLinked = both * (tiles.q[i] - tiles.q[next]);
                byLogViscosity -= ofLinked * faces.land[i];
            }
            double wall = faces.wall[i];
            if (wall > 0 && tiles.bearing[i]) {
                ofWall = wall(wall, i, next, rise, true, ofLand[i], ofLand[next]);
            } else if (wall < 0 && tiles.bearing[next]) {
                ofWall = wall(wall, next, i, rise, false, ofLand[i], ofLand[next]);
            }
        }
        if (mobility != null && !faces.shut(i) && (ofOpen != 0 || ofLinked != 0 || ofWall != 0)) {
            mobility.ofFace(faces, i, next, ofOpen, ofLinked, ofWall);
        }
    }

    /** Takes the flow from the land of a tile through an edge on its side and returns the derivative by the conductance. */
    private double wall(double wall, int from, int to, double rise, boolean ahead, double here, double there) {
        double drop = tiles.q[from] - tiles.pressure[to];
        double through = wall * drop;
        double both = rise + (through > 0 ? -here : through < 0 ? there : 0);
        double turned = both * wall;
        byStamp[from] += turned;
        byPressure[to] -= turned;
        byLogViscosity -= both * through;
        reversed |= ahead ? through < 0 : through > 0;
        return both * drop;
    }
}
