package org.evenstamp.samples.generate;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.write.LayoutWriter;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;

/**
 * Writes a layout to a file whose ending chooses the format: {@code .geojson}, {@code .ndjson} or {@code .wkt}, each also
 * with {@code .gz}.
 *
 * <pre>
 * water-sensor [--seed S] FILE
 * flawed FILE
 * random [--polygons N] [--vertices V] [--seed S] [--width "12 mm"] [--height "12 mm"] FILE
 * </pre>
 */
public final class GenerateMain {
    private GenerateMain() {}

    /** Runs one of the commands above; ends with exit code 2 and the usage when it understands none. */
    public static void main(String[] args) throws IOException {
        try {
            generate(args);
        } catch (IllegalArgumentException | UnitException e) {
            System.err.println(e.getMessage());
            System.err.println("usage: water-sensor [--seed S] FILE");
            System.err.println("       flawed FILE");
            System.err.println(
                    "       random [--polygons N] [--vertices V] [--seed S] [--width \"12 mm\"] [--height \"12 mm\"] FILE");
            System.exit(2);
        }
    }

    /**
     * Runs a command.
     *
     * @return how many polygons were written
     * @throws IllegalArgumentException when the command is not understood or a number is out of range
     * @throws UnitException when a length is not one
     * @throws IOException when the file cannot be written
     */
    static long generate(String... args) throws IOException {
        Map<String, String> options = new HashMap<>();
        List<String> words = new ArrayList<>();
        for (int i = 0; i < args.length; i++) {
            if (!args[i].startsWith("--")) {
                words.add(args[i]);
            } else if (i + 1 < args.length) {
                options.put(args[i], args[++i]);
            } else {
                throw new IllegalArgumentException(args[i] + " needs a value");
            }
        }
        if (words.size() != 2) {
            throw new IllegalArgumentException("expected what to generate and a file, got " + words);
        }
        Consumer<PolygonSink> layout = layout(words.get(0), options);
        if (!options.isEmpty()) {
            throw new IllegalArgumentException("unknown option " + String.join(" ", options.keySet()));
        }
        try (LayoutWriter writer = LayoutWriter.create(Path.of(words.get(1)))) {
            layout.accept(writer);
            return writer.written();
        }
    }

    /** Takes from the options those that the layout knows. */
    private static Consumer<PolygonSink> layout(String what, Map<String, String> options) {
        return switch (what) {
            case "water-sensor" ->
                new WaterSensorLayout(
                        Long.parseLong(take(options, "--seed", Long.toString(WaterSensorLayout.SHIPPED_SEED))))::draw;
            case "flawed" -> FlawedLayout::draw;
            case "random" ->
                new RandomLayout(
                        Long.parseLong(take(options, "--seed", "1")),
                        Long.parseLong(take(options, "--polygons", "10000")),
                        Integer.parseInt(take(options, "--vertices", "22")),
                        length(take(options, "--width", "12 mm")),
                        length(take(options, "--height", "12 mm")))::draw;
            default -> throw new IllegalArgumentException("cannot generate \"" + what + "\"");
        };
    }

    private static String take(Map<String, String> options, String name, String otherwise) {
        String value = options.remove(name);
        return value == null ? otherwise : value;
    }

    private static double length(String text) {
        return Quantity.parse(text).siAs(Unit.parse("m"));
    }
}
