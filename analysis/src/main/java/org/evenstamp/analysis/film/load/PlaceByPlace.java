package org.evenstamp.analysis.film.load;

import org.evenstamp.analysis.process.ProcessHistory;
import org.evenstamp.shared.field.FieldSet;

/** What differs from place to place while a process runs: temperature, light, vapour, or when the press comes there. */
interface PlaceByPlace {
    /**
     * What a map lives through.
     *
     * @param history the process as the place lives through it that sets last
     * @param load what drives the solve
     */
    record Lived(ProcessHistory history, PressLoad load) {}

    /**
     * Returns it for a map.
     *
     * @param fields of the tile map, and the maps that the job gives
     */
    Lived over(FieldSet fields);
}
