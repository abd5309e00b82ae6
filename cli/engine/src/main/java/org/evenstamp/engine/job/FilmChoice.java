package org.evenstamp.engine.job;

import java.util.List;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameter.Quantity;

/** What a job says about the choice of a film. */
public final class FilmChoice {
    /** The residual layer that the film is to leave. */
    public static final Quantity TARGET = Quantity.optional(
            "film.target-residual", "nm", 0, 1e6, "wanted mean residual layer; evenstamp film needs it");

    static final List<Parameter> PARAMETERS = List.of(TARGET);

    private FilmChoice() {}
}
