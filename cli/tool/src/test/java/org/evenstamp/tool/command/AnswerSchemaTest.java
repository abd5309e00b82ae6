package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.evenstamp.output.file.PublishedSchemas.answerErrors;
import static org.evenstamp.output.file.PublishedSchemas.anyAnswerErrors;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.fasterxml.jackson.databind.node.TextNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;
import org.evenstamp.output.file.AnswerJson;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** {@code docs/answers.schema.json} says neither less nor more than the verbs print. */
class AnswerSchemaTest {
    /** Members that a document may do without: numbers that a material, a variant or an analysis left out does not have. */
    private static final Set<String> OPTIONAL = Set.of(
            "at_kelvin",
            "valid",
            "column",
            "key",
            "suggestion",
            "residual_mean_nm",
            "by_differences_nm",
            "by_differences_s",
            "change_nm",
            "change_s",
            "value_nm",
            "value_s",
            "broken_at",
            "closed_by",
            "low",
            "high",
            "tightest",
            "margin",
            "failure");
    /** Objects whose members are named by analyses and jobs. */
    private static final Set<String> OPEN = Set.of("/skipped", "/recipes/0/values");

    private static final ObjectMapper MAPPER = new ObjectMapper();

    @TempDir
    Path directory;

    private String printed(String... arguments) {
        TriedTool tool = new TriedTool();
        assertThat(tool.run((Object[]) arguments)).as("%s", tool.err).isZero();
        return tool.out.toString();
    }

    private String job() {
        Path starter = directory.resolve("first");
        printed("new", starter.toString());
        return starter.resolve("job.yaml").toString();
    }

    static Stream<String> lists() {
        return ListCommand.What.words().stream().filter(what -> !what.equals("schema"));
    }

    @ParameterizedTest
    @MethodSource("lists")
    void a_list_keeps_to_its_form_and_to_no_other(String what) throws IOException {
        holds("list-" + what, printed("list", what, "--json"));
    }

    @Test
    void a_check_keeps_to_its_form_and_to_no_other() throws IOException {
        holds("check", printed("check", job(), "--json"));
    }

    @Test
    void a_check_of_a_job_with_problems_keeps_to_its_form_and_to_no_other() throws IOException {
        Path job = Path.of(job());
        Files.writeString(job, Files.readString(job).replace("\"200 nm\"", "200"));
        TriedTool tool = new TriedTool();
        assertThat(tool.run("check", job, "--json")).isEqualTo(3);

        JsonNode problem = MAPPER.readTree(tool.out.toString()).at("/problems/0");

        holds("check-problems", tool.out.toString());
        assertThat(problem.get("file").asText()).isEqualTo(job.toString());
    }

    @ParameterizedTest
    @ValueSource(strings = {"film", "recipe"})
    @Tag("slow")
    void a_proposal_keeps_to_its_form_and_to_no_other(String verb) throws IOException {
        holds(verb, printed(verb, job(), "--json"));
    }

    @Test
    @Tag("slow")
    void proposed_dummies_keep_to_their_form_and_to_no_other() throws IOException {
        holds("dummy", printed("dummy", job(), "--json", "--what-if", "--no-report"));
    }

    @Test
    @Tag("slow")
    void sensitivities_keep_to_their_form_and_to_no_other() throws IOException {
        holds("sensitivity", printed("sensitivity", job(), "--json", "--no-report", "--check"));
    }

    @Test
    void a_window_keeps_to_its_form_and_to_no_other() throws IOException {
        Path lines = directory.resolve("lines.geojson");
        Files.writeString(lines, """
                {"type": "Polygon", "coordinates": [[[15, 0], [25, 0], [25, 40], [15, 40], [15, 0]]]}
                """);
        Path job = Files.writeString(directory.resolve("window.yaml"), """
                layout:
                  file: lines.geojson
                  unit: um
                  drawn: cavities
                  outline: {min: ["0 um", "0 um"], max: ["40 um", "40 um"]}
                tiles: {side: "40 um", resolution: off}
                stamp: {depth: "150 nm"}
                film: {thickness: "250 nm", viscosity: "1e4 Pa s"}
                process: {pressure: "5 MPa"}
                limits:
                  residual.local: {each: ">= 200 nm"}
                """);
        String json = printed("sweep", job.toString(), "--window", "film.thickness", "--json");
        holds("window", json);
        assertThat(MAPPER.readTree(json).at("/low/closed_by").asText()).isEqualTo("residual.local each >= 200 nm");

        TriedTool tool = new TriedTool();
        assertThat(tool.run("sweep", job.toString(), "--window", "film.thickness"))
                .isZero();
        // The layer is the film less a quarter of the depth: 237.5 nm of film leave 200 nm.
        assertThat(tool.out.toString())
                .contains("lowest ", "closed by residual.local each >= 200 nm, found ", " nm")
                .contains("open, it holds as far as was looked", "the present 250.0 nm lies within");
    }

    @Test
    void the_schema_is_that_of_the_version_written() throws IOException {
        JsonNode schema =
                MAPPER.readTree(Path.of("../../docs/answers.schema.json").toFile());

        assertThat(schema.at("/$defs/form/const").asInt()).isEqualTo(AnswerJson.SCHEMA_VERSION);
        assertThat(schema.get("title").asText()).endsWith("form " + AnswerJson.SCHEMA_VERSION);
    }

    /** The document is valid, as one form only; less, more or something else in any place of it is not. */
    private static void holds(String form, String json) throws IOException {
        assertThat(answerErrors(form, json)).isEmpty();
        assertThat(anyAnswerErrors(json)).isEmpty();
        for (String path : containers(MAPPER.readTree(json), "")) {
            JsonNode container = MAPPER.readTree(json).at(path);
            for (String member : members(container)) {
                if (!OPTIONAL.contains(member) && !isNumberOfAVariant(path, member) && !OPEN.contains(path)) {
                    refused(form, json, path, object -> object.remove(member), "without " + member);
                }
                if (container.get(member).isValueNode()) {
                    refused(form, json, path, object -> object.replace(member, other(container.get(member))), member);
                }
            }
            if (!OPEN.contains(path)) {
                refused(form, json, path, object -> object.put("more", 1), "with more");
            }
        }
    }

    private interface Change {
        void to(ObjectNode object);
    }

    private static void refused(String form, String json, String path, Change change, String what) throws IOException {
        JsonNode changed = MAPPER.readTree(json);
        change.to((ObjectNode) changed.at(path));
        assertThat(answerErrors(form, changed.toString()))
                .as("%s: %s %s", form, path, what)
                .isNotEmpty();
    }

    private static boolean isNumberOfAVariant(String path, String member) {
        return path.startsWith("/variants/") && !member.equals("name");
    }

    private static JsonNode other(JsonNode value) {
        return value.isTextual() ? MAPPER.getNodeFactory().numberNode(1) : new TextNode("one");
    }

    private static List<String> members(JsonNode object) {
        List<String> members = new ArrayList<>();
        object.fieldNames().forEachRemaining(members::add);
        return members;
    }

    /** Returns the places of all objects, of an array the first. */
    private static List<String> containers(JsonNode node, String path) {
        List<String> all = new ArrayList<>();
        if (node instanceof ObjectNode) {
            all.add(path);
            members(node).forEach(member -> all.addAll(containers(node.get(member), path + "/" + member)));
        } else if (node instanceof ArrayNode array && !array.isEmpty()) {
            all.addAll(containers(array.get(0), path + "/0"));
        }
        return all;
    }
}
