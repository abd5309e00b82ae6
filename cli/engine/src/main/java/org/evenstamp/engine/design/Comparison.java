package org.evenstamp.engine.design;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.IntToDoubleFunction;
import java.util.function.ToDoubleFunction;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.MostFilled;
import org.evenstamp.analysis.limit.LimitCheck;
import org.evenstamp.engine.result.AreaStatistics;
import org.evenstamp.engine.result.FieldStatistics;
import org.evenstamp.engine.result.ResidualLayer;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.tile.Region;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.unit.Unit;

/**
 * Variants of a stamp beside each other: the numbers that a designer looks at, and what became of each limit.
 *
 * @param variants the first is the stamp as it was, the second what is proposed
 * @param limits the limits of the job
 * @param regions of the stamp as proposed; over those of a role the residual layer of every variant is told apart
 */
public record Comparison(List<Variant> variants, List<Limit> limits, List<Region> regions) {
    private static final double ROUNDING = 1e-9; // of a bound; less beyond it is none
    private static final double SAME = 1e-6; // of an excess; a smaller change of it is none

    /**
     * One of them.
     *
     * @param name a word or two
     * @param fields its fields
     */
    public record Variant(String name, FieldSet fields) {}

    /**
     * A number of every variant.
     *
     * @param what what it is
     * @param unit symbol of its unit; empty for a count
     * @param values one a variant, in that unit; empty where a variant has none
     */
    public record Row(String what, String unit, List<OptionalDouble> values) {
        /** Copies the list. */
        public Row {
            values = List.copyOf(values);
        }
    }

    /** What became of a limit from the first variant to the second. */
    public enum Fate {
        /** Both keep it. */
        KEPT,
        /** Only the second exceeds it. */
        NEWLY_EXCEEDED,
        /** Both exceed it, the second by more. */
        EXCEEDED_MORE,
        /** Both exceed it, the second by less. */
        EXCEEDED_LESS,
        /** Both exceed it by as much. */
        EXCEEDED_ALIKE,
        /** Only the first exceeds it. */
        MENDED,
        /** One of them has no value. */
        UNKNOWN;

        /** Returns whether the second variant is worse. */
        public boolean worse() {
            return this == NEWLY_EXCEEDED || this == EXCEEDED_MORE;
        }
    }

    /**
     * A limit in the first two variants.
     *
     * @param limit the limit
     * @param unit display unit of its field
     * @param beforeSi what the first has; empty when it has none
     * @param afterSi what the second has; empty when it has none
     * @param fate what became of it
     */
    public record LimitChange(Limit limit, Unit unit, OptionalDouble beforeSi, OptionalDouble afterSi, Fate fate) {}

    /** Copies the lists. */
    public Comparison {
        variants = List.copyOf(variants);
        limits = List.copyOf(limits);
        regions = List.copyOf(regions);
    }

    /** Returns what became of each limit. Needs at least two variants. */
    public List<LimitChange> limitChanges() {
        return limits.stream()
                .map(limit -> {
                    OptionalDouble before = found(limit, 0);
                    OptionalDouble after = found(limit, 1);
                    Unit unit = variants.get(0)
                            .fields()
                            .find(limit.fieldId())
                            .map(field -> field.name().unit())
                            .orElse(Unit.ONE);
                    return new LimitChange(limit, unit, before, after, fate(limit, before, after));
                })
                .toList();
    }

