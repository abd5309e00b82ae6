package org.evenstamp.samples.generate;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.math.MathContext;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.zip.GZIPInputStream;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.geometry.write.LayoutWriter;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.tool.command.Evenstamp;
import org.evenstamp.tool.command.ToolContext;
import org.evenstamp.tool.console.Console;
import org.evenstamp.tool.exit.Interruption;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A stamp with every mistake: each limit of its job catches it, where it was made. */
class FlawedLayoutTest {
    private static final Path SHIPPED = Path.of("flawed", "layout.geojson.gz");
    private static final Path JOB = Path.of("flawed", "job.yaml");
    private static final Path FINDINGS = Path.of("flawed", "findings.txt");

    @Test
    void the_shipped_file_is_what_the_generator_draws() throws IOException {
        if (Boolean.getBoolean("golden.update")) {
            GenerateMain.generate("flawed", SHIPPED.toString());
        }
        ByteArrayOutputStream drawn = new ByteArrayOutputStream();
        try (LayoutWriter writer = new LayoutWriter(drawn, LayoutWriter.Format.GEOJSON)) {
            FlawedLayout.draw(writer);
        }
        try (GZIPInputStream shipped = new GZIPInputStream(Files.newInputStream(SHIPPED))) {
            assertThat(shipped.readAllBytes())
                    .as("to redraw it: mvn -pl samples -am test -Dtest=FlawedLayoutTest -Dgolden.update=true")
                    .isEqualTo(drawn.toByteArray());
        }
    }

    @Test
    @Tag("slow") // solves the film and draws every map
    void every_limit_is_broken_and_every_one_is_caught_where_expected(@TempDir Path folder) throws IOException {
        Path out = folder.resolve("results");
        int code = evenstamp("run", JOB.toString(), "--out", out.toString());
        JsonNode result = new ObjectMapper().readTree(Files.readString(out.resolve("result.json")));

        assertThat(code).as("exit code: a limit is exceeded").isEqualTo(1);
        assertThat(result.get("skipped")).isEmpty();
        assertThat(texts(result.get("findings"), "field")).isEqualTo(texts(result.get("limits"), "field"));
        assertThat(texts(result.get("ranking").get("worst"), "field"))
                .containsAll(texts(result.get("limits"), "field"));
        String told = told(result);
        if (Boolean.getBoolean("golden.update")) {
            Files.writeString(FINDINGS, told);
        }
        assertThat(told)
                .as("to accept it: mvn -pl samples -am test -Dtest=FlawedLayoutTest -Dgolden.update=true")
                .isEqualTo(Files.readString(FINDINGS));
    }

    private static int evenstamp(String... arguments) {
        Console console =
                new Console(new PrintWriter(new StringWriter()), new PrintWriter(new StringWriter()), false, false);
        Progress progress = new Progress();
        return Evenstamp.run(
                new ToolContext(console, "test", progress, new Interruption(progress), AnalysisFinder::find),
                arguments);
    }

    private static List<String> texts(JsonNode list, String key) {
        List<String> texts = new ArrayList<>();
        list.forEach(item -> texts.add(item.get(key).asText()));
        return texts;
    }

    /** Findings and the ten worst places, three digits of each number. */
    private static String told(JsonNode result) {
        StringBuilder text = new StringBuilder("findings\n");
        for (JsonNode finding : result.get("findings")) {
            text.append("  ").append(line(finding)).append('\n');
        }
        text.append("worst places\n");
        int places = 0;
        for (JsonNode place : result.get("ranking").get("worst")) {
            if (places++ < 10) {
                text.append("  ")
                        .append(digits(place.get("ratio")))
                        .append(": ")
                        .append(line(place))
                        .append(", most by ")
                        .append(place.get("term").asText())
                        .append('\n');
            }
        }
        return text.toString();
    }

    private static String line(JsonNode found) {
        JsonNode place = found.get("place");
        return found.get("field").asText() + " " + digits(found.get("found"))
                + " " + found.get("unit").asText() + " against "
                + found.get("side").asText() + " " + digits(found.get("bound")) + " in "
                + found.get("tiles").asText() + " tiles, worst in column "
                + place.get("column").asText() + ", row " + place.get("row").asText();
    }

    private static String digits(JsonNode number) {
        return number.decimalValue()
                .round(new MathContext(3))
                .stripTrailingZeros()
                .toPlainString();
    }
}
