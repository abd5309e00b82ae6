package org.evenstamp.analysis.film.solve;

import java.util.Arrays;

/**
 * How a sum goes with what {@link GapMobility} and {@link FaceConductances} made the conductances of a step of: gap, rate and film
 * when the step began, and the drawing. It is given the derivatives by the conductances, face by face, and then asked.
 */
final class MobilitySlopes {
    private final SolverInput input;
    private final GapMobility mobility;
    private final double[] byX;
    private final double[] byY;
    private final double[] byLand;
    private final double[] byRoof;
    private final double[] byShare;
    private final double[] bySeriesFraction;
    private boolean[] full = {};
    private double factor;

    // Of one tile, for those who ask.
    double gap;
    double rate;
    double film;
    double fraction;
    double volume;
    double thickness;
    double logStep; // by the logarithm of the step's length, through the gap that is foreseen
    double logFluidity; // by the logarithm of the tile's fluidity

    // Of a mean cubed gap.
    private double byGap;
    private double byFraction;
    private double byDepth;

    MobilitySlopes(SolverInput input, GapMobility mobility) {
        this.input = input;
        this.mobility = mobility;
        int size = input.grid.size();
        byX = new double[size];
        byY = new double[size];
        byLand = new double[size];
        byRoof = new double[size];
        byShare = new double[size];
        bySeriesFraction = new double[size];
    }

    /**
     * Begins a step.
     *
     * @param fullAtStart tiles that were full when it began
     */
    void begin(double timeOverViscosity, boolean[] fullAtStart) {
        factor = timeOverViscosity / input.grid.tileAreaSquareMetres();
        full = fullAtStart;
        for (double[] map : new double[][] {byX, byY, byLand, byRoof, byShare, bySeriesFraction}) {
            Arrays.fill(map, 0);
        }
    }

    /** Adds a derivative by the conductance of a tile to what lies around the map. */
    void ofEdge(int i, int row, int column, double slope) {
        int lastColumn = input.grid.columns() - 1;
        int lastRow = input.grid.rows() - 1;
        int sidesX = !input.openX ? 0 : (column == 0 ? 1 : 0) + (column == lastColumn ? 1 : 0);
        int sidesY = !input.openY ? 0 : (row == 0 ? 1 : 0) + (row == lastRow ? 1 : 0);
        byX[i] += 2 * factor * sidesX * slope;
        byY[i] += 2 * factor * sidesY * slope;
    }

    /** Adds derivatives by the three conductances of a face. */
    void ofFace(FaceConductances faces, int tile, int next, double ofOpen, double ofLand, double ofWall) {
        if (!faces.linked()) {
            between(faces, tile, next, factor * ofOpen);
            return;
        }
        boolean fullHere = full[tile] && input.cavityVolume[tile] > 0;
        boolean fullThere = full[next] && input.cavityVolume[next] > 0;
        if (fullHere && fullThere) {
            between(faces, tile, next, factor * ofOpen);
        } else if (fullHere || fullThere) {
            mixed(faces, tile, next, fullHere, new double[] {ofOpen, ofLand, ofWall});
        } else {
            double[] cubed = mobility.cubedLand;
            double both = cubed[tile] + cubed[next];
            double slope = 2 * factor * faces.link[tile] * ofLand / (both * both);
            byLand[tile] += slope * cubed[next] * cubed[next];
            byLand[next] += slope * cubed[tile] * cubed[tile];
            between(faces, tile, next, factor * faces.cavityShare[tile] * ofOpen);
            if (faces.wallLink[tile] != 0) {
                int from = faces.wallLink[tile] > 0 ? tile : next;
                int to = faces.wallLink[tile] > 0 ? next : tile;
                double link = Math.abs(faces.wallLink[tile]);
                double land = cubed[from];
                double roof = mobility.cubedRoof[to];
                double below = 1 + mobility.share[to] * link * land / roof;
                double wall = factor * faces.wallLink[tile] * ofWall / (below * below);
                byLand[from] += wall;
                byShare[to] -= wall * land * link * land / roof;
                byRoof[to] += wall * land * mobility.share[to] * link * land / (roof * roof);
            }
        }
    }