    /** Returns the numbers that at least one variant has. */
    public List<Row> rows() {
        List<Row> rows = new ArrayList<>();
        // The same places before and after.
        for (NamedRegion region : variants.get(0).fields().regions()) {
            over(rows, "residual mean in " + region.name(), region::share, AreaStatistics::mean);
            over(rows, "residual 3 sigma in " + region.name(), region::share, AreaStatistics::sigma3);
            over(rows, "residual max - min in " + region.name(), region::share, one -> one.max() - one.min());
        }
        add(
                rows,
                "residual mean",
                "nm",
                fields -> ResidualLayer.of(fields).map(f -> statistics(f, FieldStatistics::mean)));
        add(
                rows,
                "residual 3 sigma",
                "nm",
                fields -> ResidualLayer.of(fields).map(f -> 3 * statistics(f, FieldStatistics::sigma)));
        add(
                rows,
                "residual max - min",
                "nm",
                fields -> ResidualLayer.of(fields).map(FieldStatistics::of).map(s -> s.max() - s.min()));
        add(
                rows,
                "residual min",
                "nm",
                fields -> ResidualLayer.of(fields).map(f -> statistics(f, FieldStatistics::min)));
        for (Region region : regions) {
            Role role = region.role();
            if (role != null) {
                over(rows, "residual mean, " + role.word(), region::share, AreaStatistics::mean);
                over(rows, "residual 3 sigma, " + role.word(), region::share, AreaStatistics::sigma3);
            }
        }
        add(rows, "fill time, 99.9 % of the cavities", "s", Comparison::mostFilled);
        most(rows, "fill time, last tile", "s", "fill.time");
        add(
                rows,
                "fill time, mean",
                "s",
                fields -> fields.find("fill.time").map(f -> statistics(f, FieldStatistics::mean)));
        add(
                rows,
                "fill share, least",
                "1",
                fields -> fields.find("fill.share").map(f -> statistics(f, FieldStatistics::min)));
        most(rows, "pressure, peak", "MPa", "pressure.peak");
        most(rows, "tear index, worst", "1", "release.tear");
        most(rows, "etch time, longest", "s", "etch.clear");
        add(
                rows,
                "cavity fraction, mean",
                "1",
                fields -> fields.find("cavity.fraction").map(f -> statistics(f, FieldStatistics::mean)));
        if (!limits.isEmpty()) {
            add(rows, "limits exceeded", "", fields -> Optional.of(exceeded(fields)));
        }
        return rows;
    }

    private double exceeded(FieldSet fields) {
        return limits.stream()
                .filter(limit -> {
                    OptionalDouble found = LimitCheck.found(limit, fields);
                    return found.isPresent() && excess(limit, found.getAsDouble()) > 0;
                })
                .count();
    }

    private static Optional<Double> mostFilled(FieldSet fields) {
        Field volume = fields.get(TileFields.CAVITY_VOLUME);
        return fields.find(ImprintFields.FILL_TIME.id())
                .map(time -> MostFilled.seconds(
                        fields.grid().size(), volume::at, i -> time.known(i) ? time.at(i) : Double.NaN))
                .filter(OptionalDouble::isPresent)
                .map(OptionalDouble::getAsDouble);
    }

    private static double statistics(Field field, ToDoubleFunction<FieldStatistics> number) {
        return number.applyAsDouble(FieldStatistics.of(field));
    }

    private void most(List<Row> rows, String what, String unit, String id) {
        add(
                rows,
                what,
                unit,
                fields -> fields.find(id)
                        .map(FieldStatistics::of)
                        .filter(s -> s.known() > 0)
                        .map(FieldStatistics::max));
    }

    private void over(
            List<Row> rows, String what, IntToDoubleFunction shareOfTile, ToDoubleFunction<AreaStatistics> number) {
        add(
                rows,
                what,
                "nm",
                fields -> ResidualLayer.of(fields)
                        .flatMap(field -> AreaStatistics.of(field, shareOfTile))
                        .map(number::applyAsDouble));
    }

    private interface Measured {
        Optional<Double> at(FieldSet fields);
    }

    private void add(List<Row> rows, String what, String unit, Measured look) {
        List<OptionalDouble> values = variants.stream()
                .map(variant ->
                        look.at(variant.fields()).map(OptionalDouble::of).orElse(OptionalDouble.empty()))
                .toList();
        if (values.stream().anyMatch(OptionalDouble::isPresent)) {
            rows.add(new Row(what, unit, values));
        }
    }

    private OptionalDouble found(Limit limit, int variant) {
        return LimitCheck.found(limit, variants.get(variant).fields());
    }

    private static double excess(Limit limit, double value) {
        double excess = limit.side() == Limit.Side.AT_MOST ? value - limit.boundSi() : limit.boundSi() - value;
        return Math.max(0, excess - ROUNDING * Math.abs(limit.boundSi()));
    }

    private static Fate fate(Limit limit, OptionalDouble first, OptionalDouble second) {
        if (first.isEmpty() || second.isEmpty()) {
            return Fate.UNKNOWN;
        }
        double before = excess(limit, first.getAsDouble());
        double after = excess(limit, second.getAsDouble());
        if (after == 0) {
            return before == 0 ? Fate.KEPT : Fate.MENDED;
        }
        if (before == 0) {
            return Fate.NEWLY_EXCEEDED;
        }
        return after > before * (1 + SAME)
                ? Fate.EXCEEDED_MORE
                : after < before * (1 - SAME) ? Fate.EXCEEDED_LESS : Fate.EXCEEDED_ALIKE;
    }
}
