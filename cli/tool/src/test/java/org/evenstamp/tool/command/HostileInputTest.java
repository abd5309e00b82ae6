package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Jobs and the files they name that would never end, or speak to the terminal: refused at once, with a sentence. */
@Timeout(60)
class HostileInputTest {
    @TempDir
    Path directory;

    private final TriedTool tool = new TriedTool();
    private String starter = "";

    @BeforeEach
    void starter() throws IOException {
        assertThat(tool.run("new", directory.resolve("starter"))).isZero();
        starter = Files.readString(directory.resolve("starter/job.yaml"));
    }

    private int check(String job) throws IOException {
        Path file = Files.writeString(directory.resolve("starter/changed.yaml"), job);
        return tool.run("check", file);
    }

    private String changed(String from, String to) {
        String text = starter.replace(from, to);
        assertThat(text).isNotEqualTo(starter);
        return text;
    }

    private Path pipe() throws IOException, InterruptedException {
        Path pipe = directory.resolve("starter/pipe");
        assumeTrue(
                new ProcessBuilder("mkfifo", pipe.toString()).start().waitFor() == 0, "this system has no named pipes");
        return pipe;
    }

    @Test
    void a_pipe_or_device_is_no_job_no_map_and_no_materials() throws IOException, InterruptedException {
        Path pipe = pipe();
        for (Path endless : new Path[] {pipe, Path.of("/dev/zero")}) {
            if (!Files.exists(endless)) {
                continue;
            }
            assertThat(tool.run("check", endless)).isEqualTo(3);
            assertThat(tool.run("run", endless)).isEqualTo(3);
            assertThat(check(changed("thickness: \"200 nm\"", "thickness-map: " + endless)))
                    .isEqualTo(3);
            assertThat(check(changed("film:\n", "film:\n  materials: " + endless + "\n")))
                    .isEqualTo(3);
            assertThat(tool.run("list", "materials", "--materials", endless)).isEqualTo(3);
        }
        assertThat(tool.err.toString().lines().filter(line -> line.contains("a pipe or device, not a file")))
                .hasSizeGreaterThanOrEqualTo(5);
    }

    /** A bow tie and a square that share a corner next to zero, and a bow tie that is all next to zero. */
    @ParameterizedTest
    @ValueSource(strings = {"4.9e-324", "1e-320", "-2e-310", "2.2250738585072014e-308", "1e-300", "-1e-160"})
    void coordinates_next_to_zero_are_mended_or_refused_and_no_defect(String tiny) throws IOException {
        String sound = "POLYGON ((20 20, 30 20, 30 30, 20 30, 20 20))\n";
        String tie = "POLYGON ((0 TINY, 10 10, 10 0, TINY 10, 0 TINY))\n".replace("TINY", tiny);
        String dust = "POLYGON ((0 0, TINY TINY, TINY 0, 0 TINY, 0 0))\n".replace("TINY", tiny);
        for (String text : new String[] {sound + tie, sound + dust, dust, tie}) {
            Path layout = Files.writeString(directory.resolve("layout.wkt"), text);
            for (String mend : new String[] {"--repair", "--quiet"}) {
                assertThat(tool.run("measure", layout, "--unit", "um", mend))
                        .as(tool.err.toString())
                        .isIn(0, 3);
            }
        }
        assertThat(tool.err.toString()).doesNotContain("defect").doesNotContain("\tat ");

        Path layout = Files.writeString(directory.resolve("layout.wkt"), sound + tie);
        TriedTool fresh = new TriedTool();
        assertThat(fresh.run("measure", layout, "--unit", "um", "--repair", "--json"))
                .isZero();
        double area = 0;
        for (JsonNode figure : new ObjectMapper().readTree(fresh.out.toString()).get("figures")) {
            area += figure.get("id").asText().equals("cavity.area")
                    ? figure.get("value").asDouble()
                    : 0;
        }
        assertThat(area * 1e6).as("um^2, of the square and of the mended tie").isCloseTo(150, within(1e-6));
    }

    @Test
    void a_line_without_end_in_a_map_is_told_by_its_number() throws IOException {
        Files.writeString(
                directory.resolve("starter/film.csv"), "x_mm,y_mm,thickness_nm\n0,0,200\n" + "1".repeat(2_000_000));

        assertThat(check(changed("thickness: \"200 nm\"", "thickness-map: film.csv")))
                .isEqualTo(3);

        assertThat(tool.err.toString()).contains("line 3 is longer than 1000000 characters");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "\"1 m^99999999999\"|has a power of more than two digits",
                "\"1 km^99 km^99\"|too large or too small to count with",
                "\"1e400 m\"|finite"
            })
    void an_absurd_length_is_refused(String length, String message) throws IOException {
        assertThat(check(changed("depth: \"150 nm\"", "depth: " + length)))
                .as(starter)
                .isEqualTo(3);

        assertThat(tool.err.toString()).contains(message);
    }

    @ParameterizedTest
    @ValueSource(ints = {100_000, 4_000})
    void a_value_of_any_length_is_answered_at_once_and_not_repeated(int digits) throws IOException {
        assertThat(check(changed("depth: \"150 nm\"", "depth: \"" + "1".repeat(digits) + "x\"")))
                .isEqualTo(3);

        assertThat(tool.err.toString().lines())
                .allSatisfy(line -> assertThat(line).hasSizeLessThan(400));
    }

    @ParameterizedTest
    @ValueSource(strings = {"a\\0b", "a\\uD800b", "a\\e[2Jb", "a\\u202eb"})
    void a_hostile_name_is_refused_and_shown_harmless(String name) throws IOException {
        assertThat(check(changed("file: layout.geojson", "file: \"" + name + "\"")))
                .isEqualTo(3);

        assertThat(tool.err.toString())
                .contains("a\\u")
                .doesNotContain("\u0000", "\u001b", "\u202e")
                .doesNotContain("Exception");
    }

    @Test
    void a_byte_order_mark_before_json_is_passed_over() throws IOException {
        Path job = directory.resolve("starter/job.json");
        String json =
                "\ufeff{\"layout\": {\"file\": \"layout.geojson\", \"unit\": \"um\"}, \"stamp\": {\"depth\": \"150 nm\"}}";
        Files.write(job, json.getBytes(StandardCharsets.UTF_8));

        assertThat(tool.run("check", job)).as(tool.err.toString()).isZero();
    }
}
