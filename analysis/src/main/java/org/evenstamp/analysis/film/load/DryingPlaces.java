package org.evenstamp.analysis.film.load;

import java.util.Arrays;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.imprint.FilmShape;
import org.evenstamp.analysis.imprint.Materials;
import org.evenstamp.analysis.numeric.Slab;
import org.evenstamp.analysis.process.Drying;
import org.evenstamp.analysis.process.ProcessHistory;
import org.evenstamp.analysis.process.SolventPress;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.spi.Parameters;

/**
 * A film whose solvent leaves by diffusion, from each tile in its own time: each is as fluid as its mean share of solvent makes it, until that puts its glass
 * temperature at that of the press. The press is followed until the slowest tile has set, or the drying is over.
 *
 * <p>With {@code tau = D t/L²} all tiles go the same way, so the integral of the fluidity over tau is kept once: what a tile flows in its steps adds up to it.
 */
final class DryingPlaces extends LoadLike {
    private static final int NODES = 512;
    private static final double RESOLVED = 1e-6; // share of the integral below which its differences are rounding

    private final double dryStart;
    private final double[] perSecond; // tau over time, of each tile
    private final double tauSet;
    // Over s = sqrt(tau/tauSet), in which the loss of solvent begins evenly.
    private final double[] logFluidity = new double[NODES + 1];
    private final double[] integral = new double[NODES + 1]; // of the fluidity over tau

    private DryingPlaces(ProcessHistory slowest, SolventPress press, double[] perSecond) {
        super(new ProcessLoad(slowest));
        dryStart = press.dryStartSeconds();
        this.perSecond = perSecond;
        tauSet = tauSet(slowest, press);
        for (int n = 0; n <= NODES; n++) {
            double tau = tauSet * n * n / NODES / NODES;
            double solvent = press.solventFraction() * Slab.mean(tau);
            double kelvin = Math.max(press.kelvin(), slowest.film().glassKelvin(solvent));
            logFluidity[n] = -Math.log(slowest.film().at(kelvin, solvent).pascalSeconds());
        }
        for (int n = 0; n < NODES; n++) {
            integral[n + 1] = integral[n] + between((double) n / NODES, (n + 1.0) / NODES);
        }
    }

    /** Returns what diffusion does to the tiles of a job. */
    static PlaceByPlace of(Parameters p, SolventPress press, Drying drying, ProcessHistory even) {
        return fields -> {
            double[] reach = drying.reach(fields, swollen(p, fields));
            double slowest = Arrays.stream(reach).max().orElseThrow();
            ProcessHistory lived = ProcessHistory.of(press.steps(drying, slowest), even.film());
            Arrays.setAll(reach, i -> drying.diffusivity() / (reach[i] * reach[i]));
            return new PlaceByPlace.Lived(lived, new DryingPlaces(lived, press, reach));
        };
    }

    /** Returns the height of the swollen film in every tile, m. */
    private static double[] swollen(Parameters p, FieldSet fields) {
        double[] height = FilmShape.of(p).metres(p.quantity(CommonParameters.FILM_THICKNESS.id()), fields);
        Arrays.setAll(height, i -> height[i] * Materials.swelling(p));
        return height;
    }

    /** Returns when the mean share of solvent no longer keeps the film soft. */
    private static double tauSet(ProcessHistory history, SolventPress press) {
        double low = 0;
        double high = press.solventFraction();
        for (int n = 0; n < 200 && Math.nextUp(low) < high; n++) {
            double middle = 0.5 * (low + high);
            if (history.film().glassKelvin(middle) > press.kelvin()) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return Slab.whenMean(Math.max(1e-6, low / press.solventFraction()));
    }

    /** Returns the integral of the fluidity over tau between two values of s. */
    private double between(double from, double to) {
        return GaussMean.of(s -> fluidity(s) * 2 * s * tauSet, from, to) * (to - from);
    }

    private double fluidity(double s) {
        int node = Math.min(NODES - 1, (int) (s * NODES));
        double share = s * NODES - node;
        return Math.exp((1 - share) * logFluidity[node] + share * logFluidity[node + 1]);
    }

    /** Returns the integral from the start to a value of s up to 1. */
    private double until(double s) {
        int node = Math.min(NODES, (int) (s * NODES));
        double at = (double) node / NODES;
        return integral[node] + (s > at ? between(at, s) : 0);
    }

    @Override
    public boolean differsByTile() {
        return true;
    }

    @Override
    public void fluidity(double from, double to, double[] into) {
        double wet = Math.max(0, Math.min(to, dryStart) - from);
        double before = wet > 0 || to <= dryStart ? 1 / viscosityPascalSeconds(from + wet / 2) : 0;
        double first = Math.max(0, from - dryStart);
        double end = to - dryStart;
        for (int i = 0; i < into.length; i++) {
            double dried = end <= 0 ? 0 : dried(perSecond[i], first, end);
            into[i] = to == from ? (end <= 0 ? before : dried) : (wet * before + dried) / (to - from);
        }
    }

    /** Returns the integral of the fluidity over a time of drying, or where that has no length the fluidity. */
    private double dried(double rate, double first, double end) {
        double s = Math.sqrt(rate * first / tauSet);
        if (s >= 1) {
            return 0;
        }
        if (end == first) {
            return fluidity(s);
        }
        double next = Math.min(1, Math.sqrt(rate * end / tauSet));
        double difference = until(next) - until(s);
        return (difference > RESOLVED * integral[NODES] ? difference : fine(s, next)) / rate;
    }

    /** The same between values of s that are near each other, or where little flows: piece by piece. */
    private double fine(double from, double to) {
        int pieces = 1 + (int) ((to - from) * NODES);
        double sum = 0;
        for (int n = 0; n < pieces; n++) {
            sum += between(from + (to - from) * n / pieces, from + (to - from) * (n + 1) / pieces);
        }
        return sum;
    }
}
