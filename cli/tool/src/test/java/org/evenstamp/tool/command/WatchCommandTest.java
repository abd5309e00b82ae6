package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.Queue;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.tool.console.Console;
import org.evenstamp.tool.exit.Interruption;
import org.evenstamp.tool.watch.Changes;
import org.evenstamp.tool.watch.PolledFiles;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

class WatchCommandTest {
    private static final String JOB = """
            layout:
              file: layout.geojson
              outline: {min: ["0 um", "0 um"], max: ["750 um", "600 um"]}
            tiles: {side: "50 um"}
            stamp: {depth: "150 nm"}
            film: {thickness: "200 nm", viscosity: "1e4 Pa s"}
            process: {pressure: "2 MPa", hold: "60 s"}
            etch: {vertical-rate: "2 nm/s", lateral-rate: "0.1 nm/s"}
            limits:
              residual.local: {each: ">= 20 nm"}
            """;

    @TempDir
    Path directory;

    private final StringWriter out = new StringWriter();
    private final StringWriter err = new StringWriter();
    private final Progress progress = new Progress();
    private final Queue<Edit> edits = new ArrayDeque<>();
    private Path job = Path.of("");

    /** Something a user does between two runs. */
    private interface Edit {
        void make() throws IOException;
    }

    @BeforeEach
    void jobAndLayout() throws IOException {
        Path starter = directory.resolve("starter");
        assertThat(new TriedTool().run("new", starter)).isZero();
        Files.copy(starter.resolve("layout.geojson"), directory.resolve("layout.geojson"));
        job = Files.writeString(directory.resolve("job.yaml"), JOB);
    }

    private int watch(Supplier<Changes> changes, Object... more) {
        ToolContext context = new ToolContext(
                new Console(new PrintWriter(out), new PrintWriter(err), false, false),
                "1.2.3",
                progress,
                new Interruption(progress),
                AnalysisFinder::find);
        return new CommandLine(new WatchCommand(context, changes.get()))
                .setExecutionExceptionHandler((failure, command, parsed) -> {
                    throw failure;
                })
                .execute(Stream.concat(Stream.of(job), Stream.of(more))
                        .map(Object::toString)
                        .toArray(String[]::new));
    }

    /** Runs the job, then again after each of the edits, and stops. */
    private int watchEdits(Object... more) {
        edits.add(progress::cancel);
        boolean[] begun = {false};
        return watch(
                () -> files -> {
                    if (begun[0]) {
                        try {
                            edits.remove().make();
                        } catch (IOException e) {
                            throw new UncheckedIOException(e);
                        }
                    }
                    begun[0] = true;
                    progress.checkCancelled();
                },
                more);
    }

    private void replace(String what, String by) throws IOException {
        String text = Files.readString(job);
        assertThat(text).contains(what);
        Files.writeString(job, text.replace(what, by));
    }

    private List<String> linesWith(String word) {
        return out.toString().lines().filter(line -> line.contains(word)).toList();
    }

    private void resultsAreThoseOfARun() throws IOException {
        Path fresh = directory.resolve("fresh");
        assertThat(new TriedTool().run("run", job, "--replace", "--quiet", "--out", fresh))
                .isLessThan(2);
        sameFiles(fresh, directory.resolve("job-results"));
    }

    private static void sameFiles(Path expected, Path found) throws IOException {
        List<Path> names = names(expected);
        assertThat(names(found)).isEqualTo(names).contains(Path.of("report.html"));
        for (Path name : names) {
            if (!name.equals(Path.of("run.json"))) {
                assertThat(found.resolve(name)).hasSameBinaryContentAs(expected.resolve(name));
            }
        }
    }

    private static List<Path> names(Path directory) throws IOException {
        try (Stream<Path> files = Files.walk(directory)) {
            return files.filter(Files::isRegularFile)
                    .map(directory::relativize)
                    .sorted()
                    .toList();
        }
    }

