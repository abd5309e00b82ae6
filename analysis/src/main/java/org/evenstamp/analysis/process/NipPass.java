package org.evenstamp.analysis.process;

/**
 * A roller's nip as it passes over a map of some length, towards rising x: at time 0 its front is at the left rim, x = 0, in the
 * end its tail at the right one. A place feels nothing before the nip, Hertz's ellipse in it, but there no less than the
 * wrapped web presses, and the wrapped web behind it.
 *
 * <p>As a course it is the mean pressure on the map; on a map without length it is what one place feels.
 *
 * @param contact the strip of contact
 * @param webMetresPerSecond its speed over the map, positive
 * @param wrapPascals pressure of the wrapped web, not negative
 * @param lengthMetres length of the map, not negative
 */
public record NipPass(LineContact contact, double webMetresPerSecond, double wrapPascals, double lengthMetres)
        implements StepProfile {

    /** Returns how long the nip is over some place of the map, s. */
    public double seconds() {
        return (lengthMetres + 2 * contact.halfWidthMetres()) / webMetresPerSecond;
    }

    /** Returns how long a place is in the nip, s. */
    public double dwellSeconds() {
        return 2 * contact.halfWidthMetres() / webMetresPerSecond;
    }

    /** Returns when a place enters the nip, s. */
    public double entrySeconds(double xMetres) {
        return xMetres / webMetresPerSecond;
    }

    /** Returns the pressure at a place and a time, Pa. */
    public double pascals(double xMetres, double seconds) {
        double behind = behind(xMetres, seconds);
        return behind < -contact.halfWidthMetres() ? 0 : Math.max(wrapPascals, contact.pressurePascals(behind));
    }

    /** Returns the mean pressure in Pa over the places from one x to another and the times from one to another, exactly. */
    public double meanPascals(double fromMetres, double toMetres, double fromSeconds, double toSeconds) {
        double half = contact.halfWidthMetres();
        if (behind(fromMetres, toSeconds) <= -half) {
            return 0;
        }
        if (behind(toMetres, fromSeconds) >= half) {
            return wrapPascals;
        }
        double sum = twice(behind(fromMetres, toSeconds))
                - twice(behind(toMetres, toSeconds))
                - twice(behind(fromMetres, fromSeconds))
                + twice(behind(toMetres, fromSeconds));
        return Math.max(0, sum / ((toMetres - fromMetres) * webMetresPerSecond * (toSeconds - fromSeconds)));
    }

    @Override
    public double at(double share) {
        double seconds = share * seconds();
        return lengthMetres == 0
                ? pascals(0, seconds)
                : Math.max(0, (once(behind(0, seconds)) - once(behind(lengthMetres, seconds))) / lengthMetres);
    }

    @Override
    public double least() {
        return Math.min(at(0), at(1));
    }

    /** Most presses when the nip is over the middle of the map, or where it is shorter than that, all of it on the map. */
    @Override
    public double most() {
        double front = Math.max(lengthMetres, lengthMetres / 2 + contact.halfWidthMetres());
        return at(front / webMetresPerSecond / seconds());
    }

    /** One place feels a corner where the ellipse rises above the pressure of the web, and one where it falls below. */
    @Override
    public double[] corners() {
        double bulge = bulge();
        double half = contact.halfWidthMetres();
        return lengthMetres == 0 && wrapPascals > 0 && bulge > 0
                ? new double[] {(half - bulge) / (2 * half), (half + bulge) / (2 * half)}
                : new double[0];
    }

    /** Returns how far the middle of the nip is past a place. */
    private double behind(double xMetres, double seconds) {
        return webMetresPerSecond * seconds - xMetres - contact.halfWidthMetres();
    }

    /** Returns half the width in which the ellipse is above the pressure of the web. */
    private double bulge() {
        double share = wrapPascals / contact.peakPascals();
        return share < 1 ? contact.halfWidthMetres() * Math.sqrt(1 - share * share) : 0;
    }

    /** Integral of the pressure over the distance from the front of the nip to one past its middle, N/m. */
    private double once(double behind) {
        double half = contact.halfWidthMetres();
        double bulge = bulge();
        double s = Math.min(bulge, Math.max(-bulge, behind));
        double ellipse = contact.peakPascals() * half * (area(s / half) + area(bulge / half));
        return wrapPascals * Math.max(0, behind + half) + ellipse - wrapPascals * (s + bulge);
    }

    /** Integral of {@link #once}, N. */
    private double twice(double behind) {
        double half = contact.halfWidthMetres();
        double bulge = bulge();
        double s = Math.min(bulge, Math.max(-bulge, behind));
        double rim = Math.max(0, behind + half);
        double ellipse = contact.peakPascals()
                * half
                * (half * (areaIntegral(s / half) - areaIntegral(bulge / half)) + area(bulge / half) * (s + bulge));
        double past = (2 * contact.peakPascals() * half * area(bulge / half) - 2 * wrapPascals * bulge)
                * Math.max(0, behind - bulge);
        return wrapPascals * (rim * rim - (s + bulge) * (s + bulge)) / 2 + ellipse + past;
    }

    /** Integral of {@code sqrt(1 - r²)} from 0. */
    private static double area(double r) {
        return 0.5 * (r * Math.sqrt(Math.max(0, 1 - r * r)) + Math.asin(r));
    }

    /** An integral of {@link #area}. */
    private static double areaIntegral(double r) {
        double root = Math.sqrt(Math.max(0, 1 - r * r));
        return 0.5 * (r * Math.asin(r) + root - root * root * root / 3);
    }
}
