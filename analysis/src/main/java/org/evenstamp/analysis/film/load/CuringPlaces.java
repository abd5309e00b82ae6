package org.evenstamp.analysis.film.load;

import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import org.evenstamp.analysis.process.CureLaw;
import org.evenstamp.analysis.process.Lamp;
import org.evenstamp.analysis.process.ProcessHistory;
import org.evenstamp.analysis.process.ProcessParameters;
import org.evenstamp.analysis.process.UvPress;
import org.evenstamp.shared.spi.Parameters;

/**
 * A film under a lamp that does not shine evenly: each tile flows until its own dose has brought it to the gel point, and not at all from then on. In a time
 * step in which it gels it counts by the part of the step before. What gels after the lamp is off is followed until then.
 */
final class CuringPlaces extends LoadLike {
    private static final double INSTANT = 1e-9; // share of a step that is rounding

    private final double[] gelSeconds; // of each tile, since the start of the process
    private final double first;

    private CuringPlaces(ProcessHistory history, double[] gelSeconds) {
        super(new ProcessLoad(history));
        this.gelSeconds = gelSeconds;
        first = Arrays.stream(gelSeconds).min().orElseThrow();
    }

    /** Returns what a lamp does; empty where nothing tells when the film gels. */
    static Optional<PlaceByPlace> of(Parameters p, UvPress press, ProcessHistory even) {
        Lamp lamp = Lamp.of(p);
        Optional<CureLaw> law = CureLaw.of(p);
        OptionalDouble gel = p.find(CureLaw.AT_GEL.id());
        if (law.isEmpty() || gel.isEmpty()) {
            return Optional.empty();
        }
        double inMiddle = law.get().dose(gel.getAsDouble()) / press.irradianceWattsPerSquareMetre();
        return Optional.of(fields -> {
            if (lamp.evenOver(fields)) {
                return new PlaceByPlace.Lived(even, new ProcessLoad(even));
            }
            double lampOn = even.flowEndSeconds();
            double[] gels = lamp.factors(fields, p.quantity(ProcessParameters.IRRADIANCE.id()));
            Arrays.setAll(gels, i -> Math.min(inMiddle / gels[i], press.exposureSeconds()));
            double latest = Arrays.stream(gels).max().orElseThrow();
            Arrays.setAll(gels, i -> lampOn + gels[i]);
            ProcessHistory lived = ProcessHistory.of(press.steps(latest), even.film());
            return new PlaceByPlace.Lived(lived, new CuringPlaces(lived, gels));
        });
    }

    @Override
    public boolean differsByTile() {
        return true;
    }

    @Override
    public void fluidity(double from, double to, double[] into) {
        double all = 1 / viscosityPascalSeconds((from + to) / 2);
        for (int i = 0; i < into.length; i++) {
            double gel = gelSeconds[i];
            double part = gel >= to ? (gel > from ? 1 : 0) : (gel - from) / (to - from);
            into[i] = part > INSTANT ? part * all : 0;
        }
    }

    @Override
    public double[] breaks() {
        return DoubleStream.concat(Arrays.stream(super.breaks()), DoubleStream.of(first))
                .sorted()
                .distinct()
                .toArray();
    }
}
