package org.evenstamp.analysis.rheology;

/** A melt with the universal constants of Williams, Landel and Ferry, J. Am. Chem. Soc. 77 (1955) 3701, for tests. */
public final class UniversalWlf {
    private UniversalWlf() {}

    /** Returns the law with 17.44 and 51.6 K at the glass temperature. */
    public static Wlf law(double glassPascalSeconds, double glassKelvin) {
        return Wlf.of(glassPascalSeconds, glassKelvin, 17.44, 51.6, glassKelvin);
    }
}
