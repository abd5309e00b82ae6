package org.evenstamp.output.compare;

import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;

/**
 * What counts as the same: two numbers that differ by no more than the absolute tolerance, or by no more than the relative one
 * times a magnitude: for the tiles of a field the largest magnitude of the field in either run, so that noise beside a zero does
 * not count; for any other number the larger of the two. Without any tolerance, only equal numbers are the same.
 *
 * @param absolute absolute tolerances; one of a field goes before one of everything with its dimension, a later before an
 *     earlier
 * @param relative relative tolerances, likewise
 */
public record Tolerance(List<Absolute> absolute, List<Relative> relative) {
    /** Nothing but equal numbers. */
    public static final Tolerance EXACT = new Tolerance(List.of(), List.of());

    /** Copies the lists. */
    public Tolerance {
        absolute = List.copyOf(absolute);
        relative = List.copyOf(relative);
    }

    /**
     * A difference that does not count.
     *
     * @param field id of the field, or {@code analysis:id} of a figure; empty for every number of the same dimension
     * @param size the difference, not negative
     */
    public record Absolute(String field, Quantity size) {
        /**
         * Reads {@code "0.5 nm"} or {@code "residual.final=0.5 nm"}.
         *
         * @throws UnitException when it is neither
         */
        public static Absolute parse(String text) {
            Quantity size = Quantity.parse(afterEquals(text));
            if (size.value() < 0) {
                throw new UnitException("\"" + text + "\" must not be negative");
            }
            return new Absolute(beforeEquals(text), size);
        }

        /** Returns the size in a unit; a difference takes no part of an offset. */
        double in(Unit unit) {
            return size.value() * size.unit().scale() / unit.scale();
        }
    }

    /**
     * A share that does not count.
     *
     * @param field id of the field, or {@code analysis:id} of a figure; empty for every number
     * @param share the share, not negative
     */
    public record Relative(String field, double share) {
        /**
         * Reads {@code "1e-6"}, {@code "0.1 %"} or {@code "residual.final=1e-6"}.
         *
         * @throws UnitException when it is none of them
         */
        public static Relative parse(String text) {
            String number = afterEquals(text).strip();
            boolean bare = !number.isEmpty() && Character.isDigit(number.charAt(number.length() - 1));
            try {
                double share = Quantity.parse(bare ? number + " 1" : number).siAs(Unit.ONE);
                if (share >= 0) {
                    return new Relative(beforeEquals(text), share);
                }
            } catch (UnitException e) {
                // told below, with an example that fits
            }
            throw new UnitException("\"" + text + "\" is not a share such as 1e-6 or \"0.1 %\"");
        }
    }

    private static String beforeEquals(String text) {
        return text.substring(0, Math.max(0, text.indexOf('='))).strip();
    }

    private static String afterEquals(String text) {
        return text.substring(text.indexOf('=') + 1);
    }

    /** Puts tolerances of what is in neither run, or of another dimension, among the problems. */
    void check(StoredRun a, StoredRun b, Problems problems) {
        Map<String, String> units = new LinkedHashMap<>();
        for (StoredRun run : List.of(b, a)) {
            run.figures().forEach((id, figure) -> units.put(id, figure.unit()));
            units.putAll(run.fields());
        }
        Set<String> named = new LinkedHashSet<>();
        absolute.forEach(one -> named.add(one.field()));
        relative.forEach(one -> named.add(one.field()));
        named.remove("");
        named.removeAll(units.keySet());
        for (String field : named) {
            problems.add(
                    "compare.tolerance",
                    "tolerance of " + field,
                    "no such field or figure in either run",
                    "the fields are "
                            + Stream.concat(a.fields().keySet().stream(), b.fields().keySet().stream())
                                    .distinct()
                                    .collect(Collectors.joining(", ")));
        }
        for (Absolute one : absolute) {
            String symbol = units.get(one.field());
            if (symbol != null
                    && !Unit.parse(symbol).dimension().equals(one.size().unit().dimension())) {
                problems.add(
                        "compare.tolerance",
                        "tolerance of " + one.field(),
                        "\"" + one.size().unit().symbol() + "\" does not measure what its \"" + symbol + "\" measures",
                        "give it in " + symbol);
            }
        }
    }

    /** Returns what of a number may differ, in the number's unit. */
    Allowance of(String field, String unit) {
        Unit parsed = Unit.parse(unit);
        double size = last(
                        absolute,
                        Absolute::field,
                        field,
                        one -> one.size().unit().dimension().equals(parsed.dimension()))
                .map(one -> one.in(parsed))
                .orElse(0.0);
        double share = last(relative, Relative::field, field, one -> true)
                .map(Relative::share)
                .orElse(0.0);
        return new Allowance(size, share);
    }

    /** Returns the last of those of the field itself, or else of those of everything that fit. */
    private static <T> Optional<T> last(List<T> all, Function<T, String> fieldOf, String field, Predicate<T> fits) {
        Optional<T> own = all.stream()
                .filter(one -> !field.isEmpty() && fieldOf.apply(one).equals(field))
                .reduce((earlier, later) -> later);
        return own.or(() -> all.stream()
                .filter(one -> fieldOf.apply(one).isEmpty() && fits.test(one))
                .reduce((earlier, later) -> later));
    }

    /**
     * What of one number may differ.
     *
     * @param size absolute, in the number's unit
     * @param share of the magnitude
     */
    record Allowance(double size, double share) {
        private static final double ROUNDINGS = 4;

        /** Returns whether two numbers are the same within it, which have no magnitude but their own. */
        boolean covers(double a, double b) {
            return covers(a, b, Math.max(Math.abs(a), Math.abs(b)));
        }

        /** Returns whether two numbers are the same within it; a difference equal to it is, up to rounding. */
        boolean covers(double a, double b, double magnitude) {
            double most = Math.max(size, share * magnitude);
            double rounding = ROUNDINGS * Math.ulp(Math.max(Math.abs(a), Math.abs(b)));
            return a == b || (most > 0 && Math.abs(b - a) <= most + rounding);
        }
    }
}
