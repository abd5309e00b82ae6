package org.evenstamp.geometry.read;

import java.nio.file.Path;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;
import org.jspecify.annotations.Nullable;

/** The length of one unit of a file's coordinates: by what the file says and by what the job gives, which must agree. */
final class CoordinateUnit {
    private CoordinateUnit() {}

    /**
     * Returns the unit in m.
     *
     * @param given by the job, in m
     * @param named by the file
     * @throws InputException when nobody says it, it is no length, or both differ
     */
    static double metres(Path file, @Nullable Double given, @Nullable String named) {
        if (named != null) {
            return agree(file, given, named);
        }
        if (given == null) {
            throw new InputException(
                    "layout.unit-missing",
                    file.toString(),
                    "the file does not say the unit of its coordinates",
                    "give it in the job, such as layout.unit: \"um\"");
        }
        return given;
    }

    private static double agree(Path file, @Nullable Double given, String named) {
        double own = parsed(file, named);
        if (given != null && Math.abs(own - given) > 1e-12 * given) {
            throw new InputException(
                    "layout.unit-conflict",
                    file.toString(),
                    "the file says units \"" + named + "\", the job a unit of " + given + " m",
                    "make both the same, or delete one");
        }
        return given == null ? own : given;
    }

    private static double parsed(Path file, String named) {
        String problem;
        try {
            Unit unit = Unit.parse(named);
            if (unit.dimension().equals(Unit.parse("m").dimension())) {
                return unit.scale();
            }
            problem = "\"" + named + "\" is not a length";
        } catch (UnitException e) {
            problem = String.valueOf(e.getMessage());
        }
        throw new InputException(
                "layout.unit-unknown",
                file.toString(),
                "the file's member units: " + problem,
                "write a length unit, such as \"units\": \"um\"");
    }
}
