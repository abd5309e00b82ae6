package org.evenstamp.analysis.film.stamp;

/** What lies around the map. */
public enum Surround {
    /** The map repeats itself in both directions, as in step and repeat. */
    PERIODIC,
    /** Nothing: the stamp's body goes on without load, and no film crosses the rim unless it is open. */
    ISOLATED
}
