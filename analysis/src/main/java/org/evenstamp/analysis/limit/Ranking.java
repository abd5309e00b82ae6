package org.evenstamp.analysis.limit;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.Index;
import org.evenstamp.shared.spi.Remedy;
import org.jspecify.annotations.Nullable;

/**
 * The worst places over all analyses in one order, so that a designer fixes places and not maps.
 *
 * <p>Everything is held against its limit as demand over capacity: an index against 1, or against the job's own bound on it;
 * any other field against the job's bound on each tile, {@code value/bound} where the bound is the most allowed and {@code
 * bound/value} where it is the least. Tiles above 1 that touch (edges or corners) and have the same dominating term are one
 * place, named by its worst tile. Where nothing is above 1, the tile nearest to the limit is the place, so that the list also says
 * how much is left. Limits on mean or spread have no place and are not in the list.
 *
 * @param places how many places there are in all
 * @param worst the places, largest ratio first, at most {@value #MOST_OF_A_LIMIT} of each limit
 */
public record Ranking(int places, List<RankedPlace> worst) {
    /** How many places of one limit are listed. */
    public static final int MOST_OF_A_LIMIT = 20;
    /** What a ratio without end counts as, such as that of a layer that is gone against its least thickness. */
    public static final double MOST_RATIO = 1000;

    private static final double ROUNDING = 1e-12; // as in LimitCheck

    /** Copies the list. */
    public Ranking {
        worst = List.copyOf(worst);
    }

    /**
     * Ranks.
     *
     * @param analyses the analyses that ran
     * @param limits the job's limits
     * @param fields what they gave
     */
    public static Ranking of(List<AnalysisDescription> analyses, List<Limit> limits, FieldSet fields) {
        int places = 0;
        List<RankedPlace> listed = new ArrayList<>();
        for (Criterion criterion : criteria(analyses, limits)) {
            Optional<Field> field = fields.find(criterion.limit.fieldId());
            if (field.isPresent()) {
                List<RankedPlace> found = new Search(criterion, field.get(), fields).places();
                places += found.size();
                found.stream()
                        .sorted(Comparator.comparingDouble(RankedPlace::ratio).reversed())
                        .limit(MOST_OF_A_LIMIT)
                        .forEach(listed::add);
            }
        }
        // both sorts are stable: equal ratios stay in the order of limits and tiles
        listed.sort(Comparator.comparingDouble(RankedPlace::ratio).reversed());
        return new Ranking(places, listed);
    }

    private static Iterable<Criterion> criteria(List<AnalysisDescription> analyses, List<Limit> limits) {
        Map<String, Index> indices = new LinkedHashMap<>();
        Map<String, Remedy> remedies = new LinkedHashMap<>();
        for (AnalysisDescription analysis : analyses) {
            analysis.indices().forEach(index -> indices.put(index.field().id(), index));
            analysis.remedies().forEach(remedy -> remedies.put(remedy.field().id(), remedy));
        }
        List<Criterion> criteria = new ArrayList<>();
        Set<String> bounded = new HashSet<>();
        for (Limit limit : limits) {
            if (limit.measure() == Limit.Measure.EACH) {
                boolean most = limit.side() == Limit.Side.AT_MOST;
                Index index = most ? indices.get(limit.fieldId()) : null;
                Remedy remedy = remedies.get(limit.fieldId());
                List<Remedy> terms = index != null ? index.terms() : remedy != null ? List.of(remedy) : List.of();
                criteria.add(new Criterion(limit, terms));
                if (most && limit.region().isEmpty()) {
                    bounded.add(limit.fieldId());
                }
            }
        }
        for (Index index : indices.values()) {
            String id = index.field().id();
            if (!bounded.contains(id)) {
                criteria.add(new Criterion(new Limit(id, Limit.Measure.EACH, Limit.Side.AT_MOST, 1), index.terms()));
            }
        }
        return criteria;
    }