    @Test
    @Tag("slow")
    void after_every_change_the_results_are_those_of_a_run_byte_for_byte() throws IOException {
        Path layout = directory.resolve("layout.geojson");
        String drawn = Files.readString(layout);
        Path film = directory.resolve("film.csv");
        String points = "x_um,y_um,thickness_nm\n0,0,200\n750,0,210\n0,600,190\n750,600,220\n";
        List<Edit> all = List.of(
                () -> replace(">= 20 nm", ">= 120 nm"),
                () -> {
                    replace("60 s", "30 s");
                    replace("150 nm", "120 nm");
                },
                () -> Files.writeString(layout, drawn.replaceFirst("\\[300, 100]", "[310, 100]")),
                () -> {
                    Files.writeString(layout, drawn);
                    replace("etch:", "# how it is etched\netch:");
                },
                () -> {
                    Files.writeString(film, points);
                    replace("thickness: \"200 nm\"", "thickness-map: film.csv");
                },
                () -> Files.writeString(film, points.replace("220", "230")));
        for (Edit edit : all) {
            edits.add(edit);
            edits.add(this::resultsAreThoseOfARun);
        }

        assertThat(watchEdits()).isEqualTo(130);

        assertThat(linesWith("ran again")).hasSize(all.size());
        assertThat(err.toString()).isEqualTo("stopped; the results of the last complete run stay\n");
    }

    @Test
    void only_what_depends_on_a_change_is_computed_again() throws IOException {
        String drawn = Files.readString(directory.resolve("layout.geojson"));
        edits.add(() -> replace(">= 20 nm", ">= 25 nm"));
        edits.add(() -> replace("0.1 nm/s", "0.2 nm/s"));
        edits.add(() -> replace("2 MPa", "3 MPa"));
        edits.add(() -> replace("3 MPa", "2 MPa"));
        edits.add(() -> Files.writeString(directory.resolve("layout.geojson"), drawn + "\n"));

        watchEdits();

        assertThat(linesWith("ran ").stream().map(WatchCommandTest::computedOfThree))
                .containsExactly(
                        List.of("etch", "film", "tile map"),
                        List.of(),
                        List.of("etch"),
                        List.of("etch", "film"),
                        List.of(),
                        List.of("etch", "film", "tile map"));
        assertThat(linesWith("ran ")).allSatisfy(line -> assertThat(line).contains("etch", "film", "tile map"));
    }

    /** What a line says was computed, of three stages: whatever other analyses there are. */
    private static List<String> computedOfThree(String line) {
        List<String> computed =
                List.of(line.replaceAll("^.*computed: |; from before.*$", "").split(", "));
        return Stream.of("etch", "film", "tile map").filter(computed::contains).toList();
    }

    @Test
    void a_mistake_is_told_and_the_last_good_results_stay_until_it_is_mended() throws IOException {
        Path result = directory.resolve("job-results/result.json");
        List<String> seen = new ArrayList<>();
        Edit look = () -> seen.add(Files.readString(result));
        edits.add(look);
        edits.add(() -> replace("60 s", "60 apples"));
        edits.add(look);
        edits.add(() -> Files.writeString(directory.resolve("layout.geojson"), "{"));
        edits.add(look);
        edits.add(() -> replace("60 apples", "40 s"));
        edits.add(look);
        edits.add(() -> Files.delete(directory.resolve("layout.geojson")));
        edits.add(look);
        edits.add(() -> Files.copy(directory.resolve("starter/layout.geojson"), directory.resolve("layout.geojson")));
        edits.add(look);
        edits.add(() -> Files.writeString(job, "layout: ["));

        assertThat(watchEdits()).isEqualTo(130);

        assertThat(seen.subList(0, 5)).containsOnly(seen.get(0));
        assertThat(seen.get(5)).contains("\"40 s\"");
        assertThat(seen.get(0)).contains("\"60 s\"");
        assertThat(linesWith("ran ")).hasSize(2);
        assertThat(err.toString().lines().filter(line -> line.startsWith("error")))
                .hasSizeGreaterThanOrEqualTo(5)
                .anyMatch(line -> line.contains("apples"))
                .anyMatch(line -> line.contains("there is no layout file"));
    }

