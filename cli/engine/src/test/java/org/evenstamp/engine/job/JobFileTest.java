package org.evenstamp.engine.job;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.geometry.read.LayoutFormat;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Source;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class JobFileTest {
    private static final String GOOD = """
            layout: {file: layout.geojson}
            stamp:
              depth: "150 nm"
            """;

    @TempDir
    Path directory;

    @BeforeEach
    void layout() throws IOException {
        Files.writeString(directory.resolve("layout.geojson"), "{}");
    }

    private Job read(String text) throws IOException {
        return read("job.yaml", text);
    }

    private Job read(String name, String text) throws IOException {
        return Job.read(Files.writeString(directory.resolve(name), text), SampleAnalysis.pipeline());
    }

    /** Returns the problems of a job, without the directory that the test happens to run in. */
    private List<String> problems(String name, String text) {
        InputException exception = catchThrowableOfType(InputException.class, () -> read(name, text));
        assertThat(exception).as("problems of %s", text).isNotNull();
        return exception.problems().stream()
                .map(Problem::line)
                .map(line -> line.replace(directory + "/", ""))
                .toList();
    }

    private List<String> problems(String text) {
        return problems("job.yaml", text);
    }

    private Source at(int line, int column) {
        return new Source(directory.resolve("job.yaml").toString(), line, column);
    }

    @Test
    void the_smallest_job_has_defaults_for_the_rest() throws IOException {
        Job job = read(GOOD);

        assertThat(job.name()).isEqualTo("job");
        assertThat(job.depthMetres()).isCloseTo(1.5e-7, withinPercentage(1e-12));
        assertThat(job.tileSideMetres()).isNull();
        assertThat(job.structure()).isEqualTo(MapOptions.Structure.AUTO);
        assertThat(job.layout().drawn()).isEqualTo(MapOptions.Drawn.CAVITIES);
        assertThat(job.layout().layers().get(0).format()).isNull();
        assertThat(job.layout().repair()).isFalse();
        assertThat(job.output()).isEqualTo(directory.resolve("job-results"));
        assertThat(job.plan().skipped())
                .singleElement()
                .satisfies(skipped -> assertThat(skipped.missingParameters()).containsExactly("film.thickness"));
    }

    @Test
    void every_kind_of_key_is_read() throws IOException {
        Job job = read("""
                layout:
                  file: layout.geojson
                  unit: 5 nm
                  drawn: protrusions
                  bad-features: repair
                  format: geojson
                  outline: {min: ["-1 mm", "-2 mm"], max: ["1 mm", "2000 um"]}
                tiles: {side: "100 um", structure: solved}
                stamp: {depth: 0.15 um}
                film: {thickness: 200nm, share: 0.25, kind: liquid}
                process:
                  temperature: 150 degC
                  steps:
                    - {time: "1 min"}
                    - {time: "2 min", pressure: "30 bar"}
                limits:
                  film.left: {spread: "<= 20 nm", each: [">= 10 nm", "<= 0.3 um"]}
                  cavity.fraction: {mean: "<= 50 %", sigma3: "<= 0.1"}
                output: {directory: there}
                """);

        assertThat(job.layout().layers().get(0).metresPerUnit()).isEqualTo(5e-9);
        assertThat(job.layout().drawn()).isEqualTo(MapOptions.Drawn.PROTRUSIONS);
        assertThat(job.layout().layers().get(0).format()).isEqualTo(LayoutFormat.GEOJSON);
        assertThat(job.layout().repair()).isTrue();
        assertThat(job.layout().outline()).isEqualTo(new MapOptions.Outline(-1e-3, -2e-3, 1e-3, 2e-3));
        assertThat(job.tileSideMetres()).isCloseTo(1e-4, withinPercentage(1e-12));
        assertThat(job.structure()).isEqualTo(MapOptions.Structure.SOLVED);
        assertThat(job.limits())
                .containsExactly(
                        new Limit("film.left", Limit.Measure.SPREAD, Limit.Side.AT_MOST, 2e-8, at(17, 23)),
                        new Limit("film.left", Limit.Measure.EACH, Limit.Side.AT_LEAST, 1e-8, at(17, 42)),
                        new Limit("film.left", Limit.Measure.EACH, Limit.Side.AT_MOST, 3e-7, at(17, 54)),
                        new Limit("cavity.fraction", Limit.Measure.MEAN, Limit.Side.AT_MOST, 0.5, at(18, 27)),
                        new Limit("cavity.fraction", Limit.Measure.SIGMA3, Limit.Side.AT_MOST, 0.1, at(18, 46)));
        assertThat(job.output()).isEqualTo(directory.resolve("there"));
        assertThat(job.plan().running()).hasSize(1);
    }

    @Test
    void json_is_read_like_yaml() throws IOException {
        Job job = read("job.json", """
                {"layout": {"file": "layout.geojson"},
                \t"stamp": {"depth": "150 nm"}}
                """);

        assertThat(job.depthMetres()).isCloseTo(1.5e-7, withinPercentage(1e-12));
        assertThat(problems("job.json", "{\"stamp\": {\"depth\": 150},\n \"layout\": {\"file\": \"layout.geojson\"}}"))
                .containsExactly("job.json:1:21: stamp.depth needs a unit, is the bare number 150 (write \"150 nm\" if"
                        + " that is the unit meant)");
        assertThat(problems("job.json", "{\"stamp\": {\"depth\": }"))
                .singleElement()
                .asString()
                .startsWith("job.json:1:");
    }

    @Test
    void all_problems_come_at_once_with_their_places() {
        assertThat(problems("""
                                layout: {file: layuot.geojson}
                                stampp: {depth: "150 nm"}
                                film:
                                  thicknes: "200 nm"
                                  thickness: "200 s"
                                limits:
                                  film.lefd: {each: "<= 1 nm"}
                                """))
                .containsExactly(
                        "job.yaml:2:1: there is no section \"stampp\" (did you mean stamp?)",
                        "job.yaml:4:3: there is no key film.thicknes (did you mean film.thickness?)",
                        "job.yaml:5:14: film.thickness: \"s\" does not measure what \"nm\" measures (such as \"100 nm\")",
                        "job.yaml:7:3: there is no field film.lefd to limit (did you mean film.left?)",
                        "job.yaml:1:16: there is no layout file layuot.geojson (layout.file is relative to the job)");
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', textBlock = """
            film: {thickness: 200}                     | needs a unit, is the bare number 200
            film: {thickness: "200"}                   | needs a unit, is the bare number 200
            film: {thickness: "200 furlong"}           | unknown unit "furlong"
            film: {thickness: "thick"}                 | is not a number with a unit
            film: {thickness: "1 m"}                   | film.thickness is 1 m, outside 0.1 to 1000000 nm
            film: {thickness: "-5 nm"}                 | film.thickness is -5 nm, outside 0.1 to 1000000 nm
            film: {thickness: "NaN nm"}                | is not a number with a unit
            film: {thickness: "1e999 nm"}              | must be finite
            film: {thickness: true}                    | must be a number with a unit, is true
            film: {thickness: }                        | must be a number with a unit, is nothing
            film: {thickness: [1, 2]}                  | must be a number with a unit, is a list
            film: {share: 1.5}                         | film.share is 1.5, outside 0 to 1
            film: {kind: liqid}                        | it is one of thermal, liquid; did you mean liquid?
            film: {kind: {a: b}}                       | film.kind cannot be a group of keys
            film: thick                                | the section film must be a group of keys, is "thick"
            film: {pressure: "1 MPa"}                  | there is no key film.pressure
            process: {thickness: "1 nm"}               | did you mean film.thickness?
            process: {steps: "1 s"}                    | process.steps must be a list of rows
            process: {steps: [3]}                      | a row of process.steps must be a group of keys
            process: {steps: [{}]}                     | this row of process.steps lacks time
            process: {steps: [{time: 1}]}              | process.steps.time needs a unit
            process: {steps: [{time: 1 s, depht: 1 s}]}| process.steps has no column "depht"
            limits: {film.left: {each: "<= 1 nm"}}     | needs the analysis sample, which cannot run: the job does not give film.thickness
            limits: {cavity.volume: {each: "1 nm"}}    | is not a bound such as "<= 20 nm"
            limits: {cavity.volume: {each: "<= 1"}}    | has no unit
            limits: {cavity.volume: {each: "<= 1 s"}}  | does not measure what "nm" measures
            limits: {cavity.volume: {most: "<= 1 nm"}} | it is one of each, mean, spread, sigma3
            limits: {cavity.volume: "<= 1 nm"}         | must be a group of each, mean, spread, sigma3
            limits: {cavity.volume: {each: {a: b}}}    | must be a bound
            layout: {outline: {min: ["1 mm", "0 mm"], max: ["0 mm", "1 mm"]}, file: layout.geojson} | min must lie to the left of and below max
            layout: {outline: {min: ["1 mm"], max: ["0 mm", "1 mm"]}, file: layout.geojson}         | must be [x, y]
            layout: {outline: {min: [0, "0 mm"], max: ["1 mm", "1 mm"]}, file: layout.geojson}      | needs a unit
            layout: {outline: "1 mm", file: layout.geojson}           | needs the corners min and max
            layout: {file: layout.geojson, unit: "5 s"}               | does not measure what "m" measures
            layout: {file: layout.geojson, unit: "-5 nm"}             | layout.unit
            layout: {file: 7}                                         | there is no layout file
            layout: {file: .}                                         | is a directory
            output: {directory: [a]}                                  | output.directory must be a text, is a list
            """)
    void a_bad_value_is_named_with_its_remedy(String addition, String expected) {
        String text = addition.startsWith("layout:") ? addition + "\nstamp: {depth: 150 nm}\n" : GOOD + addition + "\n";

        assertThat(problems(text)).singleElement().asString().contains(expected).startsWith("job.yaml:");
    }

    @Test
    void a_duplicate_key_is_a_problem() {
        assertThat(problems(GOOD + "stamp: {depth: 1 nm}\n"))
                .containsExactly("job.yaml:4:1: \"stamp\" is set twice (the first is on line 2)");
        assertThat(problems(
                        "job.json",
                        "{\"stamp\": {\"depth\": \"1 nm\", \"depth\": \"2 nm\"},\n"
                                + "\"layout\": {\"file\": \"layout.geojson\"}}"))
                .singleElement()
                .asString()
                .contains("\"depth\" is set twice");
    }

    @Test
    void a_bound_on_a_spread_of_temperature_is_a_difference() throws IOException {
        Limit spread = LimitReader.read(
                org.evenstamp.shared.field.FieldName.of("heat", "degC", "heat"), "spread", "<= 5 degC", Source.NOWHERE);
        Limit each = LimitReader.read(
                org.evenstamp.shared.field.FieldName.of("heat", "degC", "heat"), "each", "<= 5 degC", Source.NOWHERE);

        assertThat(spread.boundSi()).isEqualTo(5);
        assertThat(each.boundSi()).isEqualTo(278.15);
    }

    @Test
    void a_wrong_value_does_not_make_its_limit_unreachable_too() {
        assertThat(problems(GOOD + "film: {thickness: 7}\nlimits: {film.left: {each: \"<= 1 nm\"}}\n"))
                .singleElement()
                .asString()
                .contains("film.thickness needs a unit");
    }

    @Test
    void a_section_of_which_everything_is_commented_out_is_empty() throws IOException {
        assertThat(read(GOOD + "limits:\n  # nothing\n").limits()).isEmpty();
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', textBlock = """
            ''                 | the job file is empty
            '# nothing'        | the job file holds only comments
            'word'             | a job is a group of sections
            '[1, 2]'           | a job is a group of sections
            'a: b: c'          | is not valid
            'layout: {'        | is not valid
            'layout: "a'       | is not valid
            '--- {}\n--- {}'   | the job does not set layout.file
            """)
    void a_file_that_is_no_job_is_one_problem(String text, String expected) {
        assertThat(problems(text)).anySatisfy(line -> assertThat(line).contains(expected));
    }

    @Test
    void aliases_are_not_followed() {
        assertThat(problems("layout: {file: layout.geojson}\nfilm: &f {thickness: 1 nm}\nstamp: *f\n"))
                .anySatisfy(line -> assertThat(line).contains("aliases are not followed"));
    }

    @Test
    void binary_files_directories_and_missing_files_are_refused() throws IOException {
        Path binary = Files.write(directory.resolve("binary.yaml"), new byte[] {(byte) 0x93, 0, 1, (byte) 0xff});
        Path zeros = Files.write(directory.resolve("zeros.yaml"), new byte[100]);
        Path large = Files.write(directory.resolve("large.yaml"), new byte[(1 << 20) + 1]);

        assertThat(message(binary)).contains("is not UTF-8 text");
        assertThat(message(zeros)).contains("is not");
        assertThat(message(large)).contains("has 1048577 bytes, a job has at most 1048576");
        assertThat(message(directory)).contains("is a directory");
        assertThat(message(directory.resolve("none.yaml"))).contains("there is no such file");
    }

    private static String message(Path file) {
        return String.valueOf(
                catchThrowableOfType(InputException.class, () -> Job.read(file, SampleAnalysis.pipeline()))
                        .getMessage());
    }

    private static Job options(Path layout, String side) {
        return Job.of(JobText.ofOptions(layout, Map.of("tiles.side", side)), new Pipeline(List.of()));
    }

    @Test
    void options_are_read_by_the_same_rules() {
        Path layout = directory.resolve("layout.geojson");

        Job job = options(layout, "100 um");

        assertThat(job.name()).isEqualTo("layout");
        assertThat(job.tileSideMetres()).isCloseTo(1e-4, withinPercentage(1e-12));
        assertThat(job.depthMetres()).isNull();
        assertThat(catchThrowableOfType(InputException.class, () -> options(layout, "100"))
                        .getMessage())
                .startsWith("command line: tiles.side needs a unit");
    }

    @Test
    void the_nearest_word_is_close_or_none() {
        List<String> words = List.of("film.thickness", "stamp.depth");

        assertThat(NearestWord.of("film.thikcness", words)).contains("film.thickness");
        assertThat(NearestWord.of("zzz", words)).isEmpty();
        assertThat(NearestWord.distance("kitten", "sitting")).isEqualTo(3); // the usual textbook pair
        assertThat(NearestWord.distance("ab", "ba")).isEqualTo(1);
    }
}
