package org.evenstamp.output.page;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.evenstamp.output.file.TilesCsv;
import org.evenstamp.shared.field.FieldSet;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.interactions.Actions;

/** The report in a real browser: values, fields, colours, keys, cuts and looks. */
@Tag("slow")
class ReportInBrowserTest extends PageInBrowser {
    private static final MathContext SHOWN = new MathContext(6, RoundingMode.HALF_UP);

    /** Returns the cells of tiles.csv, a list a row, the heading first. */
    private List<List<String>> table(FieldSet fields) throws IOException {
        Path file = directory.resolve("tiles" + pages + ".csv");
        TilesCsv.write(file, fields);
        List<List<String>> rows = new ArrayList<>();
        for (String line : Files.readAllLines(file)) {
            rows.add(List.of(line.split(",", -1)));
        }
        return rows;
    }

    private static double shown(String cell) {
        return new BigDecimal(cell).round(SHOWN).doubleValue();
    }

    @Test
    void the_value_under_the_pointer_is_that_of_the_table() throws IOException {
        List<List<String>> table =
                table(open(SamplePage.of(40, 30).withFields(3).withFindings(2)));
        List<String> heading = table.get(0);
        for (int f = 4; f < heading.size(); f++) {
            browser.choose(heading.get(f));
            for (int tile : f == 4 ? new int[] {0, 39, 40, 617, 1160, 1199} : new int[] {3, 618}) {
                int column = tile % 40;
                int row = tile / 40;
                browser.near(column, row);
                browser.pointAt(column, row);

                List<String> cells = table.get(1 + tile);
                assertThat(browser.data("readout", "column")).isEqualTo(cells.get(0));
                assertThat(browser.data("readout", "row")).isEqualTo(cells.get(1));
                assertThat(Double.parseDouble(browser.data("readout", "x")))
                        .isCloseTo(Double.parseDouble(cells.get(2)), within(1e-6));
                assertThat(Double.parseDouble(browser.data("readout", "y")))
                        .isCloseTo(Double.parseDouble(cells.get(3)), within(1e-6));
                String value = browser.data("readout", "value");
                if (cells.get(f).isEmpty()) {
                    assertThat(value).isEmpty();
                    assertThat(browser.text("readout")).contains("no value");
                } else {
                    assertThat(Double.parseDouble(value)).isEqualTo(shown(cells.get(f)));
                    String[] shownText = browser.driver
                            .findElement(By.cssSelector("#readout .value"))
                            .getText()
                            .split("[\\s\\u202f]", 2);
                    assertThat(Double.parseDouble(shownText[0].replace('−', '-')))
                            .isEqualTo(shown(cells.get(f)));
                }
            }
        }
    }

    @Test
    void every_tile_of_every_field_has_the_number_of_the_table() throws IOException {
        List<List<String>> table = table(open(SamplePage.of(25, 17).withFields(5)));
        for (int f = 4; f < table.get(0).size(); f++) {
            browser.choose(table.get(0).get(f));
            List<?> values = (List<?>)
                    browser.js(
                            "return [...shownValues].map(value => Number.isNaN(value) ? '' : String(Number(value.toPrecision(6))))");
            for (int i = 0; i < values.size(); i++) {
                String cell = table.get(1 + i).get(f);
                String value = String.valueOf(values.get(i));
                assertThat(value.isEmpty()).isEqualTo(cell.isEmpty());
                if (!cell.isEmpty()) {
                    assertThat(Double.parseDouble(value)).isEqualTo(shown(cell));
                }
            }
        }
    }

    @Test
    void a_single_tile_and_a_single_column_are_maps_too() throws IOException {
        List<List<String>> one = table(open(SamplePage.of(1, 1).withFields(1).withPolygons(1)));
        browser.pointAt(0, 0);
        assertThat(Double.parseDouble(browser.data("readout", "value")))
                .isEqualTo(shown(one.get(1).get(4)));
        browser.choose("pressure.peak");
        browser.el("cut").click();
        browser.until("return el('cut-title').textContent.includes('pressure.peak')");

        List<List<String>> column =
                table(open(SamplePage.of(1, 500).withFields(1).withPolygons(10)));
        browser.near(0, 499);
        browser.pointAt(0, 499);
        assertThat(Double.parseDouble(browser.data("readout", "value")))
                .isEqualTo(shown(column.get(500).get(4)));
    }