    @Test
    void a_mistake_at_the_start_can_be_mended_in_the_file_that_holds_it() throws IOException {
        Path materials = Files.writeString(directory.resolve("mine.tsv"), "film\tmine\tnonsense\n");
        replace("viscosity: \"1e4 Pa s\"", "viscosity: \"1e4 Pa s\", materials: mine.tsv");
        edits.add(
                () -> Files.writeString(materials, "film\tmine\tglass-temperature\t100 degC\t-\t-\t-\tmeasured\tus\n"));

        watchEdits();

        assertThat(err.toString()).contains("mine.tsv:1");
        assertThat(linesWith("watching ").get(0)).contains("mine.tsv");
        assertThat(linesWith("ran ")).hasSize(1);
    }

    @Test
    void a_file_written_again_with_the_same_content_changes_nothing() throws IOException {
        edits.add(() -> Files.writeString(job, Files.readString(job)));
        edits.add(() -> replace(">= 20 nm", ">= 21 nm"));

        watchEdits("--no-report");

        assertThat(linesWith("ran ")).hasSize(2);
        assertThat(linesWith("reload")).isEmpty();
        assertThat(linesWith("the limit is kept")).hasSize(2);
    }

    @Test
    void results_that_are_not_ours_are_not_replaced() throws IOException {
        Path diary = Files.createDirectory(directory.resolve("job-results")).resolve("diary.txt");
        Files.writeString(diary, "dear diary");

        watchEdits();

        assertThat(err.toString()).contains("holds no result.json but diary.txt");
        assertThat(diary).hasContent("dear diary");
    }

    @Test
    void a_job_that_is_not_there_is_not_waited_for() throws IOException {
        Files.delete(job);
        assertThat(new TriedTool().run("watch", job)).isEqualTo(3);
    }

    @Test
    void files_are_watched_as_editors_write_them() throws Exception {
        Thread watching = new Thread(() -> watch(() -> new PolledFiles(progress)));
        watching.start();
        try {
            untilLines(1);
            Path beside = Files.writeString(directory.resolve(".job.new"), JOB.replace(">= 20 nm", ">= 30 nm"));
            Files.move(beside, job, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
            untilLines(2);
            assertThat(directory.resolve("job-results/result.json")).content().contains(">= 30 nm");
            Files.writeString(job, JOB.replace("60 s", "50 s"));
            untilLines(3);
            assertThat(directory.resolve("job-results/result.json")).content().contains("\"50 s\"");
        } finally {
            progress.cancel();
            watching.join(10_000);
        }
        assertThat(watching.isAlive()).isFalse();
        assertThat(err.toString()).startsWith("stopped");
        resultsAreThoseOfARun();
    }

    /** Waits until the job ran as often as that; a minute is far more than it needs. */
    private void untilLines(int runs) throws InterruptedException {
        long end = System.nanoTime() + 60_000_000_000L;
        while (linesWith("watching ").size() < runs) {
            assertThat(System.nanoTime()).as("no run %d: %s %s", runs, out, err).isLessThan(end);
            Thread.sleep(20);
        }
    }

    @Test
    void with_json_every_run_prints_its_result_and_nothing_else() throws IOException {
        edits.add(() -> replace(">= 20 nm", ">= 25 nm"));

        assertThat(watchEdits("--json", "--no-report")).isEqualTo(130);

        List<JsonNode> printed = new ObjectMapper()
                .readerFor(JsonNode.class)
                .<JsonNode>readValues(out.toString())
                .readAll();
        assertThat(printed)
                .extracting(result -> result.at("/limits/0/bound").asDouble())
                .containsExactly(20.0, 25.0);
    }
}
