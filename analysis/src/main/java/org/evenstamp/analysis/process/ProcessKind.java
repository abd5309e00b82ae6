package org.evenstamp.analysis.process;

import java.util.List;
import java.util.Locale;
import org.evenstamp.analysis.rheology.FilmLaw;
import org.evenstamp.shared.problem.InputException;

/** A way of imprinting, stated with the inputs its users know. */
public sealed interface ProcessKind permits HotPress, StatedSteps, UvPress, SolventPress, Roller {

    /** Returns the word for it in jobs and reports, such as {@code hot-press}. */
    String id();

    /** Returns its steps, from a solid or liquid film under no pressure to one that has set. */
    List<ProcessStep> steps();

    /**
     * Returns what the film makes of it.
     *
     * @throws InputException as {@link ProcessHistory#of}
     */
    default ProcessHistory history(FilmLaw film) {
        return ProcessHistory.of(steps(), film);
    }

    /** Returns a number that must be finite and positive, or throws naming it. */
    static double requirePositive(String name, double value, String unit) {
        if (!(value > 0 && value < Double.POSITIVE_INFINITY)) {
            throw new InputException(
                    "process.not-positive",
                    "",
                    String.format(Locale.ROOT, "%s is %.6g %s", name, value, unit),
                    "give a positive, finite number");
        }
        return value;
    }
}
