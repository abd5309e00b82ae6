package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.function.Function;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.analysis.pipeline.FoundAnalysis;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.output.file.PublishedSchemas;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.Parameters;
import org.evenstamp.tool.console.Console;
import org.evenstamp.tool.exit.Interruption;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CommandTest {
    @TempDir
    Path directory;

    private final StringWriter out = new StringWriter();
    private final StringWriter err = new StringWriter();
    private final Progress progress = new Progress();
    private Function<List<Path>, List<FoundAnalysis>> analyses = AnalysisFinder::find;
    private Path starter = Path.of("");

    /** Needs nothing and breaks when it runs. */
    private static final class BrokenAnalysis implements AnalysisProvider {
        @Override
        public AnalysisDescription description() {
            return new AnalysisDescription("broken", "A bug.", List.of(), List.of(), List.of(), List.of());
        }

        @Override
        public Analysis create(Parameters parameters) {
            return context -> {
                throw new IllegalStateException("out of order");
            };
        }
    }

    private int run(Object... arguments) {
        Console console = new Console(new PrintWriter(out), new PrintWriter(err), false, false);
        return Evenstamp.run(
                new ToolContext(console, "1.2.3", progress, new Interruption(progress), analyses),
                Stream.of(arguments).map(Object::toString).toArray(String[]::new));
    }

    @BeforeEach
    void starterJob() {
        starter = directory.resolve("starter");
        assertThat(run("new", starter)).isZero();
        out.getBuffer().setLength(0);
    }

    private Path job(String name, Function<String, String> change) throws IOException {
        String text = Files.readString(starter.resolve("job.yaml"));
        String changed = change.apply(text);
        assertThat(changed).isNotEqualTo(text);
        return Files.writeString(starter.resolve(name), changed);
    }

    private List<String> entries(Path of) throws IOException {
        try (Stream<Path> list = Files.list(of)) {
            return list.map(path -> path.getFileName().toString()).sorted().toList();
        }
    }

    /** Whatever a test has written keeps to the published schemas. */
    @AfterEach
    void resultsKeepToTheirSchemas() throws IOException {
        PublishedSchemas.checkUnder(directory);
    }

    @Test
    void the_starter_passes_its_own_check_and_check_writes_nothing() throws IOException {
        assertThat(run("check", starter.resolve("job.yaml"))).isZero();

        assertThat(out.toString()).contains("no problem found").contains("will run: balance");
        assertThat(entries(starter)).containsExactly("job.yaml", "layout.geojson", "readings.csv");
    }

    @Test
    void a_run_writes_its_results_beside_the_job_and_tells_them() throws IOException {
        assertThat(run("run", starter.resolve("job.yaml"))).isZero();

        assertThat(err.toString()).isEmpty();
        assertThat(out.toString())
                .contains("residual.local")
                .contains("job-results")
                .contains("trained staff");
        assertThat(entries(starter)).containsExactly("job-results", "job.yaml", "layout.geojson", "readings.csv");
        assertThat(entries(starter.resolve("job-results")))
                .contains("fields.json", "fields.npz", "maps", "result.json", "run.json", "tiles.csv");
        JsonNode result = new ObjectMapper()
                .readTree(starter.resolve("job-results").resolve("result.json").toFile());
        assertThat(result.get("version").asText()).isEqualTo(Simulation.version());
        assertThat(result.get("inputs")).hasSize(2);
        assertThat(result.toString()).doesNotContain(directory.toString());
    }

    @Test
    void the_same_job_gives_the_same_bytes_for_any_number_of_threads() throws IOException {
        Path a = directory.resolve("a");
        Path b = directory.resolve("b");
        assertThat(run("run", starter.resolve("job.yaml"), "--out", a, "--threads", 1, "--quiet"))
                .isZero();
        assertThat(run("run", starter.resolve("job.yaml"), "--out", b, "--threads", 4, "--quiet"))
                .isZero();

        assertThat(out.toString()).isEmpty();
        assertThat(run("compare", a, b)).isZero();
        try (Stream<Path> files = Files.walk(a)) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                if (!file.getFileName().toString().equals("run.json")) {
                    assertThat(file).hasSameBinaryContentAs(b.resolve(a.relativize(file)));
                }
            }
        }
    }

    @Test
    void an_exceeded_limit_is_exit_code_1_with_all_results() throws IOException {
        Path job = job("strict.yaml", text -> text.replace("\">= 20 nm\"", "\">= 2 um\""));

        assertThat(run("run", job)).isEqualTo(1);
        assertThat(run("run", job, "--replace", "--exceeded-ok")).isZero();
        assertThat(run("run", job, "--exceeded-ok")).as("nothing was computed").isEqualTo(3);

        assertThat(out.toString()).contains("2 of 3 limits exceeded").contains("residual.local each >= 2000 nm");
        assertThat(starter.resolve("strict-results").resolve("result.json"))
                .content()
                .contains("limit exceeded");
        JsonNode sarif = new ObjectMapper()
                .readTree(starter.resolve("strict-results/findings.sarif").toFile());
        List<String> lines = Files.readAllLines(job);
        for (String field : List.of("residual.final", "residual.local")) {
            JsonNode place = StreamSupport.stream(sarif.at("/runs/0/results").spliterator(), false)
                    .filter(result -> result.at("/message/text").asText().startsWith(field + " each >= 2000 nm"))
                    .findFirst()
                    .orElseThrow()
                    .at("/relatedLocations/0/physicalLocation");
            assertThat(place.at("/artifactLocation/uri").asText()).isEqualTo("strict.yaml");
            assertThat(lines.get(place.at("/region/startLine").asInt() - 1))
                    .contains(field)
                    .contains(">= 2 um");
        }
    }

    @Test
    void old_results_are_refused_and_replaced_on_demand() throws IOException {
        Path job = starter.resolve("job.yaml");
        assertThat(run("run", job)).isZero();

        assertThat(run("run", job)).isEqualTo(3);
        assertThat(err.toString()).contains("exists already").contains("--replace");
        assertThat(run("run", job, "--replace")).isZero();
        assertThat(entries(starter)).containsExactly("job-results", "job.yaml", "layout.geojson", "readings.csv");
    }

    @Test
    void an_analysis_that_lacks_a_parameter_is_skipped_and_named() throws IOException {
        Path job = job(
                "thin.yaml",
                text -> text.replaceAll("(?m)^  thickness: .*$", "")
                        .replaceAll("(?m)^  (residual|fill)[.](local|final|share): .*$", ""));

        assertThat(run("run", job)).isZero();

        assertThat(out.toString()).contains("skipped balance: the job does not give film.thickness");
    }

    @Test
    void measure_prints_a_table_and_writes_only_when_asked() throws IOException {
        Path layout = starter.resolve("layout.geojson");

        assertThat(run("measure", layout, "--tile", "50 um")).isZero();
        assertThat(out.toString()).contains("cavity.fraction").doesNotContain("\ncavity.volume ");
        assertThat(entries(starter)).containsExactly("job.yaml", "layout.geojson", "readings.csv");

        assertThat(run("measure", layout, "--depth", "150 nm", "--out", directory.resolve("m")))
                .isZero();
        assertThat(directory.resolve("m").resolve("maps").resolve("cavity.volume.png"))
                .exists();
    }

    @Test
    void runs_that_differ_are_exit_code_1_unless_it_is_tolerated() throws IOException {
        Path a = directory.resolve("a");
        Path b = directory.resolve("b");
        Path job = job("short.yaml", text -> text.replace("\"10 min\"", "\"11 min\""));
        Path thicker = job(
                "thicker.yaml", text -> text.replace("\"10 min\"", "\"11 min\"").replace("\"200 nm\"", "\"200.1 nm\""));
        assertThat(run("run", job, "--out", a, "--quiet")).isZero();
        assertThat(run("run", thicker, "--out", b, "--quiet")).isZero();

        assertThat(run("compare", a, b)).isEqualTo(1);
        assertThat(out.toString())
                .contains("job film.thickness: \"200 nm\" -> \"200.1 nm\"")
                .containsPattern("residual.local +180 +0.1 +0.1 +0.1 ")
                .contains("\ndifferent: ");
        out.getBuffer().setLength(0);
        assertThat(run("compare", a, b, "--json")).isEqualTo(1);
        assertThat(new ObjectMapper().readTree(out.toString()).get("verdict").asText())
                .isEqualTo("different");
        assertThat(PublishedSchemas.differenceErrors(out.toString())).isEmpty();
        out.getBuffer().setLength(0);
        assertThat(run(
                        "compare",
                        a,
                        b,
                        "--quiet",
                        "--relative",
                        "2 %",
                        "--absolute",
                        "film:mass.error=1e-9 1",
                        "--absolute",
                        "film:newton=5 1",
                        "--absolute",
                        "resolution:fill.share.each=0.001 1")) // an error of 0.005, of which a difference shows
                .isZero();
        assertThat(out.toString()).isEmpty();
    }

    @Test
    void a_difference_of_analyses_job_and_inputs_keeps_to_the_published_schema() throws IOException {
        Path a = directory.resolve("a");
        Path b = directory.resolve("b");
        Path unpressed = job(
                "unpressed.yaml",
                text -> text.replaceAll("(?m)^  hold:.*$", "")
                        .replaceAll("(?m)^  (residual.final|fill.share): .*$", ""));
        assertThat(run("run", starter.resolve("job.yaml"), "--out", a, "--quiet"))
                .isZero();
        assertThat(run("run", unpressed, "--out", b, "--quiet"))
                .as(err.toString())
                .isZero();

        assertThat(run("compare", a, b, "--json")).isEqualTo(1);
        JsonNode difference = new ObjectMapper().readTree(out.toString());
        for (String member : List.of("analyses", "figures", "fields_not_compared", "job", "inputs")) {
            assertThat(difference.get(member)).as(member).isNotEmpty();
        }
        assertThat(PublishedSchemas.differenceErrors(out.toString())).isEmpty();
    }

    @Test
    void runs_that_cannot_be_compared_are_exit_code_3_with_a_line_a_problem() throws IOException {
        Path a = Files.createDirectory(directory.resolve("a"));
        Path other = Files.writeString(directory.resolve("other.json"), "{\"schema\": 1}");

        assertThat(run("compare", a, other)).isEqualTo(3);

        assertThat(err.toString())
                .contains("a: holds no result.json")
                .contains("other.json: is no result of evenstamp")
                .endsWith("2 problems\n");
    }

    @Test
    void tiles_become_polygons_on_demand_that_are_a_layout_again() throws IOException {
        assertThat(run("run", starter.resolve("job.yaml"), "--tiles-geojson")).isZero();
        Path tiles = starter.resolve("job-results").resolve("tiles.geojson");
        out.getBuffer().setLength(0);

        assertThat(run("measure", tiles)).isZero();

        assertThat(out.toString()).containsPattern("cavity.fraction +1 +1 +1 ");
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', textBlock = """
            ''                                  | Usage: evenstamp
            press                               | Unmatched argument
            run                                 | Missing required parameter: 'JOB'
            run a b                             | Unmatched argument
            run a --outt b                      | Unknown option
            run a --threads 0                   | is not a number from 1 to 9999
            measure layout.geojson --tile 100   | tiles.side needs a unit, is the bare number 100
            measure layout.geojson --drawn holes| layout.drawn cannot be "holes"
            compare a                           | Missing required parameter: 'B'
            compare a b --relative x            | "x" is not a share such as 1e-6
            compare a b --absolute 3            | "3" has no unit
            list things                         | is not one of analyses, fields
            """)
    void a_wrong_command_line_is_exit_code_2(String line, String expected) {
        Object[] arguments = line.isEmpty() ? new Object[0] : line.split(" +");

        assertThat(run(arguments)).isEqualTo(2);

        assertThat(err.toString()).contains(expected).doesNotContain("\tat ");
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', textBlock = """
            rnu job.yaml             | did you mean run?
            chekc job.yaml           | did you mean check?
            --verbsoe run a          | did you mean --verbose?
            run a --outt b           | did you mean --out?
            run a --pictuers         | did you mean --pictures?
            measure a --unti um      | did you mean --unit?
            list feilds              | did you mean fields?
            """)
    void a_mistyped_verb_option_or_word_is_answered_with_the_nearest(String line, String nearest) {
        assertThat(run((Object[]) line.split(" +"))).isEqualTo(2);

        assertThat(err.toString()).contains(nearest).contains("--help");
        assertThat(out.toString()).isEmpty();
    }

    @Test
    void all_problems_of_a_job_are_told_a_line_each_with_exit_code_3() throws IOException {
        Path job = job("bad.yaml", text -> text.replace("\"200 nm\"", "200").replace("depth:", "dept:"));

        assertThat(run("check", job)).isEqualTo(3);

        assertThat(err.toString().lines()).hasSize(3).last().isEqualTo("2 problems");
        assertThat(err.toString())
                .contains("film.thickness needs a unit")
                .contains("did you mean stamp.depth?")
                .doesNotContain("\tat ");
    }

    @Test
    void a_layout_that_is_none_leaves_nothing_behind() throws IOException {
        Files.writeString(starter.resolve("layout.geojson"), "");

        assertThat(run("run", starter.resolve("job.yaml"))).isEqualTo(3);

        assertThat(err.toString()).startsWith("error: ").doesNotContain("\tat ");
        assertThat(entries(starter)).containsExactly("job.yaml", "layout.geojson", "readings.csv");
    }

    @Test
    void plug_in_directories_without_plug_ins_are_the_users_to_mend() {
        assertThat(run("check", starter.resolve("job.yaml"), "--plugins", directory.resolve("nowhere")))
                .isEqualTo(3);

        assertThat(err.toString()).contains("nowhere");
    }

    @Test
    void a_bug_is_exit_code_4_and_shows_its_trace_only_when_asked() throws IOException {
        analyses = plugins -> Stream.concat(
                        AnalysisFinder.find(plugins).stream(),
                        Stream.of(FoundAnalysis.of(new BrokenAnalysis(), "test")))
                .toList();

        assertThat(run("run", starter.resolve("job.yaml"))).isEqualTo(4);
        assertThat(err.toString()).contains("out of order").doesNotContain("\tat ");
        assertThat(run("run", starter.resolve("job.yaml"), "--verbose")).isEqualTo(4);
        assertThat(err.toString()).contains("\tat ");
        assertThat(entries(starter)).containsExactly("job.yaml", "layout.geojson", "readings.csv");
    }

    @Test
    void what_a_run_cost_is_told_on_demand_and_changes_no_result() throws IOException {
        assertThat(run("run", starter.resolve("job.yaml"), "--verbose", "--json"))
                .isZero();

        assertThat(err.toString())
                .startsWith("stage ")
                .containsPattern("\nwriting results +1 +[0-9.]+  [0-9]+ files\n")
                .containsPattern("\n[0-9.]+ s in all, heap at most [0-9]+ MB\n$");
        assertThat(starter.resolve("job-results").resolve("result.json"))
                .content()
                .isEqualTo(out.toString());
        TriedTool list = new TriedTool();
        assertThat(list.run("list", "units", "--verbose")).isZero();
        assertThat(list.err.toString().lines()).hasSize(1);
        TriedTool wrong = new TriedTool();
        assertThat(wrong.run("list", "--verbose")).isEqualTo(2);
        assertThat(wrong.err.toString()).doesNotContain("heap");
    }

    @Test
    void a_cancelled_run_is_exit_code_130_and_leaves_nothing() throws IOException {
        progress.cancel();

        assertThat(run("run", starter.resolve("job.yaml"))).isEqualTo(130);

        assertThat(err.toString()).contains("cancelled");
        assertThat(entries(starter)).containsExactly("job.yaml", "layout.geojson", "readings.csv");
    }

    @Test
    void a_new_job_does_not_overwrite_anything() {
        assertThat(run("new", starter)).isEqualTo(3);

        assertThat(err.toString()).contains("is not empty");
    }

    @ParameterizedTest
    @CsvSource({
        "analyses, balance",
        "fields, residual.local",
        "parameters, film.thickness",
        "formats, geojson-lines",
        "units, degC",
        "schema, https://json-schema.org/draft/2020-12/schema"
    })
    void everything_there_is_can_be_listed(String what, String expected) {
        assertThat(run("list", what)).isZero();

        assertThat(out.toString()).contains(expected);
    }

    @ParameterizedTest
    @CsvSource({
        "fields, RLT, residual.final, cavity.volume",
        "fields, residual layer thickness, residual.final, cavity.volume",
        "fields, demold tear, release.tear, release.work",
        "parameters, mould modulus, stamp.modulus, film.modulus",
        "materials, ps-50k, film ps-50k, uv-acrylate"
    })
    void a_list_is_searched_also_by_words_of_the_trade(String what, String words, String found, String other) {
        Object[] arguments = Stream.concat(Stream.of("list", what), Stream.of(words.split(" ")))
                .toArray();

        assertThat(run(arguments)).isZero();

        assertThat(out.toString()).contains(found).doesNotContain(other);
    }

    @Test
    void help_and_version_are_answered() {
        assertThat(run("--help")).isZero();
        assertThat(run("run", "--help")).isZero();
        assertThat(run("--version")).isZero();

        assertThat(out.toString()).contains("Exit codes:", "<job name>-results", "evenstamp 1.2.3");
    }
}
