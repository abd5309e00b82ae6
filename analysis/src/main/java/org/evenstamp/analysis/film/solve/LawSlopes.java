package org.evenstamp.analysis.film.solve;

/**
 * How the pressure on a tile with room in its cavities goes with all it depends on: the derivatives of {@link TileLaw#pressure}
 * at a gap, for a film without gas and without thinning.
 */
final class LawSlopes {
    double gap; // by the gap h itself, negative
    double touch; // by the gap at which the step's squeezing starts
    double film; // by the film there was when the step began
    double fraction;
    double volume;
    double edges;
    double thickness;
    double reach;
    double own;
    double moment;
    double logViscosity;
    double capillary;

    private final SolverInput input;
    private final TileLaw law;

    // Of the resistance under the roof at one height.
    private double value;
    private double byGap;
    private double byFilm;
    private double byFraction;
    private double byVolume;
    private double byEdges;
    private double byThickness;
    private double byReach;

    LawSlopes(SolverInput input, TileLaw law) {
        this.input = input;
        this.law = law;
    }

    /** Takes the derivatives of a tile's law at a gap. */
    void take(int i, double h) {
        double start = law.touch[i];
        double inverseA = law.inverseA[i];
        double ratio = start / h;
        double land = (ratio * ratio - 1) * inverseA;
        gap = -2 * inverseA * ratio * ratio / h;
        touch = 2 * inverseA * ratio / h - 2 * land / start;
        double perMoment = input.squeezeMoment[i] > 0 ? inverseA / input.squeezeMoment[i] : 0;
        moment = (ratio * ratio - 1) * perMoment;
        film = 0;
        fraction = input.capillaryPressure[i];
        volume = 0;
        edges = 0;
        thickness = 0;
        reach = 0;
        capillary = input.cavityFraction[i] - 1;
        logViscosity = land;
        double factor = law.roofFactor[i];
        if (factor != 0) {
            logViscosity += factor * underRoof(i, h, factor);
        }
        own = -logViscosity / input.ownShare[i];
    }

    /** Adds the derivatives of the way under the roof, times a factor, and returns its value without it. */
    private double underRoof(int i, double h, double factor) {
        double start = law.touch[i];
        double middle = (start + h) / 2;
        double half = (start - h) / 2;
        double sum = 0;
        for (int n = 0; n < TileLaw.GAUSS_AT.length; n++) {
            for (int sign = -1; sign <= 1; sign += 2) {
                double at = sign * TileLaw.GAUSS_AT[n];
                resistance(i, middle + half * at);
                double weight = TileLaw.GAUSS_WEIGHT[n];
                sum += weight * value;
                double w = factor * weight;
                gap += w * (half * byGap * (1 - at) / 2 - value / 2);
                touch += w * (half * byGap * (1 + at) / 2 + value / 2);
                film += w * half * byFilm;
                fraction += w * half * byFraction;
                volume += w * half * byVolume;
                edges += w * half * byEdges;
                thickness += w * half * byThickness;
                reach += w * half * byReach;
            }
        }
        return sum * half;
    }

    /** What {@code TileLaw.roofResistance} computes, with its derivatives. */
    private void resistance(int i, double h) {
        double share = input.cavityFraction[i];
        double land = 1 - share;
        double n = input.edgeDensity[i];
        double roof = h + input.cavityVolume[i] / share;
        double way = share / n;
        double untouched = input.thickness[i];
        double behind = law.filmBefore[i] - land * h - share * untouched;
        double room = share * (roof - untouched);
        double a = input.landReach[i];
        double full = behind <= 0 ? 0 : behind >= room ? 1 : behind / room;
        boolean moves = behind > 0 && behind < room;
        double front = way * full;
        double line = a * front + front * front / 2;
        double area = a * front * front / 2 + front * front * front / 3;
        double perCube = 1 / (roof * roof * roof);
        value = (land * line + n * area) * perCube;
        double byFront = (land * (a + front) + n * (a * front + front * front)) * perCube;
        double byRoof = -3 * value / roof;
        double byBehind = moves ? byFront * way / room : 0;
        double byRoom = moves ? -byFront * way * full / room : 0;
        byReach = (land * front + n * front * front / 2) * perCube;
        byFilm = byBehind;
        byGap = byRoof - byBehind * land + byRoom * share;
        byVolume = byRoof / share + byRoom;
        byThickness = -share * (byBehind + byRoom);
        byEdges = area * perCube - byFront * full * share / (n * n);
        byFraction = -line * perCube
                - byRoof * input.cavityVolume[i] / (share * share)
                + byFront * full / n
                + (byBehind + byRoom) * (h - untouched);
    }
}
