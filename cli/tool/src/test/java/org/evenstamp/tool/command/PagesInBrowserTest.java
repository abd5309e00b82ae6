package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.evenstamp.output.page.Browser;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Pages of a stamp with regions and of a sweep, in a browser, against the files beside them. */
@Tag("slow")
class PagesInBrowserTest {
    private static final String JOB = """
            layout:
              layers:
                - {file: wells.wkt, unit: um, role: cavity}
                - {file: optics.wkt, unit: um, role: region, name: optics <b>}
              outline: {min: ["0 um", "0 um"], max: ["400 um", "400 um"]}
            tiles: {side: "50 um"}
            stamp: {depth: "100 nm"}
            film: {thickness: "250 nm", viscosity: "1e4 Pa s"}
            process: {pressure: "5 MPa", hold: "20 s"}
            limits:
              residual.local@optics <b>: {mean: "<= 100 nm"}
              residual.local: {each: ">= 200 nm"}
            sweep:
              design: grid
              keep: [residual.local]
              vary:
                - {key: film.thickness, values: ["230 nm", "239.99 nm", "250 nm"]}
                - {key: process.pressure, values: ["4 MPa", "5 MPa"]}
            """;

    @TempDir
    Path directory;

    private final TriedTool tool = new TriedTool();

    /** Wells of 20 um, 50 um apart, on the left half: 40 nm of cavity on average there, so that 240 nm of film leave 200. */
    @BeforeEach
    void files() throws IOException {
        List<String> wells = new ArrayList<>();
        for (int x = 0; x < 200; x += 50) {
            wells.add(box(x + 10, 0, x + 30, 400));
        }
        Files.write(directory.resolve("wells.wkt"), wells);
        Files.writeString(directory.resolve("optics.wkt"), box(0, 0, 200, 200));
        Files.writeString(directory.resolve("job.yaml"), JOB);
    }

    private static String box(int left, int low, int right, int high) {
        return String.format(
                "POLYGON ((%1$d %2$d, %3$d %2$d, %3$d %4$d, %1$d %4$d, %1$d %2$d))", left, low, right, high);
    }

    @Test
    void the_report_tells_regions_by_name_and_the_limits_on_them() throws IOException {
        Path results = directory.resolve("results");
        assertThat(tool.run("run", directory.resolve("job.yaml"), "--out", results, "--quiet"))
                .as("%s", tool.err)
                .isEqualTo(1);
        JsonNode named = new ObjectMapper()
                .readTree(results.resolve("result.json").toFile())
                .get("named_regions");
        assertThat(named).hasSize(2);

        try (Browser browser = Browser.start(false)) {
            browser.open(results.resolve("report.html"));
            for (int i = 0; i < named.size(); i++) {
                List<?> cells = (List<?>) browser.js(
                        "return [...document.querySelectorAll('#regions tbody tr')[arguments[0]].cells].map(one => one.textContent)",
                        i);
                String name = named.get(i).get("name").asText();
                assertThat(cells.get(0)).isEqualTo(name.equals("features") ? "where the features are" : name);
                assertThat(Double.parseDouble(String.valueOf(cells.get(4))))
                        .isCloseTo(named.get(i).get("mean").asDouble(), within(0.05));
            }
            assertThat(browser.js("return el('findings').textContent"))
                    .asString()
                    .contains("residual.local@optics <b>")
                    .contains("the region as a whole");
            assertThat(browser.console()).isEmpty();
        }
    }

    @Test
    void the_page_of_a_sweep_shows_every_margin_and_what_a_run_found() throws IOException {
        Path results = directory.resolve("sweep");
        Files.writeString(
                directory.resolve("job.yaml"), JOB.replace("  residual.local@optics <b>: {mean: \"<= 100 nm\"}\n", ""));
        assertThat(tool.run("sweep", directory.resolve("job.yaml"), "--out", results, "--quiet"))
                .as("%s", tool.err)
                .isZero();

        try (Browser browser = Browser.start(false)) {
            browser.open(results.resolve("sweep.html"));
            List<?> margins = (List<?>) browser.js(
                    "return [...document.querySelectorAll('.window td')].map(one => Number(one.textContent))");
            // (film - 40 nm - 200 nm) over 200 nm: the thinnest misses by 5 %, the next by a hair, the thickest keeps 5
            // %.
            assertThat(margins).hasSize(6);
            assertThat(browser.js("return [...document.querySelectorAll('.window td')].map(one => one.textContent)"
                            + ".sort((a, b) => a - b).join()"))
                    .isEqualTo("-5,-5,-0.005,-0.005,5,5");

            browser.js("document.querySelectorAll('.window td')[0].focus()");
            assertThat(browser.el("probe").getText()).contains("film.thickness", "process.pressure", "margin", "%");
            browser.js(
                    "const canvas = document.getElementById('canvas'), box = canvas.getBoundingClientRect();"
                            + "canvas.dispatchEvent(new MouseEvent('mousemove', {clientX: box.left + 2, clientY: box.top + 2}))");
            assertThat(browser.el("tile").getText()).contains("x 0.025 mm, y 0.375 mm", "residual.local.mean");
            assertThat(browser.console()).isEmpty();
        }
    }
}
