package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.StreamSupport;
import org.evenstamp.output.file.PublishedSchemas;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** {@code --json}: one document on standard output and nothing else. */
class JsonOutputTest {
    private static final ObjectMapper STRICT = new ObjectMapper()
            .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
            .enable(JsonParser.Feature.STRICT_DUPLICATE_DETECTION);

    @TempDir
    Path directory;

    private Path starter = Path.of("");
    private Path job = Path.of("");

    @BeforeEach
    void starterJob() {
        starter = directory.resolve("first");
        job = starter.resolve("job.yaml");
        assertThat(new TriedTool().run("new", starter)).isZero();
    }

    private static String printed(int code, Object... arguments) {
        TriedTool tool = new TriedTool();
        assertThat(tool.run(arguments)).as("%s", tool.err).isEqualTo(code);
        assertThat(tool.err.toString()).isEmpty();
        return tool.out.toString();
    }

    private static JsonNode json(int code, Object... arguments) throws IOException {
        return STRICT.readTree(printed(code, arguments));
    }

    private static List<String> texts(JsonNode array, String key) {
        return StreamSupport.stream(array.spliterator(), false)
                .map(item -> item.get(key).asText())
                .toList();
    }

    @Test
    void a_run_prints_the_bytes_that_it_writes() throws IOException {
        String printed = printed(0, "run", job, "--json");

        assertThat(PublishedSchemas.resultErrors(printed)).isEmpty();
        assertThat(Files.readString(starter.resolve("job-results/result.json"))).isEqualTo(printed);
    }

    @Test
    void a_run_beyond_a_limit_says_so_in_the_document_and_by_its_exit_code() throws IOException {
        Path strict = Files.writeString(
                starter.resolve("strict.yaml"), Files.readString(job).replace("\">= 20 nm\"", "\">= 2 um\""));

        JsonNode result = json(1, "run", strict, "--json");

        assertThat(result.get("verdict").asText()).isEqualTo("limit exceeded");
        assertThat(result.get("findings")).hasSize(2);
    }

    @Test
    void a_measurement_prints_the_same_document_whether_it_is_written_or_not() throws IOException {
        Path layout = starter.resolve("layout.geojson");

        String alone = printed(0, "measure", layout, "--tile", "50 um", "--json");
        String written = printed(0, "measure", layout, "--tile", "50 um", "--json", "--out", directory.resolve("map"));

        assertThat(PublishedSchemas.resultErrors(alone)).isEmpty();
        assertThat(written).isEqualTo(alone);
        assertThat(Files.readString(directory.resolve("map/result.json"))).isEqualTo(alone);
    }

    @Test
    void quiet_leaves_only_the_exit_code() {
        assertThat(printed(0, "run", job, "--json", "--quiet")).isEmpty();
    }

    @Test
    void a_check_says_what_would_run() throws IOException {
        JsonNode check = json(0, "check", job, "--json");

        assertThat(check.get("verdict").asText()).isEqualTo("no problem found");
        assertThat(texts(check.get("analyses"), "id")).contains("balance", "film");
        assertThat(check.get("skipped").has("etch")).isTrue();
        assertThat(check.get("output").asText()).endsWith("job-results");
    }

    @Test
    void a_check_prints_every_problem_with_its_place_key_and_remedy() throws IOException {
        Path bad = Files.writeString(
                starter.resolve("bad.yaml"),
                Files.readString(job).replace("\"200 nm\"", "200").replace("depth:", "dept:"));

        TriedTool tool = new TriedTool();
        assertThat(tool.run("check", bad, "--json")).isEqualTo(3);
        JsonNode check = STRICT.readTree(tool.out.toString());

        assertThat(tool.err.toString()).contains("2 problems");
        assertThat(check.get("name").asText()).isEqualTo("bad");
        assertThat(check.get("verdict").asText()).isEqualTo("2 problems found");
        assertThat(texts(check.get("problems"), "code")).containsExactly("job.unknown-key", "job.no-unit");
        JsonNode unit = check.at("/problems/1");
        assertThat(unit.get("file").asText()).isEqualTo(bad.toString());
        String line = Files.readAllLines(bad).get(unit.get("line").asInt() - 1);
        assertThat(line.substring(unit.get("column").asInt() - 1)).startsWith("200");
        assertThat(unit.get("key").asText()).isEqualTo("film.thickness");
        assertThat(unit.get("message").asText()).isEqualTo("film.thickness needs a unit, is the bare number 200");
        assertThat(unit.get("suggestion").asText()).contains("200 nm");
    }

