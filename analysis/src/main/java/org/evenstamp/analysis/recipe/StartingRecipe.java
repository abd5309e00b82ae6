package org.evenstamp.analysis.recipe;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.Unit;

/**
 * A first recipe to try by computation, in the words of a job.
 *
 * @param kind kind of process
 * @param values text by key of a job, in the order they are shown
 * @param reasons why it is so, one sentence each
 */
public record StartingRecipe(String kind, Map<String, String> values, List<String> reasons) {
    private static final String HOLD = "process.hold";
    private static final String SPEED = "process.web-speed";
    private static final String TENSION = "process.web-tension";
    private static final double LONGEST_HOLD = 7200;
    private static final double SLOWEST_WEB = 1e-3;
    private static final double LEAST_TENSION = 250;
    private static final double MOST_TENSION = 2000;

    /** Copies. */
    public StartingRecipe {
        values = java.util.Collections.unmodifiableMap(new LinkedHashMap<>(values));
        reasons = List.copyOf(reasons);
    }

    /**
     * Returns this recipe with twice the time in the press: the hold twice as long, or the web half as fast. Empty past two hours, or
     * below a millimetre a second, where a batch or a web would no longer be called one (this tool's choice).
     */
    public Optional<StartingRecipe> slower() {
        Map<String, String> slower = new LinkedHashMap<>(values);
        slower.computeIfPresent(HOLD, (key, text) -> scaled(text, 2));
        slower.computeIfPresent(SPEED, (key, text) -> scaled(text, 0.5));
        boolean bearable = Quantity.parse(slower.getOrDefault(HOLD, "1 s")).si() <= LONGEST_HOLD
                && Quantity.parse(slower.getOrDefault(SPEED, "1 m/s")).si() >= SLOWEST_WEB;
        return bearable ? Optional.of(new StartingRecipe(kind, slower, reasons)) : Optional.empty();
    }

    /**
     * Returns this recipe with a web that stays wrapped around the roller until the film has set, under twice the tension that it has here. Empty
     * for a press, and past {@value #MOST_TENSION} N/m: 20 MPa in a foil of 100 um, about half the strength of a polymer.
     */
    public Optional<StartingRecipe> tighter() {
        double tension = values.containsKey(TENSION)
                ? 2 * Quantity.parse(values.getOrDefault(TENSION, "")).si()
                : LEAST_TENSION;
        if (!values.containsKey(SPEED) || tension > MOST_TENSION) {
            return Optional.empty();
        }
        Map<String, String> tighter = new LinkedHashMap<>(values);
        tighter.put(TENSION, text(tension * 1e-3) + " N/mm");
        return Optional.of(new StartingRecipe(kind, tighter, reasons));
    }

    /** Returns this recipe with one reason more. */
    public StartingRecipe because(String reason) {
        List<String> more = new ArrayList<>(reasons);
        more.add(reason);
        return new StartingRecipe(kind, values, more);
    }

    private static String scaled(String text, double factor) {
        Quantity quantity = Quantity.parse(text);
        Unit unit = quantity.unit();
        return text(unit.fromSi(quantity.si()) * factor) + " " + unit.symbol();
    }

    private static String text(double value) {
        return BigDecimal.valueOf(value)
                .round(new MathContext(3))
                .stripTrailingZeros()
                .toPlainString();
    }
}