    /** Between a tile full with cavities and one that is not. */
    private void mixed(FaceConductances faces, int tile, int next, boolean fullHere, double[] of) {
        int from = fullHere ? tile : next;
        int to = fullHere ? next : tile;
        double shared = faces.link[tile] == 0 ? 0 : 1 - faces.cavityShare[tile];
        double series = faces.series(from, mobility);
        double land = mobility.cubedLand[to];
        double across = 1 / (0.5 / series + 0.5 / land);
        double slope = factor * shared * of[1] * across * across * 0.5;
        double bySeries = slope / (series * series);
        byLand[to] += slope / (land * land);
        double wallLink = faces.wallLink[tile];
        if (fullHere ? wallLink < 0 : wallLink > 0) {
            double link = 0.5 * Math.abs(wallLink);
            double below = 1 + link * land / series;
            double wall = factor * wallLink * of[2] / (below * below);
            byLand[to] += wall;
            bySeries += wall * land * link * land / (series * series);
        } else {
            between(faces, tile, next, factor * (1 - shared) * of[0]);
        }
        double share = input.cavityFraction[from];
        double roof = mobility.cubedRoof[from];
        double low = mobility.cubedLand[from];
        double squared = bySeries * series * series;
        byRoof[from] += squared * share / (roof * roof);
        byLand[from] += squared * (1 - share) / (low * low);
        bySeriesFraction[from] -= squared * (1 / roof - 1 / low);
    }

    private void between(FaceConductances faces, int i, int j, double slope) {
        double[] cubed = faces.up ? mobility.cubedY : mobility.cubedX;
        double[] into = faces.up ? byY : byX;
        if (full[i] == full[j]) {
            double both = cubed[i] + cubed[j];
            into[i] += 2 * slope * cubed[j] * cubed[j] / (both * both);
            into[j] += 2 * slope * cubed[i] * cubed[i] / (both * both);
            return;
        }
        int from = full[i] ? i : j;
        int to = full[i] ? j : i;
        double value = 1 / (0.5 / cubed[from] + mobility.share[to] / cubed[to]);
        double squared = slope * value * value;
        into[from] += squared * 0.5 / (cubed[from] * cubed[from]);
        into[to] += squared * mobility.share[to] / (cubed[to] * cubed[to]);
        byShare[to] -= squared / cubed[to];
    }

    /**
     * Takes the derivatives by what makes the mobility of a tile.
     *
     * @param flows fluidity of the tile over that of the most fluid one, 0 where it has set
     */
    void take(int i, double dt, double landGap, double rateBefore, double filmBefore, double flows) {
        logFluidity = byX[i] * mobility.cubedX[i]
                + byY[i] * mobility.cubedY[i]
                + byLand[i] * mobility.cubedLand[i]
                + byRoof[i] * mobility.cubedRoof[i];
        double foreseen = landGap + dt * rateBefore;
        double predicted = Math.min(1.5 * landGap, Math.max(0.6 * landGap, foreseen));
        fraction = bySeriesFraction[i];
        volume = 0;
        double byPredicted = 0;
        if (byX[i] != 0) {
            byPredicted += cubedGap(i, predicted, false, flows * byX[i]);
        }
        if (byY[i] != 0) {
            byPredicted += cubedGap(i, predicted, true, flows * byY[i]);
        }
        double share = input.cavityFraction[i];
        double depth = share > 0 ? input.cavityVolume[i] / share : 0;
        double open = Math.max(predicted, 1e-12);
        double ofRoof = 3 * flows * byRoof[i] * (open + depth) * (open + depth);
        if (predicted > 1e-12) {
            byPredicted += 3 * flows * byLand[i] * open * open + ofRoof;
        }
        if (share > 0) {
            volume += ofRoof / share;
            fraction -= ofRoof * depth / share;
        }
        if (foreseen < 0.6 * landGap) {
            gap = 0.6 * byPredicted;
            rate = 0;
        } else if (foreseen > 1.5 * landGap) {
            gap = 1.5 * byPredicted;
            rate = 0;
        } else {
            gap = byPredicted;
            rate = dt * byPredicted;
        }
        logStep = rate * rateBefore;
        film = 0;
        thickness = 0;
        if (share > 0 && byShare[i] != 0) {
            front(i, landGap, filmBefore, byShare[i]);
        }
    }

