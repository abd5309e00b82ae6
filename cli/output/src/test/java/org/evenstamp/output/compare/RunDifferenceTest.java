package org.evenstamp.output.compare;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.evenstamp.output.file.PublishedSchemas.differenceErrors;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import org.evenstamp.engine.result.Results;
import org.evenstamp.output.file.ResultsDirectory;
import org.evenstamp.output.file.ResultsWriter;
import org.evenstamp.output.file.RunRecord;
import org.evenstamp.output.file.SampleResults;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.spi.kit.Golden;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class RunDifferenceTest {
    private static final Results SAMPLE = SampleResults.results();

    @TempDir
    Path directory;

    private Path sample = Path.of("");

    @BeforeEach
    void sample() {
        sample = write("sample", SAMPLE);
    }

    private Path write(String name, Results results) {
        Path target = directory.resolve(name);
        try (ResultsDirectory writing = ResultsDirectory.open(target, false)) {
            ResultsWriter.write(results, RunRecord.start(1), writing, new Progress());
            writing.publish();
        }
        return target;
    }

    private static Results with(
            FieldSet fields,
            List<Limit> limits,
            List<Finding.LimitBroken> broken,
            Map<String, String> skipped,
            List<Finding.Warning> warnings) {
        return new Results(
                SAMPLE.provenance(),
                SAMPLE.layout(),
                fields,
                SAMPLE.analyses(),
                skipped,
                new Results.Verdict(limits, broken, List.of(), SAMPLE.ranking()),
                warnings);
    }

    /** One limit less and one moved, one finding gone and one changed, one field less and one more. */
    private static Results changed() {
        TileGrid grid = SampleResults.GRID;
        Field residual =
                Field.of(FieldName.of("residual.local", "nm", "thickness of the residual layer"), grid, new double[] {
                    1e-7, 2e-7, 3e-7, 4e-7, 5.25e-7, Double.NaN
                });
        Field other = Field.of(FieldName.of("pressure.peak", "MPa", "largest pressure"), grid, new double[6]);
        Limit spread = new Limit("residual.local", Limit.Measure.SPREAD, Limit.Side.AT_MOST, 3e-8);
        Limit mean = new Limit("pressure.peak", Limit.Measure.MEAN, Limit.Side.AT_LEAST, 1e6);
        return with(
                FieldSet.empty(grid).with(List.of(residual, other)),
                List.of(spread, mean),
                List.of(
                        new Finding.LimitBroken(spread, 4.25e-7, 1, new Place.WholeStamp()),
                        new Finding.LimitBroken(mean, 0, 1, new Place.WholeStamp())),
                Map.of(),
                List.of(
                        new Finding.Warning("balance", "balance.thin", "the film is thick", new Place.WholeStamp()),
                        new Finding.Warning("limit", "limit.no-value", "1 of 6", new Place.Tile(2, 1, 1e-4, 1.5e-4))));
    }

    private static StoredRun read(Path path) {
        Problems problems = new Problems();
        StoredRun run = StoredRun.read(path, problems);
        assertThat(problems.all()).isEmpty();
        return Objects.requireNonNull(run);
    }

    private static RunDifference difference(Path a, Path b, Tolerance tolerance) {
        return RunDifference.of(read(a), read(b), tolerance, new Progress());
    }

    private static List<Problem> problems(Path path) {
        Problems problems = new Problems();
        assertThat(StoredRun.read(path, problems)).isNull();
        return problems.all();
    }

    private String told(RunDifference difference) {
        return DifferenceText.of(difference, false).replace(directory + "/", "");
    }

    private static Tolerance relative(double share) {
        return new Tolerance(List.of(), List.of(new Tolerance.Relative("", share)));
    }

    @Test
    void a_run_is_the_same_as_itself_by_directory_and_by_file() {
        RunDifference difference = difference(sample, sample.resolve("result.json"), Tolerance.EXACT);

        assertThat(difference.same()).isTrue();
        assertThat(difference.fields()).hasSize(2).allMatch(FieldDifference::same);
        assertThat(told(difference)).contains("all 2 fields are the same\nthe same\n");
    }

    @Test
    void everything_that_differs_is_told() {
        RunDifference difference = difference(sample, write("changed", changed()), Tolerance.EXACT);

        assertThat(difference.same()).isFalse();
        Golden.check("src/test/resources/golden/difference.txt", told(difference));
        Golden.check(
                "src/test/resources/golden/difference.json",
                DifferenceJson.write(difference).replace(directory + "/", ""));
    }

    @Test
    void every_difference_keeps_to_the_published_schema() throws IOException {
        Path changed = write("changed", changed());
        for (RunDifference difference : List.of(
                difference(sample, sample, Tolerance.EXACT),
                difference(sample, changed, Tolerance.EXACT),
                difference(changed, sample, relative(0.1)))) {
            assertThat(differenceErrors(DifferenceJson.write(difference))).isEmpty();
        }
        JsonNode schema = new ObjectMapper()
                .readTree(Path.of("../../docs/difference.schema.json").toFile());
        assertThat(schema.at("/properties/schema/const").asInt()).isEqualTo(DifferenceJson.SCHEMA_VERSION);
        assertThat(schema.get("title").asText()).endsWith("form " + DifferenceJson.SCHEMA_VERSION);
    }

    @Test
    void no_member_of_a_difference_may_be_left_out() throws IOException {
        String json = DifferenceJson.write(difference(sample, write("changed", changed()), Tolerance.EXACT));
        ObjectMapper mapper = new ObjectMapper();
        for (String holder : List.of("", "/a", "/b", "/fields/0", "/fields/0/place", "/limits/0", "/findings/1/a")) {
            List<String> members = new ArrayList<>();
            mapper.readTree(json).at(holder).fieldNames().forEachRemaining(members::add);
            assertThat(members).isNotEmpty();
            for (String member : members) {
                JsonNode less = mapper.readTree(json);
                ((ObjectNode) less.at(holder)).remove(member);
                assertThat(differenceErrors(less.toString()))
                        .as("%s without %s", holder, member)
                        .isNotEmpty();
            }
        }
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', textBlock = """
            "schema" : 2              | "schema" : 1
            "change" : "went"         | "change" : "came"
            "change" : "changed"      | "change" : "moved"
            "verdict" : "different"   | "verdict" : "perhaps"
            "side" : "<="             | "side" : "<"
            "beyond_tolerance" : 1    | "beyond_tolerance" : 0.5
            "largest" : 25            | "largest" : -25
            "whole stamp"             | "somewhere"
            "bound" : 20              | "bound" : "20 nm"
            "column" : 2              | "column" : -2
            "unit" : "s"              | "units" : "s"
            """)
    void another_form_of_a_difference_is_refused(String written, String other) {
        String json = DifferenceJson.write(difference(sample, write("changed", changed()), Tolerance.EXACT));

        assertThat(json).contains(written);
        assertThat(differenceErrors(json.replace(written, other))).isNotEmpty();
    }

    @Test
    void what_came_one_way_went_the_other() {
        Path changed = write("changed", changed());

        RunDifference there = difference(sample, changed, Tolerance.EXACT);
        RunDifference back = difference(changed, sample, Tolerance.EXACT);

        assertThat(words(there))
                .containsExactlyInAnyOrder(
                        "fill.time went",
                        "pressure.peak came",
                        "residual.local spread <= changed",
                        "residual.local each >= went",
                        "pressure.peak mean >= came",
                        "residual.local spread <= changed",
                        "residual.local each >= went",
                        "pressure.peak mean >= came",
                        "balance balance.thin changed",
                        "limit limit.no-value came");
        assertThat(words(back).stream()
                        .map(word -> word.replace("went", "*")
                                .replace("came", "went")
                                .replace("*", "came")))
                .containsExactlyInAnyOrderElementsOf(words(there));
    }

    private static List<String> words(RunDifference difference) {
        List<Change<?>> changes = new ArrayList<>();
        changes.addAll(difference.units());
        changes.addAll(difference.limits());
        changes.addAll(difference.findings());
        changes.addAll(difference.warnings());
        return changes.stream()
                .map(change -> change.key() + " " + change.word())
                .toList();
    }

    @Test
    void findings_and_warnings_within_the_tolerance_are_the_same() {
        Limit limit = new Limit("residual.local", Limit.Measure.SPREAD, Limit.Side.AT_MOST, 2e-8);
        Path a = write("a", one(limit, 4e-7, "12.0 nm in 3 tiles"));
        Path b = write("b", one(limit, 4.01e-7, "12.1 nm in 3 tiles"));

        assertThat(difference(a, b, relative(0.01)).same()).isTrue();
        assertThat(difference(a, b, relative(0.001)).findings()).hasSize(1);
        assertThat(difference(a, b, relative(0.001)).warnings()).hasSize(1);
        assertThat(difference(a, write("c", one(limit, 4e-7, "12.0 nm in 3 rows")), relative(1))
                        .warnings())
                .hasSize(1);
    }

    private static Results one(Limit limit, double found, String warning) {
        return with(
                SAMPLE.fields(),
                List.of(limit),
                List.of(new Finding.LimitBroken(limit, found, 1, new Place.WholeStamp())),
                SAMPLE.skipped(),
                List.of(new Finding.Warning("balance", "balance.thin", warning, new Place.WholeStamp())));
    }

    @Test
    void runs_on_other_tiles_are_refused_together_with_tolerances_of_nothing() {
        TileGrid grid = new TileGrid(-1.5e-4, 0, 1e-4, 2, 3);
        Field field = Field.of(FieldName.of("residual.local", "nm", "thickness"), grid, new double[6]);
        Path other = write(
                "other", with(FieldSet.empty(grid).with(List.of(field)), List.of(), List.of(), Map.of(), List.of()));
        Tolerance tolerance = new Tolerance(
                List.of(Tolerance.Absolute.parse("residual.local=1 s")),
                List.of(Tolerance.Relative.parse("nothing=1")));

        assertThatThrownBy(() -> difference(sample, other, tolerance))
                .isInstanceOfSatisfying(
                        InputException.class,
                        e -> assertThat(e.problems())
                                .extracting(Problem::code)
                                .containsExactly("compare.grid", "compare.tolerance", "compare.tolerance"))
                .hasMessageContaining("2 x 3 tiles of 100 um from x -150 um, y 0 um")
                .hasMessageContaining("has 3 x 2 tiles")
                .hasMessageContaining("tiles.side")
                .hasMessageContaining("the fields are residual.local, fill.time")
                .hasMessageContaining("give it in nm");
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', textBlock = """
            "schema" : 2,         | "schema" : 0,      | compare.older   | evenstamp 1.2.3 in form 0, this version reads form 2 (run its job again
            "schema" : 2,         | "schema" : 3,      | compare.newer   | (use a version of evenstamp at least as new
            "schema" : 2,         | ''                 | compare.foreign | is no result of evenstamp
            "tool" : "evenstamp"  | "tool" : "other"   | compare.foreign | is no result of evenstamp
            "rows" : 2,           | ''                 | compare.damaged | grid.rows is missing
            "rows" : 2,           | "rows" : 2.5,      | compare.damaged | grid.rows is no whole number from 1 on
            "side_um" : 100       | "side_um" : -100   | compare.damaged | grid is not possible
            "tiles" : 6,          | "tiles" : 7,       | compare.damaged | fields.residual.local.tiles is 7, the grid has 6 tiles
            "unit" : "nm",        | "unit" : "cubit",  | compare.damaged | unknown unit "cubit"
            "bound" : 20,         | "bound" : "20 nm", | compare.damaged | limits[0].bound is no number
            "verdict"             | "judgement"        | compare.damaged | verdict is missing
            "cautions"            | cautions           | compare.damaged | is no complete JSON document
            """)
    void a_changed_document_is_told_with_its_place(String written, String changed, String code, String message)
            throws IOException {
        Path file = sample.resolve("result.json");
        String text = Files.readString(file);
        assertThat(text).contains(written);
        Files.writeString(file, text.replace(written, changed == null ? "" : changed));

        assertThat(problems(sample))
                .anySatisfy(problem -> {
                    assertThat(problem.code()).isEqualTo(code);
                    assertThat(problem.line()).startsWith(file.toString()).contains(message);
                })
                .allSatisfy(problem -> assertThat(problem.fix()).isNotEmpty());
    }

    @Test
    void all_that_is_wrong_with_both_runs_is_told_at_once() throws IOException {
        Path file = sample.resolve("result.json");
        Files.writeString(
                file,
                Files.readString(file)
                        .replace("\"columns\" : 3,", "")
                        .replace("\"found\" : 400,", "")
                        .replace("\"version\" : \"1.2.3\"", "\"version\" : 1.2"));

        assertThat(problems(sample))
                .extracting(Problem::message)
                .containsExactly("grid.columns is missing", "version is no text", "findings[0].found is missing");
    }

    @Test
    void a_document_that_was_cut_off_anywhere_is_told() throws IOException {
        Path file = sample.resolve("result.json");
        byte[] whole = Files.readAllBytes(file);
        for (int length = 0; length < whole.length - 2; length += 97) {
            Files.write(file, Arrays.copyOf(whole, length));
            assertThat(problems(sample)).hasSize(1);
        }
    }

    @Test
    void missing_files_are_told_with_what_to_do() throws IOException {
        assertThat(problems(directory.resolve("nowhere")))
                .extracting(Problem::line)
                .containsExactly(directory.resolve("nowhere")
                        + ": does not exist (name a directory of results, or its result.json)");
        Files.delete(sample.resolve("fields.npz"));
        assertThat(problems(sample).get(0).line())
                .contains("fields.npz: does not exist")
                .contains("copy the whole directory");
        Files.delete(sample.resolve("result.json"));
        assertThat(problems(sample).get(0).line()).contains("holds no result.json");
    }

    @Test
    void damaged_arrays_are_found_whatever_bit_has_turned() throws IOException {
        Path file = sample.resolve("fields.npz");
        byte[] whole = Files.readAllBytes(file);
        for (int i = 0; i < whole.length / 2; i += 7) {
            byte[] damaged = whole.clone();
            damaged[i] ^= 0x10;
            Files.write(file, damaged);
            Problems problems = new Problems();
            StoredRun run = StoredRun.read(sample, problems);
            if (run != null) {
                // a bit of a local heading that no reader looks at, since the directory at the end says it too
                Files.write(file, whole);
                StoredRun sound = read(sample);
                Files.write(file, damaged);
                assertThat(RunDifference.of(sound, run, Tolerance.EXACT, new Progress())
                                .same())
                        .isTrue();
            } else {
                assertThat(problems.all())
                        .allSatisfy(problem -> assertThat(problem.code()).isEqualTo("compare.damaged"));
            }
        }
        Files.write(file, Arrays.copyOf(whole, whole.length / 2));
        assertThat(problems(sample).get(0).line()).contains("fields.npz: is no complete archive");
    }

    @Test
    void an_array_of_another_shape_or_missing_is_told_by_name() throws IOException {
        TileGrid grid = new TileGrid(0, 0, 1e-4, 2, 3);
        Field field = Field.of(FieldName.of("residual.local", "nm", "thickness"), grid, new double[6]);
        Path other = write(
                "other", with(FieldSet.empty(grid).with(List.of(field)), List.of(), List.of(), Map.of(), List.of()));
        Files.copy(other.resolve("fields.npz"), sample.resolve("fields.npz"), StandardCopyOption.REPLACE_EXISTING);

        assertThat(problems(sample))
                .extracting(Problem::message)
                .containsExactly(
                        "residual.local.npy holds <f8 of (3, 2), not <f8 of (2, 3)", "has no array fill.time.npy");
    }

    @Test
    void an_array_that_is_packed_a_thousandfold_is_told_without_unpacking_it() throws IOException {
        Path arrays = sample.resolve("fields.npz");
        try (ZipOutputStream zip = new ZipOutputStream(Files.newOutputStream(arrays))) {
            zip.putNextEntry(new ZipEntry("residual.local.npy"));
            byte[] zeros = new byte[1 << 20];
            for (int i = 0; i < 64; i++) {
                zip.write(zeros);
            }
        }
        assertThat(Files.size(arrays)).isLessThan(100_000);

        Problems problems = new Problems();
        assertThat(StoredRun.read(sample, problems)).isNull();

        assertThat(problems.all())
                .extracting(Problem::message)
                .contains("residual.local.npy is longer than an array of 6 tiles");
    }

    @Test
    void results_between_two_renames_of_a_killed_run_are_put_back() throws IOException {
        Files.move(sample, directory.resolve(".sample.old-123"));

        assertThat(read(sample).name()).isEqualTo(SAMPLE.provenance().name());
        assertThat(sample).isDirectory();
    }

    @Test
    void what_is_no_file_is_not_waited_for() {
        Problems problems = new Problems();

        assertThat(StoredRun.read(Path.of("/dev/zero"), problems)).isNull();

        assertThat(problems.all()).extracting(Problem::message).containsExactly("is a pipe or device and no file");
    }
}
