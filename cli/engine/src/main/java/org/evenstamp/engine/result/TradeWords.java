package org.evenstamp.engine.result;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Pattern;

/**
 * What the trade also calls things, so that a search finds them under either word. All of them stand in {@code docs/words.md}.
 */
public final class TradeWords {
    private static final Map<String, List<String>> SYNONYMS = new LinkedHashMap<>();

    static {
        SYNONYMS.put("residual", List.of("RLT", "residual layer thickness", "residual film", "scum"));
        SYNONYMS.put("cavity fraction", List.of("fill factor", "pattern density"));
        SYNONYMS.put("stamp", List.of("mold", "mould", "template", "master"));
        SYNONYMS.put("release", List.of("demold", "demolding", "demould", "demoulding", "separation"));
        SYNONYMS.put("cavity", List.of("trench", "recess", "groove"));
        SYNONYMS.put("protrusion", List.of("land", "mesa"));
        SYNONYMS.put("film", List.of("resist"));
        SYNONYMS.put("etch", List.of("descum", "breakthrough"));
        SYNONYMS.put("slump", List.of("reflow"));
        SYNONYMS.put("standing", List.of("collapse", "stiction"));
        SYNONYMS.put("dummy", List.of("dummy fill", "fill pattern"));
        SYNONYMS.put("drop", List.of("dispense", "inkjet"));
    }

    private TradeWords() {}

    /** Returns the synonyms by this project's word. */
    public static Map<String, List<String>> all() {
        return Map.copyOf(SYNONYMS);
    }

    /**
     * Returns what else the things of a text are called.
     *
     * @param text an id and what it means; dots and hyphens part words as spaces do
     */
    public static List<String> of(String text) {
        String words = " " + plain(text) + " ";
        List<String> also = new ArrayList<>();
        SYNONYMS.forEach((word, synonyms) -> {
            if (Pattern.compile(" " + Pattern.quote(word)).matcher(words).find()) {
                also.addAll(synonyms);
            }
        });
        return also;
    }

    /** Returns whether every word of a query stands in a text, or in what its things are also called. */
    public static boolean fits(String query, String text) {
        String searched = text.toLowerCase(Locale.ROOT) + " " + plain(String.join(" ", of(text)));
        return Arrays.stream(query.strip().toLowerCase(Locale.ROOT).split("\\s+"))
                .allMatch(searched::contains);
    }

    private static String plain(String text) {
        return text.toLowerCase(Locale.ROOT).replaceAll("[.\\-,;:()]", " ");
    }
}
