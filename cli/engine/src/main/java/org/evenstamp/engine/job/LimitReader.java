package org.evenstamp.engine.job;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.evenstamp.engine.job.JobValues.PlacedLimit;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;

/** Reads the section of limits: bounds such as {@code "<= 20 nm"} or {@code ">= 10 nm"}, by measure and field. */
final class LimitReader {
    static final List<String> MEASURES =
            Arrays.stream(Limit.Measure.values()).map(Limit.Measure::word).toList();

    private final JobProblems problems;

    LimitReader(JobProblems problems) {
        this.problems = problems;
    }

    /** Returns the bounds on one field; what is wrong with them goes to the problems. */
    List<PlacedLimit> limits(FieldName field, JobNode node) {
        if (!(node instanceof JobNode.Mapping mapping)) {
            problems.add(
                    node.mark(),
                    "job.type",
                    "limits." + field.id() + " must be a group of " + String.join(", ", MEASURES) + ", is "
                            + node.kind(),
                    "such as {each: \">= 10 " + field.unit().symbol() + "\"}");
            return List.of();
        }
        List<PlacedLimit> limits = new ArrayList<>();
        mapping.entries().forEach((measure, bound) -> {
            if (!MEASURES.contains(measure)) {
                problems.add(
                        bound.keyMark(),
                        "job.unknown-key",
                        "limits." + field.id() + " has no measure \"" + measure + "\"",
                        "it is one of " + String.join(", ", MEASURES));
            } else if (bound.value() instanceof JobNode.Sequence sequence) {
                sequence.items().forEach(item -> bound(field, measure, item).ifPresent(limits::add));
            } else {
                bound(field, measure, bound.value()).ifPresent(limits::add);
            }
        });
        return limits;
    }

    private Optional<PlacedLimit> bound(FieldName field, String measure, JobNode node) {
        String id = "limits." + field.id() + "." + measure;
        if (!(node instanceof JobNode.Scalar scalar)) {
            problems.add(
                    node.mark(),
                    "job.type",
                    id + " must be a bound, is " + node.kind(),
                    "such as \"<= 20 " + field.unit().symbol() + "\"");
            return Optional.empty();
        }
        try {
            return Optional.of(new PlacedLimit(read(field, measure, scalar.text()), node.mark()));
        } catch (UnitException e) {
            problems.add(node.mark(), "job.value", id + ": " + e.getMessage(), "");
            return Optional.empty();
        }
    }

    /**
     * Reads a bound on a field.
     *
     * @throws UnitException when it is not a sign and a quantity of the field's dimension
     */
    static Limit read(FieldName field, String measureWord, String text) {
        Limit.Measure measure = Limit.Measure.valueOf(measureWord.toUpperCase(Locale.ROOT));
        String trimmed = text.strip();
        Limit.Side side;
        if (trimmed.startsWith("<=")) {
            side = Limit.Side.AT_MOST;
        } else if (trimmed.startsWith(">=")) {
            side = Limit.Side.AT_LEAST;
        } else {
            throw new UnitException("\"" + text + "\" is not a bound such as \"<= 20 "
                    + field.unit().symbol() + "\" or \">= 10 " + field.unit().symbol() + "\"");
        }
        String number = trimmed.substring(2).strip();
        Quantity quantity = Quantity.parse(isPure(field.unit()) && isNumber(number) ? number + " 1" : number);
        double si = quantity.siAs(field.unit());
        // A spread is a difference: 5 degC of spread are 5 K.
        boolean difference = measure == Limit.Measure.SPREAD || measure == Limit.Measure.SIGMA3;
        return new Limit(
                field.id(),
                measure,
                side,
                difference ? quantity.value() * quantity.unit().scale() : si);
    }

    static boolean isPure(Unit unit) {
        return unit.symbol().equals("1");
    }

    static boolean isNumber(String text) {
        return text.matches("[+-]?([0-9]+\\.?[0-9]*|\\.[0-9]+)([eE][+-]?[0-9]+)?");
    }
}
