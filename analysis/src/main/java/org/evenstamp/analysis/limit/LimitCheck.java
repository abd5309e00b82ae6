package org.evenstamp.analysis.limit;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.IntPredicate;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Problems;
import org.jspecify.annotations.Nullable;

/**
 * Compares fields with limits.
 *
 * <p>Only tiles with a value are looked at: the transport distance of a tile that has no surplus breaks no limit. Where a
 * limited field lacks values, a warning says in how many tiles nothing could be compared; tiles without cavity, which ask nothing of most
 * fields, do not count. A value equal to the bound keeps
 * the limit; so does one that misses it by rounding, 1e-12 of the bound.
 *
 * <p>A limit on a figure looks at a number of the whole stamp; where a run has no such figure a warning says so.
 *
 * <p>A limit on a region looks at the tiles that the region has a part of. Mean and standard deviation count each by that part.
 */
public final class LimitCheck {
    private static final double ROUNDING = 1e-12;

    /** Fields that end at 1, where everything is full. */
    private static final Set<String> SHARES =
            Set.of(ImprintFields.FILL_SHARE.id(), ImprintFields.FILL_SHARE_LOCAL.id());

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
        refuseUnknownRegions(limits, fields);
        Problems problems = new Problems();
        List<Finding> findings = new ArrayList<>();
        for (Limit limit : limits) {
            Optional<Field> field = fields.find(limit.fieldId());
            if (limit.measure() == Limit.Measure.VALUE) {
                checkNumber(limit, fields, findings);
            } else if (field.isPresent()) {
                check(limit, new Seen(field.get(), regionOf(limit, fields)), withoutCavity(fields), findings);
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

    /**
     * Returns when the stamp has the regions of all limits.
     *
     * @throws org.evenstamp.shared.problem.InputException naming every limit whose region it has not
     */
    public static void refuseUnknownRegions(List<Limit> limits, FieldSet fields) {
        Problems problems = new Problems();
        for (Limit limit : limits) {
            if (!limit.region().isEmpty() && fields.region(limit.region()).isEmpty()) {
                problems.add(new Problem(
                        "limit.unknown-region",
                        limit.source(),
                        "limits." + limit.subject(),
                        "the limit on " + limit.subject() + " is on a region that the stamp has not",
                        fields.regions().isEmpty()
                                ? "draw it with the role region and this name, or describe it in layout.regions"
                                : "the regions are "
                                        + fields.regions().stream()
                                                .map(NamedRegion::name)
                                                .collect(Collectors.joining(", "))));
            }
        }
        problems.throwIfAny();
    }

    private static @Nullable NamedRegion regionOf(Limit limit, FieldSet fields) {
        return fields.region(limit.region()).orElse(null);
    }

    /** A field as a limit sees it: as a whole, or in the tiles of a region. */
    private record Seen(Field field, @Nullable NamedRegion region) {
        boolean at(int tile) {
            return region == null || region.meets(tile);
        }

        boolean known(int tile) {
            return field.known(tile) && at(tile);
        }

        long count(IntPredicate which) {
            return IntStream.range(0, field.grid().size())
                    .filter(tile -> at(tile) && which.test(tile))
                    .count();
        }

        /** Returns its known values in ascending order. */
        double[] sorted() {
            return region == null
                    ? field.sorted()
                    : IntStream.range(0, field.grid().size())
                            .filter(this::known)
                            .mapToDouble(field::at)
                            .sorted()
                            .toArray();
        }
    }

    private static IntPredicate withoutCavity(FieldSet fields) {
        Optional<Field> fraction = fields.find(TileFields.CAVITY_FRACTION.id());
        return tile -> fraction.isPresent() && fraction.get().at(tile) < LEAST_FRACTION;
    }

    private static void check(Limit limit, Seen seen, IntPredicate withoutCavity, List<Finding> findings) {
        Field field = seen.field();
        long unknown = seen.count(tile -> !field.known(tile) && !withoutCavity.test(tile));
        if (unknown > 0) {
            findings.add(new Finding.Warning(
                    "limit",
                    "limit.no-value",
                    "the limit on " + limit.subject() + " was not checked in " + unknown + " of "
                            + seen.count(tile -> true) + " tiles, where it has no value",
                    new Place.WholeStamp()));
        }
        if (seen.count(field::known) == 0) {
            return;
        }
        if (limit.measure() == Limit.Measure.EACH) {
            checkEach(limit, seen, findings);
            return;
        }
        double found = measure(limit.measure(), seen);
        if (excess(limit, found) > 0) {
            findings.add(new Finding.LimitBroken(limit, found, 1, new Place.WholeStamp()));
        }
    }

    private static void checkNumber(Limit limit, FieldSet fields, List<Finding> findings) {
        OptionalDouble found = found(limit, fields);
        if (found.isEmpty()) {
            findings.add(new Finding.Warning(
                    "limit",
                    "limit.no-value",
                    "the limit on " + limit.subject() + " was not checked: this run has no such figure",
                    new Place.WholeStamp()));
        } else if (excess(limit, found.getAsDouble()) > 0) {
            findings.add(new Finding.LimitBroken(limit, found.getAsDouble(), 1, new Place.WholeStamp()));
        }
    }

    private static void checkEach(Limit limit, Seen seen, List<Finding> findings) {
        Field field = seen.field();
        int broken = 0;
        int worst = -1;
        for (int i = 0; i < field.grid().size(); i++) {
            double excess = seen.known(i) ? excess(limit, field.at(i)) : 0;
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

    /**
     * Returns the number that a limit looks at: that of the tile nearest to breaking it, or of the whole field or region; empty
     * where the field is not there, or has no value that the limit looks at.
     */
    public static OptionalDouble found(Limit limit, FieldSet fields) {
        if (limit.measure() == Limit.Measure.VALUE) {
            return fields.numbers().entrySet().stream()
                    .filter(number -> number.getKey().id().equals(limit.fieldId()))
                    .mapToDouble(Map.Entry::getValue)
                    .findFirst();
        }
        Optional<Field> field = fields.find(limit.fieldId());
        NamedRegion region = regionOf(limit, fields);
        if (field.isEmpty() || (region == null && !limit.region().isEmpty())) {
            return OptionalDouble.empty();
        }
        Seen seen = new Seen(field.get(), region);
        double[] sorted = seen.sorted();
        if (sorted.length == 0) {
            return OptionalDouble.empty();
        }
        return OptionalDouble.of(
                limit.measure() == Limit.Measure.EACH
                        ? sorted[limit.side() == Limit.Side.AT_MOST ? sorted.length - 1 : 0]
                        : measure(limit.measure(), seen));
    }

    /**
     * Returns how far inside a limit a number is, over the size of the bound; negative outside. Where the bound is 0 it is the
     * distance itself, SI. A share that must be high ends at 1, so inside it is over the room from the bound to 1. Rounding of
     * 1e-12 of the bound counts as 0.
     *
     * @param found what {@link #found} returned
     */
    public static double margin(Limit limit, double found) {
        double inside = limit.side() == Limit.Side.AT_MOST ? limit.boundSi() - found : found - limit.boundSi();
        double size = limit.boundSi() == 0 ? 1 : Math.abs(limit.boundSi());
        if (Math.abs(inside) <= ROUNDING * size) {
            return 0;
        }
        boolean share = SHARES.contains(limit.fieldId()) && limit.side() == Limit.Side.AT_LEAST;
        double room = 1 - limit.boundSi();
        return inside / (share && inside > 0 && room > 0 ? room : size);
    }

    private static double measure(Limit.Measure measure, Seen seen) {
        double[] values = seen.sorted();
        if (measure == Limit.Measure.SPREAD) {
            return values[values.length - 1] - values[0];
        }
        NamedRegion region = seen.region();
        if (region != null) {
            return measure(measure, seen, region);
        }
        double mean = 0;
        for (double value : values) {
            mean += value / values.length;
        }
        return switch (measure) {
            case MEAN -> mean;
            case SIGMA3 -> {
                double variance = 0;
                for (double value : values) {
                    variance += (value - mean) * (value - mean) / values.length;
                }
                yield 3 * Math.sqrt(variance);
            }
            case EACH, SPREAD, VALUE -> throw new IllegalArgumentException("no mean: " + measure);
        };
    }

    /** Returns mean or standard deviation, each tile counted by the share that the region fills. */
    private static double measure(Limit.Measure measure, Seen seen, NamedRegion region) {
        double weight = 0;
        double mean = 0;
        double squares = 0;
        for (int i = 0; i < seen.field().grid().size(); i++) {
            if (seen.known(i)) {
                double share = region.share(i);
                double value = seen.field().at(i);
                weight += share;
                double step = value - mean;
                mean += step * share / weight;
                squares += share * step * (value - mean);
            }
        }
        return measure == Limit.Measure.MEAN ? mean : 3 * Math.sqrt(Math.max(0, squares / weight));
    }

    /** Returns by how much a value is on the forbidden side, not positive when it is not. */
    private static double excess(Limit limit, double value) {
        double excess = limit.side() == Limit.Side.AT_MOST ? value - limit.boundSi() : limit.boundSi() - value;
        return excess - ROUNDING * Math.abs(limit.boundSi());
    }
}
