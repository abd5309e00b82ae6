package org.evenstamp.analysis.process;

/**
 * What stamp and substrate do to each other when they cool from the temperature at which the film set.
 *
 * @param stampPerKelvin linear expansion of the stamp
 * @param substratePerKelvin linear expansion of the substrate
 */
public record ExpansionMismatch(double stampPerKelvin, double substratePerKelvin) {

    /** Returns the strain of the substrate less that of the stamp, a pure number, between two temperatures. */
    public double strain(double fromKelvin, double toKelvin) {
        return (substratePerKelvin - stampPerKelvin) * (toKelvin - fromKelvin);
    }
}
