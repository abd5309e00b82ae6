package org.evenstamp.samples;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.tool.command.Evenstamp;
import org.evenstamp.tool.command.ToolContext;
import org.evenstamp.tool.console.Console;
import org.evenstamp.tool.exit.Interruption;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The four ways to press one layout, as the sample jobs state them but on coarser tiles. */
@Tag("slow")
class ProcessJobsTest {
    private static final Path SAMPLES = Path.of("water-sensor");

    @TempDir
    Path directory;

    @ParameterizedTest
    @ValueSource(strings = {"hot-press", "uv-press", "solvent-press", "roller"})
    void the_job_of_each_kind_keeps_its_limits_and_tells_its_process(String kind) throws IOException {
        String text = Files.readString(SAMPLES.resolve(kind + ".yaml"));
        String coarse = text.replace("side: \"400 um\"", "structure: estimated\n  side: \"800 um\"");
        assertThat(coarse).isNotEqualTo(text);
        Files.copy(SAMPLES.resolve("layout.geojson.gz"), directory.resolve("layout.geojson.gz"));
        Path job = Files.writeString(directory.resolve(kind + ".yaml"), coarse);
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        Progress progress = new Progress();
        Console console = new Console(new PrintWriter(out), new PrintWriter(err), false, false);
        int code = Evenstamp.run(
                new ToolContext(console, "test", progress, new Interruption(progress), AnalysisFinder::find),
                "run",
                job.toString(),
                "--no-report",
                "--out",
                directory.resolve("results").toString());

        assertThat(err.toString()).isEmpty();
        assertThat(code).isZero();
        assertThat(out.toString()).contains("take care: ", "trained staff").doesNotContain("not filled");
        JsonNode result = new ObjectMapper()
                .readTree(directory.resolve("results").resolve("result.json").toFile());
        assertThat(result.get("analyses").findValuesAsText("id"))
                .contains("balance", "etch", "features", "film", "release", "stamp", "slump", "standing", "stress");
        assertThat(result.get("skipped")).isEmpty();
        assertThat(result.get("analyses").findValuesAsText("id").contains("transmission"))
                .isEqualTo(kind.equals("uv-press"));
        List<String> warnings = result.get("warnings").findValuesAsText("code");
        assertThat(warnings).doesNotContain("film.incomplete", "process.roller-too-fast");
        assertThat(result.get("cautions")).hasSizeGreaterThan(2);
        assertThat(Files.readString(directory.resolve("results/curves/film.process.csv")))
                .startsWith("\"time (s)\",\"temperature (degC)\"");
    }
}
