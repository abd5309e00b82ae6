package org.evenstamp.engine.job;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.spi.Parameter;
import org.jspecify.annotations.Nullable;

/** Reads the keys of one group within a list that has a form of its own; what is wrong with them goes to the problems. */
final class GroupReader {
    private final String id;
    private final JobNode node;
    private final JobNode.@Nullable Mapping mapping;
    private final JobProblems problems;
    private final ValueReader values;

    /**
     * Begins a group.
     *
     * @param id key of the list
     * @param known the keys that the group may have
     * @param example what it may look like
     */
    GroupReader(String id, JobNode node, List<String> known, String example, JobProblems problems) {
        this.id = id;
        this.node = node;
        this.problems = problems;
        this.values = new ValueReader(problems);
        this.mapping = node instanceof JobNode.Mapping group ? group : null;
        if (mapping == null) {
            problems.add(
                    node.mark(),
                    "job.type",
                    id,
                    id + " must hold groups of keys, is " + node.kind(),
                    "such as " + example);
            return;
        }
        mapping.entries().forEach((name, entry) -> {
            if (!known.contains(name)) {
                List<String> open = new ArrayList<>(known);
                open.removeAll(mapping.entries().keySet());
                problems.add(
                        entry.keyMark(),
                        "job.unknown-key",
                        id,
                        id + " has no key \"" + name + "\"",
                        NearestWord.of(name, open)
                                .map(near -> "did you mean " + near + "?")
                                .orElse("keys are " + String.join(", ", known)));
            }
        });
    }

    /** Returns whether it is a group at all. */
    boolean sound() {
        return mapping != null;
    }

    /** Returns what stands behind a key; null when it is not set. */
    @Nullable
    JobNode node(String name) {
        JobNode.Entry entry = mapping == null ? null : mapping.entries().get(name);
        return entry == null ? null : entry.value();
    }

    /** Returns where the value of a key stands, or the group. */
    JobNode.Mark mark(String name) {
        JobNode value = node(name);
        return value == null ? node.mark() : value.mark();
    }

    /** Adds a problem about a key. */
    void problem(String name, String code, String message, String fix) {
        problems.add(mark(name), code, id, message, fix);
    }

    Optional<String> text(String name) {
        JobNode value = node(name);
        if (value == null) {
            return Optional.empty();
        }
        if (value instanceof JobNode.Scalar scalar && !scalar.text().isBlank()) {
            return Optional.of(scalar.text().strip());
        }
        problem(name, "job.type", id + ": " + name + " must be a text, is " + value.kind(), "");
        return Optional.empty();
    }

    Optional<String> choice(String name, List<String> words) {
        Optional<String> text = text(name);
        if (text.isPresent() && !words.contains(text.get())) {
            problem(
                    name,
                    "job.value",
                    id + ": " + name + " cannot be \"" + text.get() + "\"",
                    "it is one of " + String.join(", ", words)
                            + NearestWord.of(text.get(), words)
                                    .map(near -> "; did you mean " + near + "?")
                                    .orElse(""));
            return Optional.empty();
        }
        return text;
    }

    OptionalDouble quantity(String name, String unit, double least, double most) {
        JobNode value = node(name);
        return value == null
                ? OptionalDouble.empty()
                : values.quantity(id + "." + name, Parameter.Quantity.optional(id, unit, least, most, name), value);
    }

    /** Returns a pair of lengths in metres. */
    Optional<double[]> pair(String name, double mostMillimetres) {
        JobNode value = node(name);
        if (value == null) {
            return Optional.empty();
        }
        if (!(value instanceof JobNode.Sequence pair) || pair.items().size() != 2) {
            problem(name, "job.type", id + ": " + name + " must be [x, y]", "such as [\"1 mm\", \"0 mm\"]");
            return Optional.empty();
        }
        Parameter.Quantity length = Parameter.Quantity.optional(id, "mm", -mostMillimetres, mostMillimetres, name);
        OptionalDouble x = values.quantity(id + "." + name, length, pair.items().get(0));
        OptionalDouble y = values.quantity(id + "." + name, length, pair.items().get(1));
        return x.isPresent() && y.isPresent()
                ? Optional.of(new double[] {x.getAsDouble(), y.getAsDouble()})
                : Optional.empty();
    }

    Optional<MapOptions.Outline> rectangle(String name) {
        JobNode value = node(name);
        return value == null ? Optional.empty() : values.rectangle(id + "." + name, value);
    }

    /** Returns a key that holds a group itself. */
    Optional<GroupReader> group(String name, List<String> known, String example) {
        JobNode value = node(name);
        return value == null ? Optional.empty() : Optional.of(new GroupReader(id, value, known, example, problems));
    }
}
