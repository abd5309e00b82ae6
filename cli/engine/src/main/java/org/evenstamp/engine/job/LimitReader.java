package org.evenstamp.engine.job;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;

/** Reads one bound: {@code "<= 20 nm"} or {@code ">= 10 nm"}. */
final class LimitReader {
    static final List<String> MEASURES =
            Arrays.stream(Limit.Measure.values()).map(Limit.Measure::word).toList();

    private LimitReader() {}

    /**
     * Reads a bound on a field.
     *
     * @throws UnitException when it is not a sign and a quantity of the field's dimension
     */
    static Limit read(FieldName field, String measureWord, String text) {
        Limit.Measure measure = Limit.Measure.valueOf(measureWord.toUpperCase(Locale.ROOT));
        String trimmed = text.strip();
        Limit.Side side;
        if (trimmed.startsWith("<=")) {
            side = Limit.Side.AT_MOST;
        } else if (trimmed.startsWith(">=")) {
            side = Limit.Side.AT_LEAST;
        } else {
            throw new UnitException("\"" + text + "\" is not a bound such as \"<= 20 "
                    + field.unit().symbol() + "\" or \">= 10 " + field.unit().symbol() + "\"");
        }
        String number = trimmed.substring(2).strip();
        Quantity quantity = Quantity.parse(isPure(field.unit()) && isNumber(number) ? number + " 1" : number);
        double si = quantity.siAs(field.unit());
        // A spread is a difference: 5 degC of spread are 5 K.
        boolean difference = measure == Limit.Measure.SPREAD || measure == Limit.Measure.SIGMA3;
        return new Limit(
                field.id(),
                measure,
                side,
                difference ? quantity.value() * quantity.unit().scale() : si);
    }

    static boolean isPure(Unit unit) {
        return unit.symbol().equals("1");
    }

    static boolean isNumber(String text) {
        return text.matches("[+-]?([0-9]+\\.?[0-9]*|\\.[0-9]+)([eE][+-]?[0-9]+)?");
    }
}
