package org.evenstamp.engine.job;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Pattern;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.problem.Source;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;

/** Reads the section of limits: bounds such as {@code "<= 20 nm"} or {@code ">= 10 nm"}, by measure and field. */
final class LimitReader {
    static final List<String> MEASURES =
            Arrays.stream(Limit.Measure.values()).map(Limit.Measure::word).toList();

    static final List<String> MEASURES_OF_FIGURES = List.of(Limit.Measure.VALUE.word());

    static final List<String> MEASURES_OF_FIELDS = MEASURES.stream()
            .filter(measure -> !MEASURES_OF_FIGURES.contains(measure))
            .toList();

    static final String CHANCE = "chance";

    private static final Pattern NUMBER = Pattern.compile("[+-]?([0-9]+\\.?[0-9]*|\\.[0-9]+)([eE][+-]?[0-9]+)?");

    private final JobText text;
    private final JobProblems problems;
    private final List<Limit> unread = new ArrayList<>();

    LimitReader(JobText text, JobProblems problems) {
        this.text = text;
        this.problems = problems;
    }

    /** Returns the field of a key such as {@code residual.final@optics}. */
    static String field(String subject) {
        int at = subject.indexOf(Limit.AT);
        return at < 0 ? subject : subject.substring(0, at);
    }

    /** Returns the region of such a key; empty where it names none. */
    static String region(String subject) {
        int at = subject.indexOf(Limit.AT);
        return at < 0 ? "" : subject.substring(at + 1).strip();
    }

    /** Returns a limit for every bound that has been met and not understood. */
    List<Limit> unread() {
        return unread;
    }

    /**
     * Returns the bounds on one field or figure, in a region unless that is empty; what is wrong with them goes to the problems.
     *
     * @param measures words of the measures that it has
     */
    List<Limit> limits(FieldName field, String region, List<String> measures, JobNode node) {
        String key = JobVocabulary.LIMITS + "." + field.id() + (region.isEmpty() ? "" : Limit.AT + region);
        if (!(node instanceof JobNode.Mapping mapping)) {
            problems.add(
                    node.mark(),
                    "job.type",
                    key,
                    key + " must be a group of " + String.join(", ", measures) + ", is " + node.kind(),
                    "such as {" + measures.get(0) + ": \">= 10 " + field.unit().symbol() + "\"}");
            return List.of();
        }
        List<Limit> limits = new ArrayList<>();
        mapping.entries().forEach((measure, bound) -> {
            if (measure.equals(CHANCE)) {
                return;
            }
            if (!measures.contains(measure)) {
                problems.add(
                        bound.keyMark(),
                        "job.unknown-key",
                        key,
                        key + " has no measure \"" + measure + "\"",
                        "it is one of " + String.join(", ", measures) + ", or " + CHANCE + " for a sweep");
            } else if (bound.value() instanceof JobNode.Sequence sequence) {
                sequence.items()
                        .forEach(item -> bound(field, region, measure, item).ifPresent(limits::add));
            } else {
                bound(field, region, measure, bound.value()).ifPresent(limits::add);
            }
        });
        return limits;
    }

    /** Returns the chance of breaking these bounds that a sweep may find, such as {@code chance: "<= 1 %"}. */
    OptionalDouble chance(FieldName field, JobNode node) {
        JobNode.Entry entry =
                node instanceof JobNode.Mapping mapping ? mapping.entries().get(CHANCE) : null;
        if (entry == null) {
            return OptionalDouble.empty();
        }
        String key = JobVocabulary.LIMITS + "." + field.id() + "." + CHANCE;
        String written =
                entry.value() instanceof JobNode.Scalar scalar ? scalar.text().strip() : "";
        try {
            double share = Quantity.parse(
                            written.startsWith("<=") ? written.substring(2).strip() : "")
                    .siAs(Unit.parse("%"));
            if (share >= 0 && share < 1) {
                return OptionalDouble.of(share);
            }
        } catch (UnitException e) {
            // told below, as is a chance out of range
        }
        problems.add(
                entry.value().mark(),
                "job.value",
                key,
                key + ": \"" + written + "\" is not a chance that a sweep may find",
                "such as \"<= 1 %\", below 100 %");
        return OptionalDouble.empty();
    }

    private Optional<Limit> bound(FieldName field, String region, String measure, JobNode node) {
        String key = JobVocabulary.LIMITS + "." + field.id() + "." + measure;
        if (!(node instanceof JobNode.Scalar scalar)) {
            problems.add(
                    node.mark(),
                    "job.type",
                    key,
                    key + " must be a bound, is " + node.kind(),
                    "such as \"<= 20 " + field.unit().symbol() + "\"");
            return Optional.empty();
        }
        try {
            Limit read = read(field, measure, scalar.text(), text.source(node.mark()));
            return Optional.of(
                    new Limit(read.fieldId(), region, read.measure(), read.side(), read.boundSi(), read.source()));
        } catch (UnitException e) {
            problems.add(node.mark(), "job.value", key, key + ": " + e.getMessage(), "");
            unread.add(new Limit(field.id(), measure(measure), Limit.Side.AT_LEAST, 0, text.source(node.mark())));
            return Optional.empty();
        }
    }

    /**
     * Reads a bound on a field.
     *
     * @throws UnitException when it is not a sign and a quantity of the field's dimension
     */
    static Limit read(FieldName field, String measureWord, String text, Source source) {
        Limit.Measure measure = measure(measureWord);
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
                difference ? quantity.value() * quantity.unit().scale() : si,
                source);
    }

    private static Limit.Measure measure(String word) {
        return Limit.Measure.valueOf(word.toUpperCase(Locale.ROOT));
    }

    static boolean isPure(Unit unit) {
        return unit.symbol().equals("1");
    }

    static boolean isNumber(String text) {
        return NUMBER.matcher(text).matches();
    }
}
