package org.evenstamp.analysis.process;

import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.evenstamp.shared.spi.Parameter.Quantity;
import org.evenstamp.shared.spi.Parameters;

/**
 * The vapour of a solvent in the chamber of a press, against its lower explosive limit. Ideal gas in air of 101325 Pa. A quarter of the limit is
 * the most that ANSI/NFPA 30 allows in enclosed processing areas (OSHA, standard interpretation of 2 December 1991).
 *
 * @param lowerLimit lower explosive limit, share of the volume
 * @param vapourPascals vapour pressure of the liquid
 * @param kilogramsPerMole molar mass
 * @param density of the liquid, kg/m³
 * @param chamberCubicMetres volume of the chamber
 * @param kelvin temperature of the chamber
 */
public record SolventVapour(
        double lowerLimit,
        double vapourPascals,
        double kilogramsPerMole,
        double density,
        double chamberCubicMetres,
        double kelvin) {
    private static final double AIR = 101325;
    private static final double GAS_CONSTANT = 8.314462618; // J/(mol K), exact in the SI
    private static final double ALLOWED = 0.25;

    /** Returns the share of the volume that is vapour over the liquid; 1 where it boils. */
    public double saturatedShare() {
        return Math.min(1, vapourPascals / AIR);
    }

    /** Returns the volume of liquid whose vapour fills the chamber to a quarter of the limit, m³. */
    public double mostLiquid() {
        return ALLOWED * lowerLimit * AIR * chamberCubicMetres / (GAS_CONSTANT * kelvin) * kilogramsPerMole / density;
    }

    /** Returns how often the gas of the chamber, mixed at all times, is to be renewed from saturation to a quarter of the limit. */
    public double changes() {
        return Math.max(0, Math.log(saturatedShare() / (ALLOWED * lowerLimit)));
    }

    /**
     * Returns a caution on the chamber of a solvent press: the numbers, or which of them lack. Empty for other processes and where no chamber
     * is given.
     */
    static Optional<String> caution(Parameters p) {
        if (p.findChoice(ProcessParameters.KIND.id())
                        .filter("solvent-press"::equals)
                        .isEmpty()
                || p.find(ProcessParameters.CHAMBER.id()).isEmpty()) {
            return Optional.empty();
        }
        String lacking = Stream.of(
                        ProcessParameters.SOLVENT_LIMIT,
                        ProcessParameters.SOLVENT_VAPOUR,
                        ProcessParameters.SOLVENT_MASS,
                        ProcessParameters.SOLVENT_DENSITY)
                .filter(quantity -> p.find(quantity.id()).isEmpty())
                .map(Quantity::id)
                .collect(Collectors.joining(", "));
        if (!lacking.isEmpty()) {
            return Optional.of(
                    "the vapour in the chamber was NOT held against its lower explosive limit, as the job does not give "
                            + lacking);
        }
        return Optional.of(new SolventVapour(
                        p.find(ProcessParameters.SOLVENT_LIMIT.id()).orElseThrow(),
                        p.find(ProcessParameters.SOLVENT_VAPOUR.id()).orElseThrow(),
                        p.find(ProcessParameters.SOLVENT_MASS.id()).orElseThrow(),
                        p.find(ProcessParameters.SOLVENT_DENSITY.id()).orElseThrow(),
                        p.find(ProcessParameters.CHAMBER.id()).orElseThrow(),
                        p.find(ProcessParameters.TEMPERATURE.id()).orElse(293.15))
                .sentence());
    }

    private String sentence() {
        double times = saturatedShare() / lowerLimit;
        String volumes = String.format(
                Locale.ROOT,
                "saturated, the chamber of %.4g L holds %.3g %% of vapour by volume, %.3g times the lower explosive limit of %.3g %%; %.3g mL"
                        + " of liquid make a quarter of the limit, the most that ventilation should leave",
                chamberCubicMetres * 1e3,
                100 * saturatedShare(),
                times,
                100 * lowerLimit,
                mostLiquid() * 1e6);
        return times > 1
                ? volumes
                        + String.format(
                                Locale.ROOT,
                                "; purge it with an inert gas, as air makes it explosive on the way: %.2g changes, well mixed, before it is"
                                        + " opened, and lead what comes out to an exhaust",
                                changes())
                : volumes + "; lead what comes out to an exhaust";
    }
}
