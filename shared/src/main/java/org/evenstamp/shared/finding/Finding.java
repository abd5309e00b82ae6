package org.evenstamp.shared.finding;

/** Something a person should know about the result. Carries values; turning it into text is somebody else's job. */
public sealed interface Finding {
    /** Returns where. */
    Place place();

    /**
     * A limit of the job is broken.
     *
     * @param limit the limit
     * @param foundSi the value found, in SI: of the worst tile for {@link Limit.Measure#EACH}
     * @param tiles number of tiles that break it, 1 for a limit on the whole stamp
     * @param place the worst tile, or the whole stamp
     */
    record LimitBroken(Limit limit, double foundSi, int tiles, Place place) implements Finding {}

    /**
     * A result should be read with care.
     *
     * @param origin id of the analysis or stage that says it
     * @param code catalogued short name, dotted lower-case words
     * @param message what it is, with number and unit
     * @param place where it is worst
     */
    record Warning(String origin, String code, String message, Place place) implements Finding {}
}