    /** A limit, and the parts of its field with their remedies; none when nobody gave one. */
    private record Criterion(Limit limit, List<Remedy> terms) {
        double ratio(double value) {
            double bound = limit.boundSi();
            boolean most = limit.side() == Limit.Side.AT_MOST;
            double demand = most ? value : bound;
            double capacity = most ? bound : value;
            if (demand <= 0) {
                // below zero the ratio turns round: -3 against at most -2 keeps its limit
                return demand <= capacity ? 0 : MOST_RATIO;
            }
            return capacity > 0 ? Math.min(MOST_RATIO, demand / capacity) : MOST_RATIO;
        }
    }

    /** The places of one limit on one map. */
    private static final class Search {
        private final Criterion criterion;
        private final Field field;
        private final TileGrid grid;
        private final List<Field> terms;
        private final FieldSet fields;
        private final @Nullable NamedRegion region;
        private final boolean[] taken;
        private final int[] queue;

        Search(Criterion criterion, Field field, FieldSet fields) {
            this.criterion = criterion;
            this.field = field;
            this.fields = fields;
            grid = field.grid();
            region = fields.region(criterion.limit.region()).orElse(null);
            terms = criterion.terms.stream()
                    .map(term -> fields.get(term.field()))
                    .toList();
            taken = new boolean[grid.size()];
            queue = new int[grid.size()];
        }

        List<RankedPlace> places() {
            List<RankedPlace> places = new ArrayList<>();
            int nearest = -1;
            for (int i = 0; i < grid.size(); i++) {
                if (known(i)) {
                    if (over(i) && !taken[i]) {
                        places.add(placeFrom(i));
                    }
                    if (nearest < 0 || ratio(i) > ratio(nearest)) {
                        nearest = i;
                    }
                }
            }
            if (places.isEmpty() && nearest >= 0 && ratio(nearest) > 0) {
                places.add(place(nearest, 1));
            }
            return places;
        }

        private boolean known(int tile) {
            return field.known(tile) && (region == null || region.meets(tile));
        }

        private double ratio(int tile) {
            return criterion.ratio(field.at(tile));
        }

        private boolean over(int tile) {
            return known(tile) && ratio(tile) > 1 + ROUNDING;
        }

        /** Gathers the tiles around one, breadth first. */
        private RankedPlace placeFrom(int start) {
            int term = dominating(start);
            int worst = start;
            int length = 0;
            queue[length++] = start;
            taken[start] = true;
            for (int at = 0; at < length; at++) {
                int tile = queue[at];
                if (ratio(tile) > ratio(worst) || (ratio(tile) == ratio(worst) && tile < worst)) {
                    worst = tile;
                }
                int column = grid.column(tile);
                int row = grid.row(tile);
                for (int r = Math.max(0, row - 1); r <= Math.min(grid.rows() - 1, row + 1); r++) {
                    for (int c = Math.max(0, column - 1); c <= Math.min(grid.columns() - 1, column + 1); c++) {
                        int next = grid.index(c, r);
                        if (!taken[next] && over(next) && dominating(next) == term) {
                            taken[next] = true;
                            queue[length++] = next;
                        }
                    }
                }
            }
            return place(worst, length);
        }

        private RankedPlace place(int worst, int tiles) {
            int term = dominating(worst);
            return new RankedPlace(
                    criterion.limit,
                    ratio(worst),
                    field.at(worst),
                    terms.isEmpty() ? field.name().id() : terms.get(term).name().id(),
                    terms.isEmpty() ? "" : criterion.terms.get(term).help(),
                    tiles,
                    Place.Tile.of(grid, worst),
                    regionAt(worst));
        }

        /** Returns the region with a name of its own that has the largest part of a tile; empty where none has any. */
        private String regionAt(int tile) {
            NamedRegion largest = null;
            for (NamedRegion one : fields.regions()) {
                if (!one.isFeatures()
                        && one.meets(tile)
                        && (largest == null || one.share(tile) > largest.share(tile))) {
                    largest = one;
                }
            }
            return largest == null ? "" : largest.name();
        }

        /** Returns the number of the term that is largest in a tile; 0 where there are none. */
        private int dominating(int tile) {
            int most = 0;
            for (int k = 1; k < terms.size(); k++) {
                if (terms.get(k).known(tile)
                        && !(terms.get(most).known(tile)
                                && terms.get(most).at(tile) >= terms.get(k).at(tile))) {
                    most = k;
                }
            }
            return most;
        }
    }
}
