package org.evenstamp.analysis.recipe;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
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
    /** Copies. */
    public StartingRecipe {
        values = java.util.Collections.unmodifiableMap(new LinkedHashMap<>(values));
        reasons = List.copyOf(reasons);
    }

    /** Returns this recipe with another time in the press: a hold so many times as long, or a web so many times slower. */
    public StartingRecipe slower(int times) {
        Map<String, String> slower = new LinkedHashMap<>(values);
        slower.computeIfPresent("process.hold", (key, text) -> scaled(text, times));
        slower.computeIfPresent("process.web-speed", (key, text) -> scaled(text, 1.0 / times));
        List<String> why = new ArrayList<>(reasons);
        why.add("made " + times
                + " times slower until the film solve filled every tile: stamp and neighbours slow it down");
        return new StartingRecipe(kind, slower, why);
    }

    private static String scaled(String text, double factor) {
        Quantity quantity = Quantity.parse(text);
        Unit unit = quantity.unit();
        double value = unit.fromSi(quantity.si()) * factor;
        return BigDecimal.valueOf(value)
                        .round(new MathContext(3))
                        .stripTrailingZeros()
                        .toPlainString() + " " + unit.symbol();
    }
}