    /** What {@code GapMobility.front} computes. */
    private void front(int i, double landGap, double filmBefore, double slope) {
        double share = input.cavityFraction[i];
        double untouched = input.thickness[i];
        double behind = filmBefore - (1 - share) * landGap - share * untouched;
        double room = share * (landGap - untouched) + input.cavityVolume[i];
        if (behind <= 0 || behind >= room) {
            return;
        }
        double byBehind = slope / room;
        double byRoom = -slope * behind / (room * room);
        film += byBehind;
        gap += -byBehind * (1 - share) + byRoom * share;
        fraction += (byBehind + byRoom) * (landGap - untouched);
        thickness -= share * (byBehind + byRoom);
        volume += byRoom;
    }

    /** What {@code GapMobility.cubedGap} computes: adds to fraction and volume, returns the part of the gap. */
    private double cubedGap(int i, double h, boolean alongY, double slope) {
        double share = input.cavityFraction[i];
        double depth = share > 0 ? input.cavityVolume[i] / share : 0;
        double floor = 1e-3 * input.filmThickness;
        double least = share < 1 ? 1e-12 : floor - depth;
        double open = Math.max(h, least);
        double angle = input.lineAngle[i];
        byGap = 0;
        byFraction = 0;
        byDepth = 0;
        if (Double.isNaN(angle)) {
            mean(input.mobility, share, open, depth, slope);
        } else {
            double cos = alongY ? Math.sin(angle) : Math.cos(angle);
            mean(Mobility.PARALLEL, share, open, depth, slope * cos * cos);
            mean(Mobility.SERIES, share, open, depth, slope * (1 - cos * cos));
        }
        if (h < least) {
            byDepth -= share < 1 ? 0 : byGap;
            byGap = 0;
        }
        if (share > 0) {
            volume += byDepth / share;
            fraction += byFraction - byDepth * depth / share;
        }
        return byGap;
    }

    /** Adds the derivatives of {@link Mobility#cubedGap}, times a factor. */
    private void mean(Mobility rule, double share, double gap, double depth, double slope) {
        double low = gap * gap * gap;
        double deep = gap + depth;
        double high = deep * deep * deep;
        if (share <= 0 || share >= 1) {
            double at = share <= 0 ? gap : deep;
            byGap += 3 * slope * at * at;
            byDepth += share <= 0 ? 0 : 3 * slope * at * at;
            return;
        }
        double parallel = share * high + (1 - share) * low;
        double series = 1 / (share / high + (1 - share) / low);
        double ofParallel = 0;
        double ofSeries = 0;
        switch (rule) {
            case PARALLEL -> ofParallel = slope;
            case SERIES -> ofSeries = slope;
            default -> {
                double mean = Math.sqrt(parallel * series);
                ofParallel = slope * mean / (2 * parallel);
                ofSeries = slope * mean / (2 * series);
            }
        }
        double squared = ofSeries * series * series;
        double byHigh = ofParallel * share + squared * share / (high * high);
        double byLow = ofParallel * (1 - share) + squared * (1 - share) / (low * low);
        byGap += byHigh * 3 * deep * deep + byLow * 3 * gap * gap;
        byDepth += byHigh * 3 * deep * deep;
        byFraction += ofParallel * (high - low) - squared * (1 / high - 1 / low);
    }
}