    @Test
    void a_million_tiles_and_many_polygons_stay_fluid() throws IOException {
        SamplePage sample = SamplePage.of(1000, 1000).withPolygons(200_000);
        sample.with(sample.field("residual.final", "nm", i -> 1e-9 * i));
        open(sample);
        browser.near(999, 998);
        browser.pointAt(999, 998);
        assertThat(Double.parseDouble(browser.data("readout", "value"))).isEqualTo(998_999);
        browser.el("fit").click();

        // Written down for the page on performance; a test asserts no time.
        double paint = browser.number("return performance.getEntriesByName('first-contentful-paint')[0].startTime");
        double colours = browser.number("const t = performance.now(); repaint(); return performance.now() - t");
        // The hardest view: most polygons just large enough to be drawn.
        browser.js("stampMap.view.setResolution(90); stampMap.map.renderSync()");
        double redraw =
                browser.number("const t = performance.now(); stampMap.polygons.changed(); stampMap.tiles.changed();"
                        + "stampMap.map.renderSync(); return performance.now() - t");
        double pan = browser.number("const t = performance.now(); for (let i = 0; i < 20; i++) {"
                + "const c = stampMap.view.getCenter(); stampMap.view.beginInteraction();"
                + "stampMap.view.setCenter([c[0] + stampMap.view.getResolution(), c[1]]); stampMap.map.renderSync(); }"
                + "for (let i = 0; i < 20; i++) stampMap.view.endInteraction();"
                + "return (performance.now() - t) / 20");
        Path figures = Files.createDirectories(Path.of("target")).resolve("report-figures.txt");
        Files.writeString(
                figures,
                String.format(
                        Locale.ROOT,
                        "1000 x 1000 tiles, 200000 polygons: first paint %.0f ms, new colours %.0f ms, new picture %.0f ms,"
                                + " a frame of a pan %.1f ms; %s%n",
                        paint,
                        colours,
                        redraw,
                        pan,
                        browser.text("drawn")));
        assertThat(browser.text("drawn")).contains("200,007 polygons this page holds the largest 200,000");
    }

    @Test
    void first_paint_of_an_ordinary_page_is_written_down() throws IOException {
        SamplePage sample = SamplePage.of(256, 256).withPolygons(100_000).withFindings(3);
        for (int f = 0; f < 44; f++) {
            int n = f;
            sample.with(sample.field(
                    f == 0 ? "residual.final" : "field.n" + f, "nm", i -> 1e-7 * Math.sin(i * 0.001 * (n + 1))));
        }
        for (int s = 0; s < 12; s++) {
            sample.withSnapshots(s);
            int n = s;
            sample.withSnapshotOf(sample.field("field.n1", "nm", i -> 1e-7 * Math.sin(i * 0.003 + n)), s);
        }
        Path file = directory.resolve("ordinary.html");
        PageContent content = sample.content();
        long begin = System.nanoTime();
        long processor = processorNanos();
        ReportPage.write(file, content, 2);
        double written = (System.nanoTime() - begin) * 1e-9;
        double busy = (processorNanos() - processor) * 1e-9;
        browser.open(file);
        Path figures = Files.createDirectories(Path.of("target")).resolve("report-figures-256.txt");
        Files.writeString(
                figures,
                String.format(
                        Locale.ROOT,
                        "256 x 256 tiles, 44 fields, 12 states of two of them, 100000 polygons: written in %.2f s (%.2f processor seconds), %.1f MB,"
                                + " first paint %.0f ms, loaded %.0f ms%n",
                        written,
                        busy,
                        Files.size(file) / 1e6,
                        browser.number("return performance.getEntriesByName('first-contentful-paint')[0].startTime"),
                        browser.number(
                                "return performance.getEntriesByType('navigation')[0].domContentLoadedEventEnd")));
        assertThat(Files.size(file)).isLessThan(15_000_000L);
    }

    private static long processorNanos() {
        return ManagementFactory.getOperatingSystemMXBean() instanceof com.sun.management.OperatingSystemMXBean machine
                ? machine.getProcessCpuTime()
                : 0;
    }

