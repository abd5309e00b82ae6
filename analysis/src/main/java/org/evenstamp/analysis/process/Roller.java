package org.evenstamp.analysis.process;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.evenstamp.analysis.rheology.Caution;

/**
 * Roller imprint: the film meets the pressure while it passes the nip, and sets behind it under the stamp foil, by cooling or by
 * exposure, under the pressure of the wrapped web's tension, {@code tension/radius}, if it is still wrapped.
 *
 * @param contact the strip of contact
 * @param webMetresPerSecond speed of the web, positive
 * @param kelvin temperature of the film in the nip
 * @param wrapPascals pressure of the wrapped web until the film has set; 0 where it is not wrapped
 * @param setting how the film sets behind the nip
 */
public record Roller(LineContact contact, double webMetresPerSecond, double kelvin, double wrapPascals, Setting setting)
        implements ProcessKind {
    /** Share of the radius past which the half width is beyond small strains. */
    private static final double SMALL_STRAIN = 0.1;

    /** How the film sets behind the nip. */
    public sealed interface Setting {
        /**
         * It cools.
         *
         * @param seconds time it takes
         * @param toKelvin temperature at its end
         */
        record Cooling(double seconds, double toKelvin) implements Setting {}

        /**
         * It is cured.
         *
         * @param afterSeconds time between nip and lamp, positive
         * @param seconds time of exposure
         */
        record Exposure(double afterSeconds, double seconds) implements Setting {}
    }

    /** Checks the speed; the rest is checked with the film. */
    public Roller {
        ProcessKind.requirePositive("the web speed", webMetresPerSecond, "m/s");
        if (!(wrapPascals >= 0)) {
            throw new IllegalArgumentException("a web does not pull: " + wrapPascals + " Pa");
        }
    }

    /**
     * Returns a roller with a soft cover on a rigid core, against a rigid counter face.
     *
     * @param diameterMetres outer diameter
     * @param coverPascals Young's modulus of the cover; the cover is taken to be thick beside the contact
     * @param coverPoisson its Poisson number
     * @param lineForceNewtonsPerMetre force per length
     * @param webMetresPerSecond speed of the web
     * @param kelvin temperature of the film in the nip
     * @param setting how the film sets
     */
    public static Roller covered(
            double diameterMetres,
            double coverPascals,
            double coverPoisson,
            double lineForceNewtonsPerMetre,
            double webMetresPerSecond,
            double kelvin,
            Setting setting) {
        return new Roller(
                contact(diameterMetres, coverPascals, coverPoisson, lineForceNewtonsPerMetre),
                webMetresPerSecond,
                kelvin,
                0,
                setting);
    }

    /** Returns the strip of contact of such a roller. */
    static LineContact contact(
            double diameterMetres, double coverPascals, double coverPoisson, double lineForceNewtonsPerMetre) {
        ProcessKind.requirePositive("the modulus of the cover", coverPascals, "Pa");
        double modulus = LineContact.modulus(coverPascals, coverPoisson, Double.POSITIVE_INFINITY, 0);
        return new LineContact(lineForceNewtonsPerMetre, diameterMetres / 2, modulus);
    }

    /** Returns this roller with a web that stays wrapped around it under tension, in N/m, until the film has set. */
    public Roller wrapped(double tensionNewtonsPerMetre) {
        return new Roller(
                contact, webMetresPerSecond, kelvin, tensionNewtonsPerMetre / contact.radiusMetres(), setting);
    }

    @Override
    public String id() {
        return "roller";
    }

    /** Returns how long a point of the film is in the nip, s: {@code 2 b/speed}. */
    public double dwellSeconds() {
        return 2 * contact.halfWidthMetres() / webMetresPerSecond;
    }

    /** Returns how its nip passes over a map of some length along the web, in m. */
    public NipPass pass(double lengthMetres) {
        return new NipPass(contact, webMetresPerSecond, wrapPascals, lengthMetres);
    }

    /** Returns the steps of one place of the film. */
    @Override
    public List<ProcessStep> steps() {
        return steps(pass(0));
    }

    /**
     * Returns the steps of a map as its last place lives through them, under the mean pressure on the map: the nip passes over it,
     * then that place sets.
     *
     * @param pass of this roller
     */
    public List<ProcessStep> steps(NipPass pass) {
        StepProfile hot = StepProfile.constant(kelvin);
        StepProfile wrap = StepProfile.constant(wrapPascals);
        List<ProcessStep> steps = new ArrayList<>();
        steps.add(ProcessStep.of("nip", pass.seconds(), hot, pass));
        if (setting instanceof Setting.Cooling cooling) {
            steps.add(
                    ProcessStep.of("cool", cooling.seconds(), new StepProfile.Ramp(kelvin, cooling.toKelvin()), wrap));
        } else if (setting instanceof Setting.Exposure exposure) {
            steps.add(ProcessStep.of("wait", exposure.afterSeconds(), hot, wrap));
            steps.add(ProcessStep.of("expose", exposure.seconds(), hot, wrap).curing());
        }
        return List.copyOf(steps);
    }

    /**
     * Returns what the user should be told of the nip.
     *
     * @param fillSeconds time the film needs to fill at the mean pressure of the nip
     */
    public List<Caution> cautions(double fillSeconds) {
        List<Caution> cautions = new ArrayList<>();
        if (dwellSeconds() < fillSeconds) {
            cautions.add(new Caution(
                    "process.roller-too-fast",
                    String.format(
                            Locale.ROOT,
                            "the film is in the nip for %.4g s but needs %.4g s to fill: run the web at no more than %.4g"
                                    + " m/s",
                            dwellSeconds(),
                            fillSeconds,
                            2 * contact.halfWidthMetres() / fillSeconds)));
        }
        double strain = contact.halfWidthMetres() / contact.radiusMetres();
        if (strain > SMALL_STRAIN) {
            cautions.add(new Caution(
                    "process.roller-large-strain",
                    String.format(
                            Locale.ROOT,
                            "half the contact width is %.3g of the roller's radius; the contact law is for less than"
                                    + " %.1g, its width is a rough estimate",
                            strain,
                            SMALL_STRAIN)));
        }
        return List.copyOf(cautions);
    }
}
