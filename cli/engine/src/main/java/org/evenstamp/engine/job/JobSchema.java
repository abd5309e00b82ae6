package org.evenstamp.engine.job;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.unit.Unit;

/**
 * Writes a vocabulary as a JSON Schema (draft 2020-12), so that an editor can complete and check a job. The schema knows
 * keys, types and the form of quantities; units and ranges it states in words, and {@code evenstamp check} enforces them.
 */
public final class JobSchema {
    private static final String NUMBER = "[+-]?([0-9]+\\.?[0-9]*|\\.[0-9]+)([eE][+-]?[0-9]+)?";
    private static final String QUANTITY = "^\\s*" + NUMBER + "(\\s+\\S.*|[^\\s0-9.eE].*)$";
    private static final String BOUND = "^\\s*[<>]=\\s*" + NUMBER + ".*$";

    private static final JsonNodeFactory NODES = JsonNodeFactory.instance;

    private JobSchema() {}

    /** Returns the schema as text. */
    public static String write(JobVocabulary vocabulary) {
        ObjectNode schema = NODES.objectNode();
        schema.put("$schema", "https://json-schema.org/draft/2020-12/schema");
        schema.put("$id", "urn:evenstamp:schema:job:1");
        schema.put("title", "evenstamp job");
        schema.put("type", "object");
        ArrayNode required = NODES.arrayNode();
        ObjectNode sections = NODES.objectNode();
        for (String name : vocabulary.sections()) {
            if (name.equals(JobVocabulary.LIMITS)) {
                sections.set(name, limits(vocabulary));
                continue;
            }
            List<JobKey> keys = vocabulary.keys().stream()
                    .filter(key -> key.section().equals(name))
                    .toList();
            ObjectNode section = group(keys.stream().anyMatch(JobKey::required));
            ObjectNode properties = section.putObject("properties");
            keys.forEach(key -> properties.set(key.key(), key(key)));
            List<String> musts =
                    keys.stream().filter(JobKey::required).map(JobKey::key).toList();
            if (musts.contains(JobVocabulary.LAYOUT_FILE.key())) {
                ArrayNode either = section.putArray("anyOf");
                for (JobKey file :
                        List.of(JobVocabulary.LAYOUT_FILE, JobVocabulary.LAYOUT_LAYERS, JobVocabulary.LAYOUT_TABLE)) {
                    either.addObject().putArray("required").add(file.key());
                }
                required.add(name);
            } else if (!musts.isEmpty()) {
                musts.forEach(section.putArray("required")::add);
                required.add(name);
            }
            sections.set(name, section);
        }
        schema.set("properties", sections);
        schema.set("required", required);
        schema.put("additionalProperties", false);
        ObjectNode definitions = schema.putObject("$defs");
        ObjectNode quantity = definitions.putObject("quantity");
        quantity.put("type", "string");
        quantity.put("pattern", QUANTITY);
        ObjectNode bound = definitions.putObject("bound");
        bound.put("type", "string");
        bound.put("pattern", BOUND);
        ObjectNode bounds = definitions.putObject("bounds");
        bounds.put("type", "object");
        ObjectNode measures = bounds.putObject("properties");
        measures(LimitReader.MEASURES_OF_FIELDS, measures);
        chance(measures);
        bounds.put("additionalProperties", false);
        ObjectNode ofFigure = definitions.putObject("bounds-of-figure");
        ofFigure.put("type", "object");
        ObjectNode value = ofFigure.putObject("properties");
        measures(LimitReader.MEASURES_OF_FIGURES, value);
        chance(value);
        ofFigure.put("additionalProperties", false);
        return text(schema);
    }

    private static void measures(List<String> words, ObjectNode measures) {
        for (String measure : words) {
            ArrayNode either = measures.putObject(measure).putArray("anyOf");
            either.add(reference("bound"));
            ObjectNode list = NODES.objectNode().put("type", "array");
            list.set("items", reference("bound"));
            either.add(list);
        }
    }

    private static void chance(ObjectNode measures) {
        measures.putObject(LimitReader.CHANCE)
                .put("type", "string")
                .put("pattern", "^\\s*<=.*%\\s*$")
                .put(
                        "description",
                        "largest chance of breaking one of these bounds that a sweep may find, such as <= 1 %");
    }

    /** Returns a few characters that say what a key takes, such as {@code nm} or {@code text}. */
    public static String form(JobKey key) {
        if (key instanceof JobKey.Value value) {
            if (value.parameter() instanceof Parameter.Quantity quantity) {
                return quantity.unit().symbol();
            }
            return value.parameter() instanceof Parameter.Choice choice ? String.join("|", choice.options()) : "table";
        }
        return key instanceof JobKey.Text
                ? "text"
                : key instanceof JobKey.Nested nested ? nested.isGroup() ? "group" : "list" : "rectangle";
    }