    @Test
    void the_list_of_fields_filters_and_chooses() throws IOException {
        open(SamplePage.of(10, 10).withFields(1));
        WebElement filter = browser.el("filter");

        filter.sendKeys("fill");
        assertThat(browser.driver.findElements(By.cssSelector("#field option"))).hasSize(1);
        filter.clear();
        filter.sendKeys(Keys.SPACE, Keys.BACK_SPACE);
        assertThat(browser.driver.findElements(By.cssSelector("#field option"))).hasSize(5);
        browser.el("field").sendKeys(Keys.ARROW_DOWN);
        browser.until("return document.documentElement.dataset.shown === 'fill.time'");
        assertThat(browser.text("meaning")).startsWith("meaning of fill.time");
        assertThat(browser.text("numbers")).contains("tiles with a value");
        browser.driver
                .findElement(By.cssSelector("#table tr[data-field='volume.surplus'] button"))
                .click();
        browser.until("return document.documentElement.dataset.shown === 'volume.surplus'");
    }

    @Test
    void the_colour_bar_takes_a_range_and_refuses_what_is_none() throws IOException {
        SamplePage sample = SamplePage.of(10, 1);
        open(sample.with(sample.field("a", "nm", i -> i * 1e-9)));
        String pixel = "const d = stampMap.picture.getContext('2d').getImageData(arguments[0], 0, 1, 1).data;"
                + "return [d[0], d[1], d[2]].join()";
        String darkest = "68,1,84";
        String lightest = "253,231,37";

        assertThat(browser.js(pixel, 0)).isEqualTo(darkest);
        assertThat(browser.js(pixel, 9)).isEqualTo(lightest);
        assertThat(browser.js(pixel, 4)).isNotEqualTo(darkest);
        browser.type(browser.el("low"), "5");
        assertThat(browser.js(pixel, 4)).isEqualTo(darkest);
        browser.type(browser.el("high"), "6,0");
        assertThat(browser.js(pixel, 7)).isEqualTo(lightest);
        browser.type(browser.el("high"), "many");
        assertThat(browser.js("return String(el('high').hasAttribute('aria-invalid'))"))
                .isEqualTo("true");
        assertThat(browser.number("return state.high")).isEqualTo(6);
        browser.el("range-reset").click();
        assertThat(browser.js("return [state.low, state.high].join()")).isEqualTo("0,9");
        assertThat(browser.js("return String(el('high').hasAttribute('aria-invalid'))"))
                .isEqualTo("false");
        browser.type(browser.el("low"), "3");
        browser.el("range-all").click();
        assertThat(browser.js("return [state.low, state.high].join()")).isEqualTo("0,9");
    }

    @Test
    void tiles_beyond_a_limit_and_without_a_value_are_hatched() throws IOException {
        SamplePage sample = SamplePage.of(3, 1);
        open(sample.with(sample.field("residual.final", "nm", i -> i == 0 ? Double.NaN : i == 1 ? 60e-9 : 200e-9))
                .withFindings(1));
        String alpha = "return stampMap[arguments[0]].getContext('2d').getImageData(arguments[1], 0, 1, 1).data[3]";

        assertThat(browser.number(alpha, "unknown", 0)).isEqualTo(255);
        assertThat(browser.number(alpha, "mask", 1)).isEqualTo(255);
        assertThat(browser.number(alpha, "mask", 2)).isZero();
        String colours =
                "const c = document.createElement('canvas'); c.width = 24; c.height = 24; const g = c.getContext('2d');"
                        + "const [x, y] = stampMap.centreOf({column: 1, row: 0});"
                        + "stampMap.drawTiles(g, [x - 40, y - 40, x + 40, y + 40], 0.3, 1);"
                        + "return new Set(new Uint32Array(g.getImageData(0, 0, 24, 24).data.buffer)).size";
        assertThat(browser.number(colours)).isGreaterThan(2);
        browser.el("hatch").click();
        assertThat(browser.number(colours)).isEqualTo(1);
    }

