package org.evenstamp.engine.job;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.evenstamp.engine.job.JobValues.Value;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;

/**
 * Reads the value of one key by what the key may be; what is wrong with it goes to the problems. A mistyped word is told and
 * then taken for what it was meant to be, so that the rest of the job is checked as if it were right.
 */
final class ValueReader {
    private final JobProblems problems;

    ValueReader(JobProblems problems) {
        this.problems = problems;
    }

    /** Returns the value, or nothing after a problem was found. */
    Optional<Value> read(JobKey key, JobNode node) {
        if (key instanceof JobKey.Text) {
            return text(key.id(), node);
        }
        if (key instanceof JobKey.Rectangle) {
            return rectangle(key.id(), node).map(Value.Rectangle::new);
        }
        if (key instanceof JobKey.Nested) {
            return Optional.of(new Value.Nested(node));
        }
        Parameter parameter = ((JobKey.Value) key).parameter();
        if (parameter instanceof Parameter.Quantity quantity) {
            OptionalDouble si = quantity(key.id(), quantity, node);
            return si.isPresent() ? Optional.of(new Value.Amount(si.getAsDouble())) : Optional.empty();
        }
        return parameter instanceof Parameter.Choice choice
                ? choice(choice, node)
                : table((Parameter.Table) parameter, node);
    }

    private Optional<Value> text(String id, JobNode node) {
        if (node instanceof JobNode.Scalar scalar
                && scalar.type() != JobNode.Scalar.Type.NOTHING
                && !scalar.text().isBlank()) {
            return Optional.of(new Value.Word(scalar.text()));
        }
        problems.add(node.mark(), "job.type", id, id + " must be a text, is " + node.kind(), "");
        return Optional.empty();
    }

    private Optional<Value> choice(Parameter.Choice choice, JobNode node) {
        if (node instanceof JobNode.Scalar scalar && choice.options().contains(scalar.text())) {
            return Optional.of(new Value.Word(scalar.text()));
        }
        Optional<String> nearest = node instanceof JobNode.Scalar scalar
                ? NearestWord.of(scalar.text(), choice.options())
                : Optional.empty();
        problems.add(
                node.mark(),
                "job.value",
                choice.id(),
                choice.id() + " cannot be " + node.kind(),
                "it is one of " + String.join(", ", choice.options())
                        + nearest.map(word -> "; did you mean " + word + "?").orElse(""));
        return nearest.map(Value.Word::new);
    }

    private Optional<Value> table(Parameter.Table table, JobNode node) {
        if (!(node instanceof JobNode.Sequence sequence)) {
            problems.add(
                    node.mark(), "job.type", table.id(), table.id() + " must be a list of rows, is " + node.kind(), "");
            return Optional.empty();
        }
        List<Map<String, Double>> rows = new ArrayList<>();
        for (JobNode item : sequence.items()) {
            if (item instanceof JobNode.Mapping mapping) {
                rows.add(row(table, mapping));
            } else {
                problems.add(
                        item.mark(),
                        "job.type",
                        table.id(),
                        "a row of " + table.id() + " must be a group of keys, is " + item.kind(),
                        "");
            }
        }
        return Optional.of(new Value.Rows(List.copyOf(rows)));
    }

    private Map<String, Double> row(Parameter.Table table, JobNode.Mapping mapping) {
        Map<String, Double> row = new LinkedHashMap<>();
        List<String> names = table.columns().stream()
                .map(column -> columnName(table, column))
                .toList();
        List<String> open = new ArrayList<>(names);
        open.removeAll(mapping.entries().keySet());
        mapping.entries().forEach((name, entry) -> {
            Optional<String> known = names.contains(name) ? Optional.of(name) : NearestWord.of(name, open);
            if (!names.contains(name)) {
                problems.add(
                        entry.keyMark(),
                        "job.unknown-key",
                        table.id(),
                        table.id() + " has no column \"" + name + "\"",
                        "columns are " + String.join(", ", names));
            }
            known.ifPresent(meant -> {
                open.remove(meant);
                Parameter.Quantity column = table.columns().get(names.indexOf(meant));
                quantity(table.id() + "." + meant, column, entry.value()).ifPresent(si -> row.put(column.id(), si));
            });
        });
        for (Parameter.Quantity column : table.columns()) {
            String name = columnName(table, column);
            if (column.required() && open.contains(name)) {
                problems.add(
                        mapping.mark(),
                        "job.missing-key",
                        table.id(),
                        "this row of " + table.id() + " lacks " + name,
                        "");
            }
            column.standard()
                    .ifPresent(
                            value -> row.putIfAbsent(column.id(), column.unit().toSi(value)));
        }
        return row;
    }

