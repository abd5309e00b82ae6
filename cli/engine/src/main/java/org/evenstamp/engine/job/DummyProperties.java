package org.evenstamp.engine.job;

import java.math.BigDecimal;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/** Reads {@code dummy.properties}: what every dummy carries beside what the tool reads, so that it lands where the design wants it. */
final class DummyProperties {
    static final JobKey.Nested KEY = new JobKey.Nested(
            "dummy.properties",
            "{layer: fill, datatype: 3}",
            "properties that every dummy carries, each a text, a number, true or false");

    private static final List<String> TAKEN = List.of("role", "depth", "repeat", "texture");
    private static final String NUMBER = "-?(0|[1-9][0-9]*)(\\.[0-9]+)?([eE][+-]?[0-9]+)?";

    private DummyProperties() {}

    /** Returns texts, numbers and truths by name; what is wrong goes to the problems. */
    static Map<String, Object> read(@Nullable JobNode node, JobProblems problems) {
        Map<String, Object> properties = new LinkedHashMap<>();
        boolean nothing = node instanceof JobNode.Scalar scalar && scalar.type() == JobNode.Scalar.Type.NOTHING;
        if (node == null || nothing) {
            return properties;
        }
        if (!(node instanceof JobNode.Mapping mapping)) {
            problems.add(
                    node.mark(),
                    "job.type",
                    KEY.id(),
                    KEY.id() + " must be a group of properties, is " + node.kind(),
                    "such as " + KEY.example());
            return properties;
        }
        mapping.entries().forEach((name, entry) -> {
            if (TAKEN.contains(name)) {
                problems.add(
                        entry.keyMark(),
                        "job.value",
                        KEY.id(),
                        KEY.id() + ": " + name + " says what a feature is and is not free",
                        "give the property another name");
            } else if (entry.value() instanceof JobNode.Scalar scalar && scalar.type() != JobNode.Scalar.Type.NOTHING) {
                properties.put(name, value(scalar));
            } else {
                problems.add(
                        entry.value().mark(),
                        "job.type",
                        KEY.id(),
                        KEY.id() + ": " + name + " must be a text, a number, true or false, is "
                                + entry.value().kind(),
                        "");
            }
        });
        return properties;
    }

    private static Object value(JobNode.Scalar scalar) {
        return switch (scalar.type()) {
            case TRUTH -> Boolean.valueOf(scalar.text().strip());
            case NUMBER -> scalar.text().matches(NUMBER) ? new BigDecimal(scalar.text()) : scalar.text();
            case TEXT, NOTHING -> scalar.text();
        };
    }
}