    @Test
    void zoom_pan_and_the_tile_cursor_work_by_keys_and_buttons() throws IOException {
        open(SamplePage.of(40, 40).withFields(1).withPolygons(100));
        double whole = browser.number("return stampMap.view.getResolution()");

        browser.el("zoom-in").click();
        browser.until("return !stampMap.view.getAnimating()");
        assertThat(browser.number("return stampMap.view.getResolution()")).isCloseTo(whole / 2, within(whole * 0.01));
        browser.el("zoom-out").click();
        browser.until("return !stampMap.view.getAnimating()");
        browser.press("+");
        browser.until(
                "return !stampMap.view.getAnimating() && stampMap.view.getResolution() < arguments[0]", whole * 0.9);
        browser.press("-");
        browser.until(
                "return !stampMap.view.getAnimating() && stampMap.view.getResolution() > arguments[0]", whole * 0.9);
        double x = browser.number("return stampMap.view.getCenter()[0]");
        browser.press(Keys.ARROW_RIGHT);
        browser.until("return !stampMap.view.getAnimating() && stampMap.view.getCenter()[0] > arguments[0]", x);
        browser.press("0");
        assertThat(browser.number("return stampMap.view.getCenter()[0]")).isCloseTo(x, within(1e-6));
        browser.el("zoom-in").click();
        browser.until("return !stampMap.view.getAnimating()");
        browser.el("fit").click();
        assertThat(browser.number("return stampMap.view.getResolution()")).isCloseTo(whole, within(1e-9));

        browser.press(Keys.chord(Keys.SHIFT, Keys.ARROW_RIGHT));
        String first = browser.data("map", "tile");
        browser.press(Keys.chord(Keys.SHIFT, Keys.ARROW_RIGHT));
        browser.press(Keys.chord(Keys.SHIFT, Keys.ARROW_UP));
        int column = Integer.parseInt(first.substring(0, first.indexOf(',')));
        int row = Integer.parseInt(first.substring(first.indexOf(',') + 1));
        assertThat(browser.data("map", "tile")).isEqualTo((column + 1) + "," + (row + 1));
    }

    @Test
    void the_tab_key_reaches_every_control_in_reading_order() throws IOException {
        open(SamplePage.of(10, 10).withFields(1).withFindings(2));
        browser.js("document.activeElement.blur(); window.focused = []; document.addEventListener('focusin',"
                + " event => { if (event.target.id) window.focused.push(event.target.id); })");
        for (int i = 0; i < 30; i++) {
            new Actions(browser.driver).sendKeys(Keys.TAB).perform();
        }

        assertThat((List<?>) browser.js("return window.focused"))
                .extracting(String::valueOf)
                .containsSubsequence(
                        "theme",
                        "print",
                        "filter",
                        "field",
                        "zoom-in",
                        "zoom-out",
                        "fit",
                        "outlines",
                        "hatch",
                        "cut",
                        "map",
                        "low",
                        "high",
                        "range-reset",
                        "range-all");
    }

    @Test
    void polygons_are_drawn_or_not_as_chosen() throws IOException {
        open(SamplePage.of(10, 10).withFields(1).withPolygons(25).withArray());

        assertThat(browser.text("drawn")).startsWith("31 polygons in this view");
        browser.select("outlines", "off");
        browser.until("return !el('drawn').textContent.includes('in this view')");
        for (String look : List.of("dark", "light", "auto")) {
            browser.select("outlines", look);
            browser.until("return el('drawn').textContent.startsWith('31 polygons')");
        }
        List<?> corner = (List<?>) browser.js("const s = stampMap.sketch;"
                + "return [s.xy[2 * s.ringEnd[s.count - 2]], s.xy[2 * s.ringEnd[s.count - 2] + 1]]");
        assertThat(((Number) corner.get(0)).doubleValue()).isCloseTo(-1000, within(1e-6));
        assertThat(((Number) corner.get(1)).doubleValue()).isCloseTo(2000, within(1e-6));
    }

