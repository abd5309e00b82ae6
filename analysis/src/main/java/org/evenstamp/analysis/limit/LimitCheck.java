package org.evenstamp.analysis.limit;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.IntPredicate;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.problem.Problems;

/**
 * Compares fields with limits.
 *
 * <p>Only tiles with a value are looked at: the transport distance of a tile that has no surplus breaks no limit. Where a
 * limited field lacks values, a warning says in how many tiles nothing could be compared; tiles without cavity, which ask nothing of most
 * fields, do not count. A value equal to the bound keeps
 * the limit; so does one that misses it by rounding, 1e-12 of the bound.
 */
public final class LimitCheck {
    private static final double ROUNDING = 1e-12;

    /** A cavity that covers less of a tile is rounding of the map. */
    private static final double LEAST_FRACTION = 1e-9;

    private LimitCheck() {}

    /**
     * Checks every limit.
     *
     * @return for each limit in order at most one {@link Finding.LimitBroken} and at most one {@link Finding.Warning}
     * @throws org.evenstamp.shared.problem.InputException naming every limited field that is not in {@code fields}
     */
    public static List<Finding> check(List<Limit> limits, FieldSet fields) {
        Problems problems = new Problems();
        List<Finding> findings = new ArrayList<>();
        for (Limit limit : limits) {
            Optional<Field> field = fields.find(limit.fieldId());
            if (field.isPresent()) {
                check(limit, field.get(), withoutCavity(fields), findings);
            } else {
                problems.add(
                        "limit.unknown-field",
                        "limits",
                        "no field " + limit.fieldId() + " in this run",
                        "the fields are "
                                + fields.all().stream()
                                        .map(known -> known.name().id())
                                        .collect(Collectors.joining(", ")));
            }
        }
        problems.throwIfAny();
        return findings;
    }

    private static IntPredicate withoutCavity(FieldSet fields) {
        Optional<Field> fraction = fields.find(TileFields.CAVITY_FRACTION.id());
        return tile -> fraction.isPresent() && fraction.get().at(tile) < LEAST_FRACTION;
    }

    private static void check(Limit limit, Field field, IntPredicate withoutCavity, List<Finding> findings) {
        long unknown = IntStream.range(0, field.grid().size())
                .filter(i -> !field.known(i) && !withoutCavity.test(i))
                .count();
        if (unknown > 0) {
            findings.add(new Finding.Warning(
                    "limit",
                    "limit.no-value",
                    "the limit on " + limit.fieldId() + " was not checked in " + unknown + " of "
                            + field.grid().size() + " tiles, where it has no value",
                    new Place.WholeStamp()));
        }
        if (field.knownCount() == 0) {
            return;
        }
        if (limit.measure() == Limit.Measure.EACH) {
            checkEach(limit, field, findings);
            return;
        }
        double found = measure(limit.measure(), field);
        if (excess(limit, found) > 0) {
            findings.add(new Finding.LimitBroken(limit, found, 1, new Place.WholeStamp()));
        }
    }

    private static void checkEach(Limit limit, Field field, List<Finding> findings) {
        int broken = 0;
        int worst = -1;
        for (int i = 0; i < field.grid().size(); i++) {
            double excess = field.known(i) ? excess(limit, field.at(i)) : 0;
            if (excess > 0) {
                broken++;
                if (worst < 0 || excess > excess(limit, field.at(worst))) {
                    worst = i;
                }
            }
        }
        if (broken > 0) {
            findings.add(new Finding.LimitBroken(limit, field.at(worst), broken, Place.Tile.of(field.grid(), worst)));
        }
    }

    /** Returns the number that a limit looks at: that of the tile nearest to breaking it, or of the whole field. */
    public static OptionalDouble found(Limit limit, Field field) {
        if (field.knownCount() == 0) {
            return OptionalDouble.empty();
        }
        if (limit.measure() != Limit.Measure.EACH) {
            return OptionalDouble.of(measure(limit.measure(), field));
        }
        double[] sorted = field.sorted();
        return OptionalDouble.of(sorted[limit.side() == Limit.Side.AT_MOST ? sorted.length - 1 : 0]);
    }

    /**
     * Returns how far inside a limit a number is, over the size of the bound; negative outside. Where the bound is 0 it is the
     * distance itself, SI. Rounding of 1e-12 of the bound counts as 0.
     *
     * @param found what {@link #found} returned
     */
    public static double margin(Limit limit, double found) {
        double inside = limit.side() == Limit.Side.AT_MOST ? limit.boundSi() - found : found - limit.boundSi();
        double size = limit.boundSi() == 0 ? 1 : Math.abs(limit.boundSi());
        return Math.abs(inside) <= ROUNDING * size ? 0 : inside / size;
    }

    private static double measure(Limit.Measure measure, Field field) {
        double[] values = field.sorted();
        double mean = 0;
        for (double value : values) {
            mean += value / values.length;
        }
        return switch (measure) {
            case MEAN -> mean;
            case SPREAD -> values[values.length - 1] - values[0];
            case SIGMA3 -> {
                double variance = 0;
                for (double value : values) {
                    variance += (value - mean) * (value - mean) / values.length;
                }
                yield 3 * Math.sqrt(variance);
            }
            case EACH -> throw new IllegalArgumentException("each tile has its own value");
        };
    }

    /** Returns by how much a value is on the forbidden side, not positive when it is not. */
    private static double excess(Limit limit, double value) {
        double excess = limit.side() == Limit.Side.AT_MOST ? value - limit.boundSi() : limit.boundSi() - value;
        return excess - ROUNDING * Math.abs(limit.boundSi());
    }
}