    private static ObjectNode limits(JobVocabulary vocabulary) {
        ObjectNode limits = group(false);
        ObjectNode properties = limits.putObject("properties");
        for (FieldName field : vocabulary.fields()) {
            ObjectNode bounds = reference("bounds");
            bounds.put("description", field.meaning() + "; in " + field.unit().symbol());
            properties.set(field.id(), bounds);
        }
        for (FieldName figure : vocabulary.figures()) {
            properties.set(
                    figure.id(),
                    reference("bounds-of-figure")
                            .put(
                                    "description",
                                    figure.meaning() + "; in " + figure.unit().symbol()));
        }
        ObjectNode inRegions = limits.putObject("patternProperties");
        inRegions.set("^[^@]+@.+$", reference("bounds").put("description", "limits on a field in a region"));
        return limits;
    }

    /** A group of keys; without required ones it may also be empty, as when all are commented out. */
    private static ObjectNode group(boolean mustHold) {
        ObjectNode group = NODES.objectNode();
        if (mustHold) {
            group.put("type", "object");
        } else {
            group.putArray("type").add("object").add("null");
        }
        group.put("additionalProperties", false);
        return group;
    }

    private static ObjectNode key(JobKey key) {
        if (key instanceof JobKey.Value value) {
            Parameter parameter = value.parameter();
            if (parameter instanceof Parameter.Quantity quantity) {
                return quantity(quantity);
            }
            ObjectNode node = NODES.objectNode().put("description", parameter.meaning());
            if (parameter instanceof Parameter.Choice choice) {
                choice.options().forEach(node.putArray("enum")::add);
                node.put("default", choice.options().get(0));
            } else if (parameter instanceof Parameter.Table table) {
                node.put("type", "array");
                node.set("items", row(table));
            }
            return node;
        }
        ObjectNode node = NODES.objectNode().put("description", key.meaning());
        if (key instanceof JobKey.Rectangle) {
            node.put("type", "object");
            ObjectNode corners = node.putObject("properties");
            for (String corner : List.of("min", "max")) {
                ObjectNode point = corners.putObject(corner);
                point.put("type", "array").put("minItems", 2).put("maxItems", 2);
                point.set("items", reference("quantity"));
            }
            node.putArray("required").add("min").add("max");
            node.put("additionalProperties", false);
        } else if (key instanceof JobKey.Text text) {
            node.put("type", "string").put("minLength", 1);
            node.putArray("examples").add(text.example());
        } else if (key instanceof JobKey.Nested nested) {
            node.put("type", nested.isGroup() ? "object" : "array");
        }
        return node;
    }

    private static ObjectNode row(Parameter.Table table) {
        ObjectNode row = NODES.objectNode().put("type", "object");
        ObjectNode properties = row.putObject("properties");
        ArrayNode required = NODES.arrayNode();
        for (Parameter.Quantity column : table.columns()) {
            String name = ValueReader.columnName(table, column);
            properties.set(name, quantity(column));
            if (column.required()) {
                required.add(name);
            }
        }
        row.set("required", required);
        row.put("additionalProperties", false);
        return row;
    }

    private static ObjectNode quantity(Parameter.Quantity quantity) {
        Unit unit = quantity.unit();
        StringBuilder description = new StringBuilder(quantity.meaning());
        description
                .append("; ")
                .append(ValueReader.plain(quantity.least()))
                .append(" to ")
                .append(ValueReader.plain(quantity.most()))
                .append(' ')
                .append(unit.symbol());
        quantity.standard()
                .ifPresent(value -> description
                        .append(", default ")
                        .append(ValueReader.plain(value))
                        .append(' ')
                        .append(unit.symbol()));
        if (!LimitReader.isPure(unit)) {
            return reference("quantity").put("description", description.toString());
        }
        ObjectNode node = NODES.objectNode().put("description", description.toString());
        ArrayNode either = node.putArray("anyOf");
        either.add(reference("quantity"));
        either.add(NODES.objectNode().put("type", "number"));
        either.add(NODES.objectNode().put("type", "string").put("pattern", "^\\s*" + NUMBER + "\\s*$"));
        return node;
    }

    private static ObjectNode reference(String definition) {
        return NODES.objectNode().put("$ref", "#/$defs/" + definition);
    }

    private static String text(ObjectNode schema) {
        DefaultIndenter indenter = new DefaultIndenter("  ", "\n");
        DefaultPrettyPrinter printer = new DefaultPrettyPrinter();
        printer.indentObjectsWith(indenter);
        printer.indentArraysWith(indenter);
        try {
            return new ObjectMapper().writer(printer).writeValueAsString(schema) + "\n";
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("a tree of nodes is always JSON", e);
        }
    }
}
