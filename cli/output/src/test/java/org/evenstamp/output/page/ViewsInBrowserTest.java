package org.evenstamp.output.page;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.evenstamp.geometry.draw.Sketch;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Texture;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.shared.field.Field;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.interactions.Actions;

/** Cross-section, side by side, marked tiles, layers, addresses and files of the report, in a browser. */
@Tag("slow")
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class ViewsInBrowserTest {
    private Browser browser;
    private Path page;

    /** A stamp of 1 mm by 0.5 mm from x -1 mm, y 2 mm: an array, a deep cavity, lines too fine to draw and a dummy. */
    @BeforeAll
    void start(@TempDir Path directory) throws IOException {
        browser = Browser.start(false);
        SamplePage sample = SamplePage.of(10, 5);
        Field layer = sample.field("residual.final", "nm", i -> (50 + i % 10) * 1e-9);
        Field filled = sample.field("fill.share", "1", i -> 1);
        sample.with(sample.field("cavity.fraction", "1", i -> 0.5))
                .with(sample.field("cavity.volume", "nm", i -> 50e-9))
                .with(layer)
                .with(filled);
        Texture lines = new Texture(Texture.Kind.LINES, 0.5e-6, 0.2e-6, 0, Texture.Lattice.SQUARE);
        sample.with(outline(-0.95e-3, 0.04e-3, new Traits(null, null, new Repeat(3, 1, 50e-6, 0), null), 7))
                .with(outline(-0.75e-3, 0.04e-3, new Traits(230e-9, null, null, null), 8))
                .with(outline(-0.65e-3, 0.04e-3, new Traits(null, null, null, lines), 9))
                .with(outline(-0.55e-3, 0.04e-3, new Traits(null, Role.DUMMY, null, null), 10));
        sample.withSnapshotOf(sample.field("residual.final", "nm", i -> 250e-9), 0)
                .withSnapshotOf(layer, 2)
                .withSnapshotOf(sample.field("fill.share", "1", i -> 0.25), 0)
                .withSnapshotOf(filled, 2);
        page = directory.resolve("report.html");
        ReportPage.write(page, sample.content(), 2);
        browser.open(page);
    }

    /** A strip from a left edge in metres, so wide, over the whole height of the stamp. */
    private static Sketch.Outline outline(double left, double width, Traits traits, long line) {
        double[] ring = {left, 2e-3, left + width, 2e-3, left + width, 2.5e-3, left, 2.5e-3};
        return new Sketch.Outline(
                traits.texture() == null ? Sketch.Style.CAVITY : Sketch.Style.TEXTURE,
                List.of(ring),
                traits.repeat(),
                traits,
                line);
    }

    @AfterAll
    void stop() {
        if (browser != null) {
            browser.close();
        }
    }

    @AfterEach
    void nothing_complained() {
        assertThat(browser.console()).isEmpty();
    }

    private void open(String hash) {
        browser.driver.get("about:blank");
        browser.driver.get(page.toUri() + hash);
        browser.until("return document.documentElement.dataset.ready === 'yes'");
    }

    private void cut() {
        open("#field=residual.final&cut=-1000,2250,0,2250");
        browser.until("return plots.has(el('cut-plot')) && !el('section-box').hidden");
    }

    @Test
    void the_cross_section_has_the_cavities_of_the_layout_where_they_are() {
        cut();
        // in micrometres from the left rim: three copies 50 apart, 150 nm deep unless the feature says 230 (the page's
        // stamp: 100)
        assertThat(
                        browser.js(
                                "return relief.map(one => [one.from, one.to, one.depth, one.share].map(v => shown(v, 4)).join(':')).join(' ')"))
                .isEqualTo("50:90:100:1 100:140:100:1 150:190:100:1 250:290:230:1 350:390:100:0.4 450:490:100:1");
        assertThat(browser.js(
                        "const other = cavitiesAlong(stampMap.sketch, view.sketch.kinds, [[-700, 2500], [-700, 2000]], {depth: 100, cavity: false});"
                                + "return other.map(one => shown(one.to - one.from, 4)).join()"))
                .isEqualTo("");
        assertThat(browser.js(
                        "const slant = cavitiesAlong(stampMap.sketch, view.sketch.kinds, [[-1000, 2000], [-500, 2500]], {depth: 100, cavity: false});"
                                + "return slant.map(one => shown(one.to - one.from, 4)).join()"))
                .isEqualTo("56.57,56.57,56.57,56.57,56.57,56.57"); // 40 um across at 45 degrees
    }

    @Test
    void the_cross_section_is_that_of_the_time_shown() {
        cut();
        assertThat(browser.text("section-title")).contains("at the end of the press");
        assertThat(film()).isEqualTo("50,1");
        browser.js("el('moment').value = 0; el('moment').dispatchEvent(new Event('input'))");
        browser.until("return el('section-title').textContent.includes('at 0')");
        assertThat(film()).isEqualTo("250,0.25");
    }

    private Object film() {
        browser.js(
                "window.film = null; filmNow().then(film => { window.film = [film.layer[0], film.filled[0]].join(); })");
        browser.until("return window.film !== null");
        return browser.js("return window.film");
    }

    @Test
    void heights_in_the_cross_section_are_to_scale_and_the_factor_is_true() throws IOException {
        cut();
        // On an SVG drawn by hand: 100 um of way on 200 pixels, a cavity 100 nm deep in a layer of 50 nm, half filled.
        Map<?, ?> drawn = (Map<?, ?>) browser.js("""
                const shapes = [], paper = {shape: (points, fill, alpha) => shapes.push({points, fill, alpha}), line() {}, text() {}};
                const nodes = [{start: 0, end: 100, way: 50, layer: 50, filled: 0.5}];
                const factor = drawSection(paper, [{from: 20, to: 60, depth: 100, share: 1}], nodes, [0, 100], {left: 0, right: 200, top: 0, bottom: 150},
                  {base: 'base', film: 'film', stamp: 'stamp', empty: 'empty', ink: 'ink', soft: 'soft'});
                const span = shape => [Math.min(...shape.points.map(p => p[0])), Math.max(...shape.points.map(p => p[0])),
                  Math.max(...shape.points.map(p => p[1])) - Math.min(...shape.points.map(p => p[1]))];
                const layer = span(shapes.find(one => one.fill === 'film')), empty = span(shapes.find(one => one.fill === 'empty'));
                const full = span(shapes.filter(one => one.fill === 'film')[1]);
                return {factor, left: empty[0], right: empty[1], layer: layer[2], empty: empty[2], full: full[2] - 0.7};
                """);
        double layer = value(drawn, "layer");
        assertThat(value(drawn, "left")).isEqualTo(40);
        assertThat(value(drawn, "right")).isEqualTo(120);
        assertThat(value(drawn, "empty")).isCloseTo(2 * layer, within(1e-9));
        assertThat(value(drawn, "full")).isCloseTo(layer, within(1e-9));
        assertThat(value(drawn, "factor")).isCloseTo((layer / 50e-9) / (200 / 100e-6), within(1e-6));
    }

    private static double value(Map<?, ?> map, String key) {
        return ((Number) java.util.Objects.requireNonNull(map.get(key))).doubleValue();
    }

    @Test
    void files_leave_the_page_as_picture_table_and_drawing() {
        cut();
        browser.js(
                "window.saved = {}; saveAs = (name, blob) => blob.text().then(text => { saved[name] = blob.type + ' ' + text; })");
        for (String id :
                List.of("save-map", "save-histogram", "save-cut", "save-cut-csv", "save-section", "save-tiles")) {
            browser.js("el(arguments[0]).click()", id);
        }
        browser.until("return Object.keys(saved).length === 6");
        String name = "evenstamp-residual.final-";
        for (String picture : List.of("map.png", "distribution.png", "cut.png")) {
            assertThat(saved(name + picture)).startsWith("image/png ").contains("PNG");
        }
        assertThat(saved(name + "section.svg"))
                .startsWith("image/svg+xml <svg xmlns=\"http://www.w3.org/2000/svg\"")
                .contains("The stamp in cross-section");
        assertThat(saved(name + "cut.csv"))
                .contains("from_um,to_um,column,row,residual.final (nm)\n0,100,0,2,50\n100,200,1,2,51\n");
        // The driver hands line ends over as plain ones.
        assertThat(browser.js("return String(saved[arguments[0]].split('\\r\\n').length)", name + "cut.csv"))
                .isEqualTo("12");
        assertThat(saved(name + "tiles.csv").lines()).hasSize(51).contains("9,4,-50,2450,59");
    }

    private String saved(String name) {
        return String.valueOf(browser.js("return saved[arguments[0]] || ''", name));
    }

    @Test
    void the_address_brings_the_view_back() {
        open("");
        browser.choose("residual.final");
        browser.select("beside", "fill.share");
        browser.js("el('moment').value = 0; el('moment').dispatchEvent(new Event('input'))");
        browser.until("return document.documentElement.dataset.shown === 'residual.final@0'");
        browser.el("cut").click();
        browser.until("return plots.has(el('cut-plot'))");
        browser.js("stampMap.setCut([[-900, 2100], [-200, 2400]]); stampMap.whole = false;"
                + "stampMap.view.setCenter([-600, 2200]); stampMap.view.setResolution(0.5); stampMap.map.renderSync()");
        browser.until("return location.hash.includes('view=-600,2200') && location.hash.includes('cut=-900,2100')");
        String hash = String.valueOf(browser.js("return location.hash"));
        assertThat(hash).contains("field=residual.final", "time=0", "beside=fill.share");

        open(hash);
        assertThat(browser.js("return document.documentElement.dataset.shown")).isEqualTo("residual.final@0");
        assertThat(browser.js("return state.beside + ' ' + state.cut.flat().join()"))
                .isEqualTo("fill.share -900,2100,-200,2400");
        assertThat(browser.js("return stampMap.view.getCenter().join()")).isEqualTo("-600,2200");
        assertThat(browser.number("return stampMap.view.getResolution()")).isCloseTo(0.5, within(1e-6));
    }

    @Test
    void an_address_that_asks_for_what_is_not_there_shows_the_page_as_it_is() {
        open("#field=no.such&time=many&view=1,2&cut=a,b,c,d&tile=99,99&beside=<img src=x>&lengths=mile");

        assertThat(browser.js("return state.field")).isEqualTo("residual.final");
        assertThat(browser.js("return String(state.cut) + state.beside + state.lengths"))
                .isEqualTo("null");
        assertThat(browser.driver.findElements(By.tagName("img"))).isEmpty();
    }

    @Test
    void a_second_field_stands_beside_moves_along_and_is_read_too() {
        open("#field=residual.final&beside=fill.share");
        assertThat(browser.el("map-beside").isDisplayed()).isTrue();
        assertThat(browser.js("return String(besideMap.view === stampMap.view)"))
                .isEqualTo("true");
        browser.near(3, 2);
        browser.pointAt(3, 2);
        assertThat(browser.text("readout")).contains("53", "fill.share 1");
        assertThat(browser.js("return String(besideMap.cursor.getGeometry().getExtent())"))
                .isEqualTo(browser.js("return String(stampMap.cursor.getGeometry().getExtent())"));
    }

    @Test
    void tiles_of_a_stretch_of_the_distribution_are_marked() {
        open("#field=residual.final");
        browser.js("brush([52.5, 54.5])");
        assertThat(browser.text("brush-text")).contains("10 tiles from 52.5");
        String marked = "const d = stampMap.marked.getContext('2d').getImageData(0, 0, 10, 5).data; let n = 0;"
                + "for (let i = 3; i < d.length; i += 4) n += d[i] > 0; return n";
        assertThat(browser.number(marked)).isEqualTo(10);
        browser.el("brush-clear").click();
        assertThat(browser.number(marked)).isZero();

        browser.js("el('histogram').scrollIntoView({block: 'center'})");
        var over = browser.driver.findElement(By.cssSelector("#histogram .u-over"));
        int half = over.getSize().width / 2;
        new Actions(browser.driver)
                .moveToElement(over, -half + 2, 0)
                .clickAndHold()
                .moveByOffset(half, 0)
                .release()
                .perform();
        browser.until("return state.brush !== null");
        assertThat(browser.number("return state.chosen.length")).isBetween(20.0, 30.0);
    }

    @Test
    void the_polygon_under_the_pointer_is_told_with_what_it_carries() {
        open("#field=residual.final");
        assertThat(under(-930, 2250)).isEqualTo("cavity, 100\u202fnm deep, one of 3 copies, line 7 of the layout");
        assertThat(under(-830, 2250)).isEqualTo(under(-930, 2250));
        assertThat(under(-905, 2250)).isEmpty();
        assertThat(under(-730, 2250)).isEqualTo("cavity, 230\u202fnm deep, line 8 of the layout");
        assertThat(under(-640, 2250))
                .isEqualTo("texture, 100\u202fnm deep, lines, pitch 0.5 µm, width 0.2 µm, line 9 of the layout");
        assertThat(under(-540, 2250)).startsWith("dummy, 100");
        browser.near(2, 2);
        int[] at = browser.pixelOf(2, 2);
        new Actions(browser.driver).moveToLocation(at[0] + 6, at[1]).perform(); // 20 um beside its rim
        browser.until("return el('under') && el('under').textContent.includes('230')");
        assertThat(browser.text("readout")).contains("pointer x");
    }

    private String under(double x, double y) {
        return String.valueOf(browser.js(
                "const p = polygonAt(stampMap.sketch, arguments[0], arguments[1]); return p < 0 ? '' : polygonText(stampMap.sketch, p, view.sketch)",
                x,
                y));
    }

    @Test
    void layers_are_shown_by_what_they_are() {
        open("");
        browser.until("return el('drawn').textContent.includes('6 polygons')");
        browser.driver.findElement(By.cssSelector("#layers summary")).click();
        assertThat(browser.text("layer-list")).contains("cavities", "textures", "dummies");
        browser.driver
                .findElement(By.cssSelector("#layer-list input[data-layer='0']"))
                .click();
        browser.until("return el('drawn').textContent.includes('2 polygons')");
    }

    @Test
    void thin_lengths_can_be_read_in_micrometres() {
        open("#field=residual.final&tile=7,0");
        assertThat(browser.data("readout", "value")).isEqualTo("57");
        browser.select("lengths", "um");
        browser.until("return el('readout').dataset.value === '0.057'");
        assertThat(browser.text("numbers")).contains("0.05\u202fµm");
        assertThat(browser.text("readout")).contains("0.057\u202fµm");
        browser.select("lengths", "");
        browser.until("return el('readout').dataset.value === '57'");
    }

    @Test
    void the_states_play_from_the_first_to_the_result() {
        open("#field=residual.final");
        browser.el("play").click();
        browser.until("return document.documentElement.dataset.shown === 'residual.final@0'");
        browser.until("return document.documentElement.dataset.shown === 'residual.final'");
        browser.until("return el('play').getAttribute('aria-pressed') === 'false'");
        assertThat(browser.js("return el('change').getAttribute('aria-label')"))
                .asString()
                .contains("most from 0", "to 2");
    }

    @Test
    void ticks_of_an_axis_differ_and_a_logarithmic_one_has_powers_of_ten() {
        open("");
        assertThat(browser.js("return apart([399.99, 399.995, 400]).join()")).isEqualTo("399.99,399.995,400");
        assertThat(
                        browser.js(
                                "return powers(null, [1, 2, 3, 5, 7, 10, 20, 50, 100, 200, 1000]).filter(v => v !== null).join()"))
                .isEqualTo("1,10,100,1000");
    }
}
