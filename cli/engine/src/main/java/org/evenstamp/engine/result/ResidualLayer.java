package org.evenstamp.engine.result;

import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;

/** Which field says how thick the residual layer is. */
public final class ResidualLayer {
    private ResidualLayer() {}

    /** Returns the residual layer: solved where the film is solved, else the tiles' own balance; empty where there is neither. */
    public static Optional<Field> of(FieldSet fields) {
        return fields.find("residual.final").or(() -> fields.find("residual.local"));
    }

    /** Returns three standard deviations of it, m. */
    public static OptionalDouble sigma3Metres(FieldSet fields) {
        return of(fields)
                .map(field -> OptionalDouble.of(
                        3 * field.name().unit().toSi(FieldStatistics.of(field).sigma())))
                .orElse(OptionalDouble.empty());
    }
}