    @Test
    void problems_stay_on_the_error_stream() throws IOException {
        Path bad = Files.writeString(
                starter.resolve("bad.yaml"), Files.readString(job).replace("\"200 nm\"", "200"));
        for (String verb : List.of("run", "film", "recipe", "dummy", "drops")) {
            TriedTool tool = new TriedTool();

            assertThat(tool.run(verb, bad, "--json")).isEqualTo(3);

            assertThat(tool.out.toString()).isEmpty();
            assertThat(tool.err.toString()).contains("film.thickness needs a unit");
        }
    }

    @Test
    @Tag("slow")
    void the_verbs_that_propose_print_their_answers() throws IOException {
        JsonNode film = json(0, "film", job, "--json");
        assertThat(film.get("film_thickness_nm").asDouble())
                .isCloseTo(150 + film.get("cavity_volume_mean_nm").asDouble(), within(1e-6)); // nine digits
        assertThat(texts(film.get("variants"), "name")).hasSize(5).contains("* 185.3 nm");

        JsonNode recipes = json(0, "recipe", job, "--json").get("recipes");
        assertThat(texts(recipes, "kind")).containsExactly("hot-press", "uv-press", "solvent-press", "roller");
        assertThat(recipes).allSatisfy(recipe -> {
            assertThat(recipe.get("cautions")).isNotEmpty();
            assertThat(texts(recipe.get("figures"), "id")).contains("filled.once");
            assertThat(recipe.get("residual_max_nm").asDouble())
                    .isGreaterThanOrEqualTo(recipe.get("residual_min_nm").asDouble());
        });

        String drops = printed(0, "drops", job, "--json", "--no-report");
        assertThat(Files.readString(starter.resolve("job-results-drops/result.json")))
                .isEqualTo(drops);
        String dummies = printed(0, "dummy", job, "--json", "--no-report");
        assertThat(Files.readString(starter.resolve("job-results-dummies/comparison.json")))
                .isEqualTo(dummies);
    }

    @ParameterizedTest
    @CsvSource({
        "analyses, film",
        "fields, residual.final",
        "parameters, film.thickness",
        "formats, wkt-lines",
        "units, degC"
    })
    void a_list_is_an_array_of_what_the_table_names(String what, String one) throws IOException {
        JsonNode list = json(0, "list", what, "--json");

        List<String> ids = texts(list, "id");
        assertThat(ids).contains(one).doesNotHaveDuplicates();
        assertThat(printed(0, "list", what).lines().filter(line -> ids.contains(line.split(" ", 2)[0])))
                .hasSameSizeAs(ids);
    }

    @Test
    void a_unit_is_told_by_scale_and_offset_to_si() throws IOException {
        JsonNode celsius = StreamSupport.stream(
                        json(0, "list", "units", "--json").spliterator(), false)
                .filter(unit -> unit.get("id").asText().equals("degC"))
                .findFirst()
                .orElseThrow();

        // 0 degC = 273.15 K by the definition of the unit (SI Brochure, 9th edition, 2.3.1)
        assertThat(celsius.get("scale").asDouble()).isEqualTo(1);
        assertThat(celsius.get("offset").asDouble()).isEqualTo(273.15);
        assertThat(celsius.get("K").asInt()).isEqualTo(1);
    }

    @Test
    void materials_come_with_their_sources() throws IOException {
        JsonNode materials = json(0, "list", "materials", "--json");

        assertThat(texts(materials, "id")).contains("ps-50k");
        assertThat(materials)
                .allSatisfy(material -> assertThat(texts(material.get("data"), "source"))
                        .isNotEmpty()
                        .noneMatch(String::isBlank));
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "--json"})
    void the_schema_is_json_either_way(String option) throws IOException {
        JsonNode schema = option.isEmpty() ? json(0, "list", "schema") : json(0, "list", "schema", option);

        assertThat(schema.has("$schema")).isTrue();
    }
}
