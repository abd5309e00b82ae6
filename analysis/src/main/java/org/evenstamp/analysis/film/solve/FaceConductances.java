package org.evenstamp.analysis.film.solve;

import org.evenstamp.shared.field.LandLinks;

/**
 * How easily film passes the sides of the tiles during a time step: conductances over viscosity and tile area, times the
 * step. They stay as they are while tiles fill and empty within it: so what a tile takes in does not jump when it fills, and
 * the step has one solution.
 *
 * <p>A face has three parts. Film flows from <em>land to land</em> between the pressures on the stamp; from <em>land through an
 * edge on the face</em> into the other tile's cavity; and from <em>cavity to cavity</em>: between two full tiles with the
 * harmonic mean of their mobilities, or from a full one to the meniscus of the other, which stands at the face, or behind it
 * by the filled share of that tile. Where one of two tiles is full with cavities its film flows through land and cavities one
 * after the other.
 */
final class FaceConductances {
    final double[] open; // from cavity to cavity, and all where no links are known
    final double[] land;
    final double[] wall; // from the land of the tile; negative from that beyond the face

    private final SolverInput input;
    final boolean up;
    final double[] link;
    final double[] wallLink;
    final double[] cavityShare;
    private final boolean linked;

    FaceConductances(SolverInput input, boolean up) {
        this.input = input;
        this.up = up;
        int size = input.grid.size();
        open = new double[size];
        LandLinks links = input.links;
        linked = links != null;
        land = new double[linked ? size : 0];
        wall = new double[linked ? size : 0];
        link = links == null ? new double[0] : up ? links.linkUp() : links.linkRight();
        wallLink = links == null ? new double[0] : up ? links.wallUp() : links.wallRight();
        cavityShare = links == null ? new double[0] : up ? links.cavityUp() : links.cavityRight();
    }

    boolean linked() {
        return linked;
    }

    /** Returns whether no film passes a face, whatever the gaps on its sides. */
    boolean shut(int tile) {
        return open[tile] == 0 && (!linked || (land[tile] == 0 && wall[tile] == 0));
    }

    /** Sets the face between a tile and the next one to the right or above; {@code next} is negative where film cannot pass. */
    void set(int tile, int next, double factor, GapMobility mobility, boolean[] full, boolean[] blocked) {
        boolean shut = next < 0 || blocked[tile] || blocked[next];
        if (!linked) {
            open[tile] = shut ? 0 : factor * between(tile, next, mobility, full);
            return;
        }
        open[tile] = 0;
        land[tile] = 0;
        wall[tile] = 0;
        if (shut) {
            return;
        }
        boolean fullHere = full[tile] && input.cavityVolume[tile] > 0;
        boolean fullThere = full[next] && input.cavityVolume[next] > 0;
        double shared = link[tile] == 0 ? 0 : 1 - cavityShare[tile];
        if (fullHere && fullThere) {
            open[tile] = factor * between(tile, next, mobility, full);
        } else if (fullHere || fullThere) {
            int from = fullHere ? tile : next;
            int to = fullHere ? next : tile;
            double across = 1 / (0.5 / series(from, mobility) + 0.5 / mobility.cubedLand[to]);
            land[tile] = factor * shared * across;
            boolean landAhead = fullHere ? wallLink[tile] < 0 : wallLink[tile] > 0;
            if (landAhead) {
                wall[tile] = factor
                        * wallLink[tile]
                        / (1 + 0.5 * Math.abs(wallLink[tile]) * mobility.cubedLand[to] / series(from, mobility))
                        * mobility.cubedLand[to];
            } else {
                open[tile] = factor * (1 - shared) * between(tile, next, mobility, full);
            }
        } else {
            double harmonic = 2
                    * mobility.cubedLand[tile]
                    * mobility.cubedLand[next]
                    / (mobility.cubedLand[tile] + mobility.cubedLand[next]);
            land[tile] = factor * link[tile] * harmonic;
            open[tile] = factor * cavityShare[tile] * between(tile, next, mobility, full);
            if (wallLink[tile] != 0) {
                int from = wallLink[tile] > 0 ? tile : next;
                int to = wallLink[tile] > 0 ? next : tile;
                double cubed = mobility.cubedLand[from];
                wall[tile] = factor
                        * wallLink[tile]
                        * cubed
                        / (1 + mobility.share[to] * Math.abs(wallLink[tile]) * cubed / mobility.cubedRoof[to]);
            }
        }
    }

    private double between(int i, int j, GapMobility mobility, boolean[] full) {
        double[] cubed = up ? mobility.cubedY : mobility.cubedX;
        if (full[i] == full[j]) {
            return 2 * cubed[i] * cubed[j] / (cubed[i] + cubed[j]);
        }
        int from = full[i] ? i : j;
        int to = full[i] ? j : i;
        return 1 / (0.5 / cubed[from] + mobility.share[to] / cubed[to]);
    }

    /** Land and cavities of a tile one after the other. */
    double series(int i, GapMobility mobility) {
        double share = input.cavityFraction[i];
        return 1 / (share / mobility.cubedRoof[i] + (1 - share) / mobility.cubedLand[i]);
    }
}
