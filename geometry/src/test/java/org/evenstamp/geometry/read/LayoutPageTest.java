package org.evenstamp.geometry.read;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Texture;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The page about layout files: its examples are what its table says. */
class LayoutPageTest {
    private static final Pattern EXAMPLE = Pattern.compile("`(stamp\\.\\w+)`:\n\n```\\w+\n(.*?)```", Pattern.DOTALL);
    private static final Pattern ROW =
            Pattern.compile("^\\| (stamp\\.\\w+) \\| (\\d+) \\| (\\d+) \\| ([^|]*)\\| ([^|]*)\\|$", Pattern.MULTILINE);

    private static String page() throws IOException {
        return Files.readString(Path.of("../docs/layout.md"));
    }

    private static Map<String, String> examples() throws IOException {
        Map<String, String> examples = new HashMap<>();
        Matcher example = EXAMPLE.matcher(page());
        while (example.find()) {
            examples.put(example.group(1), example.group(2));
        }
        return examples;
    }

    private static ReadOptions micrometres() {
        return new ReadOptions(null, 1e-6, ReadOptions.Policy.SKIP);
    }

    @Test
    void every_example_reads_as_the_table_says(@TempDir Path folder) throws IOException {
        Map<String, String> examples = examples();
        Matcher row = ROW.matcher(page());
        int rows = 0;
        while (row.find()) {
            rows++;
            String name = row.group(1);
            Reading reading = Reading.of(folder, Objects.requireNonNull(examples.get(name)), micrometres());

            assertThat(reading.report().skipped()).as(name).isEmpty();
            assertThat(reading.polygons()).as(name).hasSize(Integer.parseInt(row.group(2)));
            assertThat(reading.area() / 1e-12).as(name).isCloseTo(Double.parseDouble(row.group(3)), within(1e-6));
            assertThat(reading.polygons().stream()
                            .map(polygon -> polygon.traits().role())
                            .filter(Objects::nonNull)
                            .map(Role::word)
                            .collect(Collectors.toSet()))
                    .as(name)
                    .containsExactlyInAnyOrderElementsOf(cells(row.group(4)));
            assertThat(reading.polygons().stream()
                            .map(polygon -> polygon.traits().depthMetres())
                            .filter(Objects::nonNull)
                            .map(depth -> Long.toString(Math.round(depth * 1e9)))
                            .collect(Collectors.toSet()))
                    .as(name)
                    .containsExactlyInAnyOrderElementsOf(cells(row.group(5)));
        }
        assertThat(rows).isEqualTo(examples.size()).isEqualTo(LayoutFormat.values().length);
    }

    private static List<String> cells(String cell) {
        return Arrays.stream(cell.split(","))
                .map(String::strip)
                .filter(word -> !word.isEmpty())
                .toList();
    }

    @Test
    void every_format_has_an_example(@TempDir Path folder) throws IOException {
        assertThat(examples().values().stream()
                        .map(text ->
                                Reading.of(folder, text, micrometres()).report().format()))
                .containsExactlyInAnyOrder(LayoutFormat.values());
    }

    @Test
    void array_and_texture_of_the_example_are_those_described(@TempDir Path folder) throws IOException {
        Reading reading = Reading.of(folder, Objects.requireNonNull(examples().get("stamp.geojson")), micrometres());

        Repeat repeat =
                Objects.requireNonNull(reading.polygons().get(1).traits().repeat());
        assertThat(repeat.columns()).isEqualTo(5);
        assertThat(repeat.dyMetres()).isCloseTo(12e-6, within(1e-18));
        Texture texture =
                Objects.requireNonNull(reading.polygons().get(2).traits().texture());
        assertThat(texture.pitchMetres()).isCloseTo(400e-9, within(1e-20));
        assertThat(texture.widthMetres()).isCloseTo(200e-9, within(1e-20));
        assertThat(texture.angleRadians()).isCloseTo(Math.PI / 2, within(1e-12));
    }
}
