package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.evenstamp.output.file.NumpyArchive;
import org.evenstamp.output.file.PublishedSchemas;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Materials and processes from the command line to the results. */
class ProcessCommandTest {
    private static final String HOT = """
            layout: {file: layout.geojson, unit: um, drawn: cavities}
            tiles: {side: "50 um"}
            stamp: {depth: "150 nm", material: nickel}
            film: {thickness: "250 nm", material: FILM}
            process: {kind: hot-press, temperature: "TEMPERATURE", pressure: "6 MPa", hold: "60 s", cooling-rate: "20 K/min"}
            release: {temperature: "60 degC"}
            """;

    @TempDir
    Path directory;

    private final TriedTool tool = new TriedTool();
    private final StringWriter out = tool.out;
    private final StringWriter err = tool.err;

    private int run(Object... arguments) {
        return tool.run(arguments);
    }

    private Path job(String film, String temperature) throws IOException {
        return Files.writeString(
                directory.resolve("hot.yaml"), HOT.replace("FILM", film).replace("TEMPERATURE", temperature));
    }

    @BeforeEach
    void layout() throws IOException {
        assertThat(run("new", directory.resolve("starter"))).isZero();
        Files.copy(directory.resolve("starter/layout.geojson"), directory.resolve("layout.geojson"));
        out.getBuffer().setLength(0);
    }

    /** Whatever a test has written keeps to the published schemas. */
    @AfterEach
    void resultsKeepToTheirSchemas() throws IOException {
        PublishedSchemas.checkUnder(directory);
    }

    @Test
    void a_named_material_stands_for_its_numbers_and_the_cautions_of_the_kind_are_told() throws IOException {
        assertThat(run("run", job("ps-50k", "174 degC"))).isZero();

        assertThat(out.toString()).contains("take care: hot plates", "trained staff");
        var result = new ObjectMapper()
                .readTree(directory.resolve("hot-results/result.json").toFile());
        assertThat(result.get("cautions").toString()).contains("hot plates", "stores energy", "shards");
        assertThat(directory.resolve("hot-results/curves/film.viscosity.csv")).exists();
        assertThat(directory.resolve("hot-results/curves/film.process.csv")).exists();
    }

    @Test
    void the_vapour_of_a_named_solvent_is_held_against_its_explosive_limit() throws IOException {
        Path job = Files.writeString(directory.resolve("vapour.yaml"), """
                layout: {file: layout.geojson, unit: um, drawn: cavities}
                tiles: {side: "200 um", resolution: off}
                stamp: {depth: "150 nm"}
                film: {thickness: "250 nm", material: ps-50k, solvent: toluene}
                process: {kind: solvent-press, temperature: "25 degC", pressure: "2 MPa", hold: "60 s", solvent-share: "45 %",
                  swell-time: "60 s", dry-time: "60 s", chamber-volume: "2 L"}
                """);
        assertThat(run("check", job)).isZero();
        // by hand: 2.8 kPa are 2.76 % of the air, 2.5 times the limit of 1.1 %
        assertThat(out.toString()).contains("take care: saturated, the chamber of 2.000 L holds 2.76 %", "2.51 times");

        assertThat(run("run", job, "--quiet")).isZero();
        var result = new ObjectMapper()
                .readTree(directory.resolve("vapour-results/result.json").toFile());
        assertThat(result.get("cautions").toString()).contains("the chamber of 2.000 L");
    }

    @Test
    void tiles_that_are_not_full_come_first_in_the_verdict_whatever_the_limits() throws IOException {
        Path tough = job("ps-350k", "130 degC");
        assertThat(run("run", tough, "--quiet")).isZero();

        var result = new ObjectMapper()
                .readTree(directory.resolve("hot-results/result.json").toFile());
        assertThat(result.get("verdict").asText()).isEqualTo("tiles not full, within limits");
        var notFull = result.get("not_full");
        assertThat(notFull.get("tiles").asInt()).isPositive();
        assertThat(notFull.get("least_share").asDouble()).isLessThan(0.999);
        assertThat(notFull.at("/place/column").isInt()).isTrue();

        assertThat(run("run", job("ps-50k", "174 degC"), "--quiet", "--replace"))
                .isZero();
        result = new ObjectMapper()
                .readTree(directory.resolve("hot-results/result.json").toFile());
        assertThat(result.get("verdict").asText()).isEqualTo("within limits");
        assertThat(result.has("not_full")).isFalse();
    }

