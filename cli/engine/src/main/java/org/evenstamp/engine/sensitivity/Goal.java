package org.evenstamp.engine.sensitivity;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.evenstamp.analysis.film.LayerGoal;
import org.evenstamp.analysis.film.LayerGoal.Measure;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.shared.finding.Limit;

/**
 * A number that is asked for.
 *
 * @param id dotted lower-case words, unique within a job, for fields that belong to it
 * @param name what people call it
 * @param region name of the region that it looks at; empty for the whole stamp
 * @param layer the number of the residual layer, in m; empty for the time of filling, in s
 * @param limit the limit that it belongs to; empty for a headline number
 */
public record Goal(String id, String name, String region, Optional<LayerGoal> layer, Optional<Limit> limit) {
    /** Makes the time in which film fills a share of the volume of all cavities. */
    static Goal filling(double share) {
        String name = String.format(Locale.ROOT, "%.4g %% of the cavities' volume filled", 100 * share);
        return new Goal("filling", name, "", Optional.empty(), Optional.empty());
    }

    /** Returns what it is a number of. */
    public String subject() {
        return layer.isPresent() ? "residual layer" : "time";
    }

    /** Returns the unit that it is told in. */
    public String unit() {
        return layer.isPresent() ? "nm" : "s";
    }

    /** Returns a number of it in that unit. */
    public double shown(double si) {
        return layer.isPresent() ? si * 1e9 : si;
    }

    private boolean is(Measure measure) {
        return layer.filter(one -> one.measure() == measure).isPresent();
    }

    /** Returns whether less of it is better: unless a limit asks for at least so much. */
    public boolean lessIsBetter() {
        return limit.map(one -> one.side() == Limit.Side.AT_MOST)
                .orElse(layer.isEmpty() || is(Measure.SIGMA3) || is(Measure.SPREAD));
    }

    /** Returns whether it is a number that wants neither more nor less: a mean that no limit bounds. */
    public boolean isNeutral() {
        return limit.isEmpty() && is(Measure.MEAN);
    }

    /** A limit or another number that is not asked for, and why. */
    public record Left(String subject, String reason) {}

    /** Returns the goals of a job: its limits on the residual layer, then the mean and the spread of the stamp and of its regions. */
    static List<Goal> of(List<Limit> limits, FieldSet fields) {
        Map<String, Goal> goals = new LinkedHashMap<>();
        for (Limit limit : limits) {
            if (limit.fieldId().equals(ImprintFields.RESIDUAL_FINAL.id())) {
                measure(limit).ifPresent(measure -> add(goals, measure, limit.region(), Optional.of(limit), fields));
            }
        }
        add(goals, Measure.SIGMA3, "", Optional.empty(), fields);
        for (NamedRegion region : fields.regions()) {
            add(goals, Measure.SIGMA3, region.name(), Optional.empty(), fields);
        }
        add(goals, Measure.MEAN, "", Optional.empty(), fields);
        return List.copyOf(goals.values());
    }

    /** Returns the limits that are not goals. */
    static List<Left> left(List<Limit> limits, FieldSet fields) {
        List<Left> left = new ArrayList<>();
        for (Limit limit : limits) {
            Optional<Measure> measure = measure(limit);
            if (!limit.fieldId().equals(ImprintFields.RESIDUAL_FINAL.id()) || measure.isEmpty()) {
                left.add(new Left(
                        limit.subject(), "the way back begins at the residual layer and at the time of filling"));
            } else if (weights(limit.region(), measure.get(), fields).isEmpty()) {
                left.add(new Left(limit.subject(), "no tile has a part of it"));
            }
        }
        return left;
    }

    private static Optional<Measure> measure(Limit limit) {
        return switch (limit.measure()) {
            case EACH -> Optional.of(limit.side() == Limit.Side.AT_MOST ? Measure.MOST : Measure.LEAST);
            case MEAN -> Optional.of(Measure.MEAN);
            case SPREAD -> Optional.of(Measure.SPREAD);
            case SIGMA3 -> Optional.of(Measure.SIGMA3);
            default -> Optional.empty();
        };
    }

    private static void add(
            Map<String, Goal> goals, Measure measure, String region, Optional<Limit> limit, FieldSet fields) {
        weights(region, measure, fields).ifPresent(weights -> {
            String key = measure + " " + region;
            String plain = region.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9]", "");
            String word = measure.name().toLowerCase(Locale.ROOT);
            String id = region.isEmpty() ? word : word + "." + (plain.isEmpty() ? "region" : plain);
            long taken = goals.values().stream()
                    .filter(goal -> goal.id.equals(id) && !goal.region.equals(region))
                    .count();
            goals.putIfAbsent(
                    key,
                    new Goal(
                            taken == 0 ? id : id + (taken + 1),
                            measure.words() + (region.isEmpty() ? "" : " over " + region),
                            region,
                            Optional.of(new LayerGoal(measure, weights)),
                            limit));
        });
    }

    private static Optional<double[]> weights(String region, Measure measure, FieldSet fields) {
        double[] weights = new double[fields.grid().size()];
        boolean some = false;
        Optional<NamedRegion> named = fields.region(region);
        for (int i = 0; i < weights.length; i++) {
            int tile = i;
            boolean meets =
                    region.isEmpty() || named.map(one -> one.meets(tile)).orElse(false);
            boolean whole = region.isEmpty() || (measure != Measure.MEAN && measure != Measure.SIGMA3);
            weights[i] = !meets ? 0 : whole ? 1 : named.orElseThrow().share(i);
            some |= weights[i] > 0;
        }
        return some ? Optional.of(weights) : Optional.empty();
    }
}
