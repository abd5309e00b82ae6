package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.evenstamp.output.file.NumpyArchive;
import org.evenstamp.output.page.Browser;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.Keys;

/** The report that a verb of the tool writes, against the tables beside it. */
@Tag("slow")
class RunInBrowserTest {
    private static final MathContext SHOWN = new MathContext(6, RoundingMode.HALF_UP);

    @TempDir
    Path directory;

    @Test
    void the_page_of_a_stamp_with_dummies_shows_its_tables_its_course_and_what_was_before() throws IOException {
        TriedTool tool = new TriedTool();
        Path starter = directory.resolve("starter");
        assertThat(tool.run("new", starter)).isZero();
        Path job = starter.resolve("job.yaml");
        Path before = directory.resolve("before");
        Path after = directory.resolve("after");
        assertThat(tool.run("run", job, "--out", before, "--quiet"))
                .as("%s", tool.err)
                .isZero();
        assertThat(tool.run("dummy", job, "--out", after, "--quiet"))
                .as("%s", tool.err)
                .isZero();

        try (Browser browser = Browser.start(false)) {
            browser.open(after.resolve("report.html"));
            List<List<String>> table = table(after);
            for (int f = 4; f < table.get(0).size(); f++) {
                browser.choose(table.get(0).get(f));
                assertThat(shown(browser)).as(table.get(0).get(f)).isEqualTo(column(table, f));
            }

            browser.choose("residual.final");
            browser.select("compare", "other");
            browser.until("return state.compare === 'other' && el('histogram-title').textContent.includes('before')");
            List<List<String>> old = table(before);
            assertThat(shown(browser)).isEqualTo(column(old, old.get(0).indexOf("residual.final")));

            browser.el("moment").sendKeys(Keys.HOME);
            browser.until("return document.documentElement.dataset.shown === 'residual.final@0'");
            List<Double> course = Objects.requireNonNull(
                            NumpyArchive.read(after.resolve("snapshots.npz")).get("residual.final.npy"))
                    .values();
            List<?> first = (List<?>) browser.js("return [...shownValues]");
            for (int i = 0; i < first.size(); i++) {
                double value = ((Number) first.get(i)).doubleValue();
                assertThat(value).isCloseTo(course.get(i), within(1e-6 * Math.abs(value)));
            }
            assertThat(browser.console()).isEmpty();
        }
    }

    private static List<List<String>> table(Path results) throws IOException {
        List<List<String>> rows = new ArrayList<>();
        for (String line : Files.readAllLines(results.resolve("tiles.csv"))) {
            rows.add(List.of(line.split(",", -1)));
        }
        return rows;
    }

    /** Returns a column of the table in the digits that the page has; an empty text where there is no value. */
    private static List<String> column(List<List<String>> table, int column) {
        return table.stream()
                .skip(1)
                .map(row -> row.get(column))
                .map(cell -> cell.isEmpty()
                        ? ""
                        : String.valueOf(new BigDecimal(cell).round(SHOWN).doubleValue()))
                .toList();
    }

    private static List<String> shown(Browser browser) {
        List<?> values = (List<?>)
                browser.js("return [...shownValues].map(value => Number.isNaN(value) ? '' : value.toPrecision(6))");
        return values.stream()
                .map(String::valueOf)
                .map(text -> text.isEmpty() ? "" : String.valueOf(Double.parseDouble(text)))
                .toList();
    }
}