    @Test
    void the_course_of_the_film_is_kept_and_ends_in_its_field() throws IOException {
        assertThat(run("run", job("ps-50k", "174 degC"), "--quiet")).isZero();

        var fields = NumpyArchive.read(directory.resolve("hot-results/fields.npz"));
        var courses = NumpyArchive.read(directory.resolve("hot-results/snapshots.npz"));
        assertThat(courses)
                .containsOnlyKeys(
                        "residual.final.npy",
                        "residual.final.seconds.npy",
                        "fill.share.npy",
                        "fill.share.known.npy",
                        "fill.share.seconds.npy");
        for (String name : List.of("residual.final.npy", "fill.share.npy")) {
            List<Double> course = values(courses, name);
            List<Double> end = values(fields, name);
            assertThat(course.subList(course.size() - end.size(), course.size()))
                    .isEqualTo(end);
            assertThat(course.subList(0, end.size())).isNotEqualTo(end);
        }
        assertThat(values(courses, "fill.share.seconds.npy")).isSorted().hasSizeGreaterThan(5);
    }

    private static List<Double> values(Map<String, NumpyArchive.Array> arrays, String name) {
        return Objects.requireNonNull(arrays.get(name)).values();
    }

    @Test
    void a_film_pressed_below_its_glass_temperature_is_told_with_line_number_and_range() throws IOException {
        assertThat(run("check", job("ps-50k", "90 degC"))).isEqualTo(3);

        assertThat(err.toString()).contains("hot.yaml:5:", "90 degC", "100 degC");
    }

    @Test
    void an_unknown_material_is_told_with_those_there_are() throws IOException {
        assertThat(run("check", job("unobtainium", "170 degC"))).isEqualTo(3);

        assertThat(err.toString()).contains("film.material", "unobtainium", "ps-50k, ps-100k");
    }

    @Test
    void materials_beside_the_job_are_merged_and_every_wrong_line_is_told() throws IOException {
        Files.writeString(directory.resolve("mine.tsv"), """
                film\tmine\tglass-temperature\t100 degC\t-\t-\t-\tmeasured\tus
                film\tmine\tviscosity\t1e5 Pa s\t-\t150 degC\t-\tmeasured\tus
                film\tmine\tviscosity\t1e3 Pa s\t-\t190 degC\t-\tmeasured\tus
                """);
        Path job = job("mine, materials: mine.tsv", "170 degC");
        assertThat(run("run", job, "--out", directory.resolve("r"))).isZero();
        assertThat(Files.readString(directory.resolve("r/result.json"))).contains("\"name\" : \"mine.tsv\"");

        Files.writeString(
                directory.resolve("mine.tsv"), "film\tmine\tviscosity\n\nfilm\tmine\tglas\t1 K\t-\t-\t-\tread\tx\n");
        assertThat(run("check", job)).isEqualTo(3);
        assertThat(err.toString()).contains("mine.tsv:1", "mine.tsv:3");
    }

    @Test
    void materials_are_listed_with_number_unit_validity_and_source() throws IOException {
        assertThat(run("list", "materials")).isZero();
        assertThat(out.toString())
                .contains("film ps-50k", "solvent generic", "stamp nickel", "coating bare", "substrate silicon")
                .containsPattern("wlf-c2 +117.763 K, valid 100 degC to 200 degC \\(read")
                .containsPattern("glass-temperature +100 degC \\(from memory\\)");
    }

    @Test
    void recipes_of_all_kinds_are_proposed_solved_and_compared() throws IOException {
        assertThat(run("recipe", job("ps-50k", "174 degC"))).isZero();

        assertThat(out.toString())
                .contains(
                        "hot-press",
                        "uv-press",
                        "solvent-press",
                        "roller",
                        "whole process",
                        "shrinkage",
                        "trained staff")
                .doesNotContain("NaN", "Infinity");
        assertThat(err.toString()).isEmpty();
    }
}