    @Test
    void a_line_cut_shows_the_tiles_it_crosses_and_its_ends_can_be_moved() throws IOException {
        SamplePage sample = SamplePage.of(10, 10);
        open(sample.with(sample.field("a", "nm", i -> i * 1e-9)));
        browser.el("cut").click();
        browser.until("return plots.has(el('cut-plot'))");
        assertThat(browser.js("return plots.get(el('cut-plot')).plot.data[1].join()"))
                .isIn("50,51,52,53,54,55,56,57,58,59,59", "40,41,42,43,44,45,46,47,48,49,49");

        List<WebElement> ends = browser.driver.findElements(By.cssSelector("#ends input"));
        double[] wanted = {-950, 2050, -950, 2950};
        for (int i = 0; i < 4; i++) {
            browser.type(ends.get(i), String.valueOf(wanted[i]));
        }
        browser.until("return plots.get(el('cut-plot')).plot.data[1].join() === '0,10,20,30,40,50,60,70,80,90,90'");

        int[] from = browser.pixelOf(0, 0);
        int[] to = browser.pixelOf(5, 0);
        new Actions(browser.driver, Duration.ofMillis(50))
                .moveToLocation(from[0], from[1])
                .clickAndHold()
                .moveToLocation((from[0] + to[0]) / 2, from[1])
                .moveToLocation(to[0], to[1])
                .release()
                .perform();
        browser.until("return Math.abs(state.cut[0][0] + 450) < 5 && Math.abs(state.cut[1][0] + 950) < 5");
        browser.press("l");
        browser.until("return el('cut-figure').hidden && el('cut').getAttribute('aria-pressed') === 'false'");
    }

    @Test
    void the_distribution_counts_every_tile_and_marks_limits() throws IOException {
        open(SamplePage.of(20, 20).withFields(1).withFindings(1));
        String counted = "return plots.get(el('histogram')).plot.data[1].reduce((a, b) => a + (b || 0), 0)";

        assertThat(browser.number(counted)).isEqualTo(400);
        browser.el("log-count").click();
        assertThat(browser.number(counted)).isEqualTo(400);
        browser.choose("fill.time");
        assertThat(browser.number(counted))
                .isEqualTo(400 - browser.number("return shownValues.filter(Number.isNaN).length"));
    }

    @Test
    void hostile_texts_are_shown_as_texts() throws IOException {
        open(SamplePage.of(5, 4)
                .withWords(SamplePage.HOSTILE)
                .withFields(1)
                .withFindings(2)
                .withPolygons(2));

        assertThat(browser.driver.getTitle()).contains("</script>");
        assertThat(browser.driver.findElements(By.cssSelector("img"))).isEmpty();
        assertThat(browser.driver.findElement(By.tagName("h1")).getText()).startsWith("</script><img src=x");
        assertThat(browser.text("notes")).contains("</script><img src=x onerror=");
        assertThat(browser.text("job-text")).contains("</script><img src=x");
        assertThat(browser.driver.findElements(By.cssSelector("#curves .uplot")))
                .hasSize(2);
    }

    @Test
    void the_look_changes_and_the_page_prints() throws IOException {
        open(SamplePage.of(10, 10).withFields(1).withFindings(2));
        String paper = "return getComputedStyle(document.body).backgroundColor";
        Object light = browser.js(paper);

        browser.select("theme", "dark");
        assertThat(browser.js(paper)).isNotEqualTo(light);
        browser.select("theme", "light");
        assertThat(browser.js(paper)).isEqualTo(light);
        browser.select("theme", "dark");
        browser.js("window.print = () => { window.asked = true; }");
        browser.el("print").click();
        assertThat(browser.js("return String(window.asked)")).isEqualTo("true");
        assertThat(browser.printed()).isGreaterThan(20_000);
        assertThat(browser.js("return document.documentElement.dataset.theme")).isEqualTo("dark");
        assertThat(browser.js("return String(document.documentElement.dataset.printing)"))
                .isEqualTo("undefined");
    }

    @Test
    void curves_stand_with_their_unit_and_can_be_logarithmic() throws IOException {
        open(SamplePage.of(5, 4).withFields(1));

        List<WebElement> figures = browser.driver.findElements(By.cssSelector("#curves figure"));
        assertThat(figures).hasSize(2);
        String points =
                "return [...plots.values()].map(one => one.plot).filter(plot => plot.root.closest('#curves'))[0].data[0].join()";
        assertThat(browser.js(points)).isEqualTo("0.5,1,700");
        WebElement log = figures.get(0).findElement(By.cssSelector("input"));
        log.click();
        assertThat(browser.js(points)).isEqualTo("0,0.5,1,700");
    }
}
