package org.evenstamp.output.text;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.evenstamp.analysis.limit.RankedPlace;
import org.evenstamp.engine.result.LimitValue;
import org.evenstamp.engine.result.Results;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.unit.Unit;

/** Says limits, and what breaks them, in the words of other programs' lists: plain text with unit and place. */
public final class LimitText {
    private static final Unit MICROMETRE = Unit.parse("um");

    private LimitText() {}

    /** Returns the limit, such as {@code residual.final spread <= 20 nm}. */
    public static String of(Limit limit, Results results) {
        return of(limit, results.unit(limit));
    }

    /** Returns the limit with its bound in a unit. */
    public static String of(Limit limit, Unit unit) {
        return limit.subject() + " " + limit.measure().word()
                + (limit.side() == Limit.Side.AT_MOST ? " <= " : " >= ")
                + value(limit, limit.boundSi(), unit);
    }

    /** Returns what was found, how often and where. */
    public static String found(Finding.LimitBroken broken, Results results) {
        String found = "found " + value(broken.limit(), broken.foundSi(), results.unit(broken.limit()));
        if (!(broken.place() instanceof Place.Tile)) {
            return found;
        }
        return found + " at " + place(broken.place())
                + (broken.tiles() > 1 ? ", the worst of " + broken.tiles() + " tiles" : "");
    }

    /** Returns what would help, in the words of the analysis; empty where it has none. */
    public static String help(Limit limit, Results results) {
        return results.ranking().worst().stream()
                .filter(place -> place.limit().equals(limit))
                .findFirst()
                .map(RankedPlace::help)
                .orElse("");
    }

    /** Returns the worst place of every index that is above 1 and that the job does not limit. */
    public static List<RankedPlace> indices(Results results) {
        Map<Limit, RankedPlace> worst = new LinkedHashMap<>();
        for (RankedPlace place : results.ranking().worst()) {
            if (place.ratio() > 1 && !results.limits().contains(place.limit())) {
                worst.putIfAbsent(place.limit(), place);
            }
        }
        return List.copyOf(worst.values());
    }

    /** Returns what is told of such an index. */
    public static String index(RankedPlace worst, Results results) {
        return worst.limit().fieldId() + " is above 1, the limit of an index: found "
                + value(worst.limit(), worst.foundSi(), results.unit(worst.limit())) + " at " + place(worst.worst())
                + (worst.help().isEmpty() ? "" : "; would help: " + worst.help());
    }

    /** Returns how far a place is beyond its limit. */
    public static String ratio(RankedPlace place) {
        return "demand over capacity " + ShortDecimal.of(place.ratio(), 4) + " at " + place(place.worst())
                + (place.tiles() > 1 ? ", the worst of " + place.tiles() + " tiles" : "");
    }

    /** Returns where something is. */
    public static String place(Place place) {
        return place instanceof Place.Tile tile
                ? "x " + ShortDecimal.of(MICROMETRE.fromSi(tile.xMetres())) + " um, y "
                        + ShortDecimal.of(MICROMETRE.fromSi(tile.yMetres())) + " um (column " + tile.column() + ", row "
                        + tile.row() + ")"
                : "the whole stamp";
    }

    /** Returns a number that a limit looks at, in a unit. */
    public static String value(Limit limit, double si, Unit unit) {
        String number = Objects.requireNonNull(ShortDecimal.of(LimitValue.shown(limit, unit, si)));
        return unit.symbol().equals("1") ? number : number + " " + unit.symbol();
    }
}
