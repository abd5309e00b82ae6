package org.evenstamp.engine.sweep;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.grid.TileGrid;

/** A point as it is kept: a line of JSON, and its fields as little-endian doubles, NaN where a tile has no value. */
final class PointText {
    static final ObjectMapper MAPPER = new ObjectMapper();

    private PointText() {}

    /** Returns the line of a point, with the number of its values and their tiles where fields are kept. */
    static ObjectNode of(SweepPoint point, List<Field> kept) {
        ObjectNode line = MAPPER.createObjectNode().put("point", point.index());
        if (!point.finished()) {
            line.put("failure", point.failure());
        }
        numbers(line.putArray("limits"), point.limits());
        numbers(line.putArray("margins"), point.margins());
        ObjectNode figures = line.putObject("figures");
        point.figures().forEach(figures::put);
        if (!kept.isEmpty()) {
            TileGrid tiles = kept.get(0).grid();
            line.put("values", kept.size() * tiles.size());
            line.putObject("grid")
                    .put("x", tiles.originXMetres())
                    .put("y", tiles.originYMetres())
                    .put("pitch", tiles.pitchMetres())
                    .put("columns", tiles.columns())
                    .put("rows", tiles.rows());
        }
        return line;
    }

    private static void numbers(ArrayNode array, List<OptionalDouble> numbers) {
        for (OptionalDouble number : numbers) {
            if (number.isPresent()) {
                array.add(number.getAsDouble());
            } else {
                array.addNull();
            }
        }
    }

    /** Returns the point of a line. */
    static SweepPoint point(JsonNode line) {
        List<OptionalDouble> limits = new ArrayList<>();
        List<OptionalDouble> margins = new ArrayList<>();
        line.path("limits").forEach(value -> limits.add(number(value)));
        line.path("margins").forEach(value -> margins.add(number(value)));
        Map<String, Double> figures = new LinkedHashMap<>();
        line.path("figures")
                .properties()
                .forEach(one -> figures.put(one.getKey(), one.getValue().asDouble()));
        return new SweepPoint(line.path("point").asInt(), line.path("failure").asText(""), limits, margins, figures);
    }

    private static OptionalDouble number(JsonNode value) {
        return value.isNull() ? OptionalDouble.empty() : OptionalDouble.of(value.asDouble());
    }

    /** Returns the tiles of a line's fields. */
    static TileGrid grid(JsonNode line) {
        JsonNode tiles = line.path("grid");
        return new TileGrid(
                tiles.path("x").asDouble(),
                tiles.path("y").asDouble(),
                tiles.path("pitch").asDouble(),
                tiles.path("columns").asInt(),
                tiles.path("rows").asInt());
    }

    /** Returns the values of a field. */
    static byte[] bytes(Field field) {
        double[] numbers = field.toArray();
        for (int i = 0; i < numbers.length; i++) {
            numbers[i] = field.known(i) ? numbers[i] : Double.NaN;
        }
        ByteBuffer bytes = ByteBuffer.allocate(8 * numbers.length).order(ByteOrder.LITTLE_ENDIAN);
        bytes.asDoubleBuffer().put(numbers);
        return bytes.array();
    }
}