    /** A column's key is its id, without the table's id where it begins with that. */
    static String columnName(Parameter.Table table, Parameter.Quantity column) {
        return column.id().startsWith(table.id() + ".")
                ? column.id().substring(table.id().length() + 1)
                : column.id();
    }

    OptionalDouble quantity(String id, Parameter.Quantity parameter, JobNode node) {
        Unit unit = parameter.unit();
        String example = example(parameter);
        if (!(node instanceof JobNode.Scalar scalar)
                || scalar.type() == JobNode.Scalar.Type.NOTHING
                || scalar.type() == JobNode.Scalar.Type.TRUTH) {
            problems.add(
                    node.mark(),
                    "job.type",
                    id,
                    id + " must be a number with a unit, is " + node.kind(),
                    "such as " + example);
            return OptionalDouble.empty();
        }
        String text = scalar.text().strip();
        if (LimitReader.isNumber(text)) {
            if (!LimitReader.isPure(unit)) {
                problems.add(
                        node.mark(),
                        "job.no-unit",
                        id,
                        id + " needs a unit, is the bare number " + text,
                        "write \"" + text + " " + unit.symbol() + "\" if that is the unit meant");
                return OptionalDouble.empty();
            }
            text = text + " 1";
        }
        double si;
        try {
            si = Quantity.parse(text).siAs(unit);
        } catch (UnitException e) {
            problems.add(node.mark(), "job.value", id, id + ": " + e.getMessage(), "such as " + example);
            return OptionalDouble.empty();
        }
        double shown = unit.fromSi(si);
        double slack = 1e-9; // "1 um" must pass a limit of 1000 nm in spite of the last bit
        if (!(shown >= parameter.least() - slack * Math.abs(parameter.least())
                && shown <= parameter.most() + slack * Math.abs(parameter.most()))) {
            problems.add(
                    node.mark(),
                    "job.range",
                    id,
                    id + " is " + scalar.text().strip() + ", outside " + plain(parameter.least()) + " to "
                            + plain(parameter.most()) + " " + unit.symbol(),
                    "");
            return OptionalDouble.empty();
        }
        return OptionalDouble.of(si);
    }

    /** Returns a value that a key may have, as a job writes it. */
    static String example(Parameter.Quantity parameter) {
        double value = parameter.standard().orElse(Math.max(parameter.least(), Math.min(100, parameter.most())));
        return "\"" + plain(value) + " " + parameter.unit().symbol() + "\"";
    }

    /** Returns a number for a person, whole ones without a fraction. */
    static String plain(double value) {
        return value == Math.rint(value) && Math.abs(value) < 1e7
                ? Long.toString((long) value)
                : Double.toString(value);
    }

    Optional<MapOptions.Outline> rectangle(String id, JobNode node) {
        if (!(node instanceof JobNode.Mapping mapping)
                || !mapping.entries().keySet().equals(Set.of("min", "max"))) {
            problems.add(
                    node.mark(),
                    "job.type",
                    id,
                    id + " needs the corners min and max",
                    "such as {min: [\"-6 mm\", \"-6 mm\"], max: [\"6 mm\", \"6 mm\"]}");
            return Optional.empty();
        }
        double[] corner = new double[4];
        boolean complete = true;
        int at = 0;
        for (String name : List.of("min", "max")) {
            JobNode value = Objects.requireNonNull(mapping.entries().get(name)).value();
            if (!(value instanceof JobNode.Sequence sequence)
                    || sequence.items().size() != 2) {
                problems.add(
                        value.mark(),
                        "job.type",
                        id,
                        id + "." + name + " must be [x, y]",
                        "such as [\"-6 mm\", \"-6 mm\"]");
                return Optional.empty();
            }
            for (JobNode item : sequence.items()) {
                OptionalDouble si = quantity(
                        id + "." + name,
                        Parameter.Quantity.optional(id, "mm", -1e4, 1e4, "coordinate of a corner"),
                        item);
                complete &= si.isPresent();
                corner[at++] = si.orElse(0);
            }
        }
        if (!complete) {
            return Optional.empty();
        }
        if (!(corner[2] > corner[0]) || !(corner[3] > corner[1])) {
            problems.add(node.mark(), "job.range", id, id + ": min must lie to the left of and below max", "");
            return Optional.empty();
        }
        return Optional.of(new MapOptions.Outline(corner[0], corner[1], corner[2], corner[3]));
    }
}
