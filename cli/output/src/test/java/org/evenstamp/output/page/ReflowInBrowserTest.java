package org.evenstamp.output.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The report at the widths of phones, tablets, screens and paper: nothing lies on top of anything else, nothing is cut off. */
@Tag("slow")
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class ReflowInBrowserTest {
    /**
     * The boxes of all pieces of text and of all controls, cut to what their scrolling parents show; pairs that share more than
     * a pixel of width and height are returned. What lies over the map on purpose, and the insides of plots, are left out.
     */
    private static final String OVERLAPS = """
            const skip = '#map, #map-beside, .uplot, #ramp-marks, .sheet, .skip, script, style, noscript, option';
            const boxes = [];
            const visible = element => element.checkVisibility({visibilityProperty: true});
            const cutTo = (box, element) => {
              let {left, top, right, bottom} = box;
              for (let parent = element.parentElement; parent; parent = parent.parentElement) {
                if (getComputedStyle(parent).overflowX !== 'visible') {
                  const outer = parent.getBoundingClientRect();
                  left = Math.max(left, outer.left); right = Math.min(right, outer.right);
                  top = Math.max(top, outer.top); bottom = Math.min(bottom, outer.bottom);
                }
              }
              return right - left > 1 && bottom - top > 1 ? {left, top, right, bottom} : null;
            };
            const add = (element, box, text) => {
              const seen = cutTo(box, element);
              if (seen) boxes.push({element, text, ...seen});
            };
            const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT | NodeFilter.SHOW_ELEMENT);
            while (walk.nextNode()) {
              const node = walk.currentNode, element = node.nodeType === 3 ? node.parentElement : node;
              if (element.closest(skip) || !visible(element) || element.closest('nav')) continue;
              if (node.nodeType === 3) {
                if (!node.textContent.trim() || element.closest('select')) continue;
                const range = document.createRange();
                range.selectNodeContents(node);
                for (const box of range.getClientRects()) add(element, box, node.textContent.trim());
              } else if (element.matches('input, select, canvas, #maps')) {
                add(element, element.getBoundingClientRect(), element.id || element.tagName);
              }
            }
            const wrong = [];
            for (let i = 0; i < boxes.length; i++) {
              for (let j = i + 1; j < boxes.length && wrong.length < 10; j++) {
                const a = boxes[i], b = boxes[j];
                if (a.element === b.element || a.element.contains(b.element) || b.element.contains(a.element)) continue;
                if (Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 3) {
                  wrong.push(a.text.slice(0, 40) + ' | ' + b.text.slice(0, 40));
                }
              }
            }
            return wrong;
            """;

    /** What reaches beyond the right rim, and does not scroll within a box of its own. */
    private static final String TOO_WIDE = """
            return [...document.body.querySelectorAll('*')].filter(element => element.checkVisibility()
              && !element.closest('#map, #map-beside, .uplot, .sheet, .skip') && element.getBoundingClientRect().right > innerWidth + 1
              && ![...(function* () { for (let p = element.parentElement; p; p = p.parentElement) yield p; })()]
                   .some(parent => getComputedStyle(parent).overflowX !== 'visible'))
              .map(element => element.tagName + '#' + element.id + '.' + element.className).slice(0, 8)
            """;

    private Browser browser;

    @BeforeAll
    void start(@TempDir Path directory) throws IOException {
        browser = Browser.start(false);
        SamplePage sample = SamplePage.of(40, 30);
        var field = sample.field("residual.final", "nm", i -> (100 + 60 * Math.sin(i * 0.37)) * 1e-9);
        sample.with(field)
                .with(sample.field("cavity.fraction", "1", i -> 0.5))
                .with(sample.field("fill.share", "1", i -> i % 5 == 0 ? 0.7 : 1))
                .with(sample.field("a.field.with.quite.a.long.name", "um", i -> 12345.678e-6 * i))
                .withFindings(3)
                .withPolygons(60)
                .withSnapshots(0, 0.5)
                .withSnapshotOf(field, 2)
                .withOther("before", sample.field("fill.share", "1", i -> 1));
        Path file = directory.resolve("report.html");
        ReportPage.write(file, sample.content(), 2);
        browser.open(file);
        browser.el("cut").click();
        browser.until("return plots.has(el('cut-plot')) && !el('section-box').hidden");
    }

    @AfterAll
    void stop() {
        if (browser != null) {
            browser.close();
        }
    }

    private void width(int width, int height, double scale) {
        browser.driver.executeCdpCommand(
                "Emulation.setDeviceMetricsOverride",
                Map.of("width", width, "height", height, "deviceScaleFactor", scale, "mobile", false));
        browser.until("return innerWidth === arguments[0]", width);
        browser.js("document.querySelectorAll('details:not(.drop)').forEach(one => { one.open = true; })");
        browser.js(
                "window.settled = false; requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(() => { settled = true; }, 200)))");
        browser.until("return window.settled");
    }

    @ParameterizedTest
    @ValueSource(ints = {320, 360, 390, 480, 600, 736, 740, 820, 1024, 1180, 1190, 1280, 1400, 1700, 1920, 2560})
    void nothing_overlaps_and_nothing_sticks_out(int width) {
        width(width, 900, 1);

        assertThat((List<?>) browser.js(TOO_WIDE)).isEmpty();
        assertThat(browser.number("return document.documentElement.scrollWidth"))
                .isLessThanOrEqualTo(width);
        assertThat((List<?>) browser.js(OVERLAPS)).isEmpty();
    }

    /** 1.4.12 of the Web Content Accessibility Guidelines 2.2: lines 1.5 times the letters high, letters and words set apart. */
    @ParameterizedTest
    @ValueSource(ints = {390, 1280})
    void text_that_is_set_wider_apart_overlaps_nothing(int width) {
        browser.js("const style = document.createElement('style'); style.id = 'apart'; style.textContent ="
                + " '* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important }"
                + " p { margin-bottom: 2em !important }'; document.head.append(style)");
        try {
            width(width, 900, 1);

            assertThat(browser.number("return document.documentElement.scrollWidth"))
                    .isLessThanOrEqualTo(width);
            assertThat((List<?>) browser.js(OVERLAPS)).isEmpty();
        } finally {
            browser.js("el('apart').remove()");
        }
    }

    @Test
    void at_twice_the_size_the_page_reads_like_a_narrow_one() {
        width(640, 400, 2); // what a window of 1280 x 800 is at 200 %

        assertThat(browser.number("return document.documentElement.scrollWidth"))
                .isLessThanOrEqualTo(640);
        assertThat((List<?>) browser.js(OVERLAPS)).isEmpty();
    }

    @ParameterizedTest
    @CsvSource({"390, 844", "1280, 800", "2560, 1300"})
    void the_whole_stamp_stays_in_sight_when_the_page_changes_its_size(int width, int height) {
        width(width, height, 1);

        assertThat(browser.js("const seen = stampMap.view.calculateExtent(stampMap.map.getSize());"
                        + "return String(ol.extent.containsExtent(seen, stampMap.extent))"))
                .isEqualTo("true");
        assertThat(
                        browser.number(
                                "const [width, height] = stampMap.map.getSize(), r = stampMap.view.getResolution();"
                                        + "const [x0, y0, x1, y1] = stampMap.extent; return Math.max((x1 - x0) / r / width, (y1 - y0) / r / height)"))
                .as("share of the map that the stamp takes")
                .isGreaterThan(0.75);
    }

    @Test
    void map_and_findings_stand_above_the_fold() {
        width(1280, 800, 1);
        browser.js("scrollTo(0, 0)");

        assertThat(browser.number("return el('map').getBoundingClientRect().bottom"))
                .isLessThan(800);
        assertThat(browser.number("return el('map').getBoundingClientRect().height"))
                .isGreaterThan(400);
        assertThat(browser.number("return el('findings').getBoundingClientRect().bottom"))
                .isLessThan(800);
        assertThat(browser.number("return el('findings').getBoundingClientRect().left"))
                .isGreaterThan(browser.number("return el('map').getBoundingClientRect().right"));
    }

    @Test
    void on_paper_the_map_takes_the_whole_width_and_no_words_collide() {
        width(1280, 800, 1);
        browser.driver.executeCdpCommand("Emulation.setEmulatedMedia", Map.of("media", "print"));
        try {
            width(720, 1000, 1);
            browser.js("printing(true)");
            browser.js("window.settled = false; setTimeout(() => { settled = true; }, 300)");
            browser.until("return window.settled");
            assertThat((List<?>) browser.js(OVERLAPS)).isEmpty();
            assertThat(browser.number("return el('map').getBoundingClientRect().width"))
                    .isGreaterThan(0.98 * browser.number("return document.querySelector('main').clientWidth"));
            assertThat(browser.text("readout")).doesNotContain("Point at");
            assertThat(browser.el("brush-line").isDisplayed()).isFalse();
        } finally {
            browser.js("printing(false)");
            browser.driver.executeCdpCommand("Emulation.setEmulatedMedia", Map.of("media", ""));
        }
    }

    @Test
    void controls_stand_out_from_their_surroundings_by_three_to_one() {
        for (String look : List.of("light", "dark")) {
            browser.select("theme", look);
            List<?> ratios = (List<?>) browser.js("""
                            const light = colour => {
                              const [r, g, b] = colour.match(/[0-9.]+/g).slice(0, 3).map(v => v / 255)
                                .map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
                              return 0.2126 * r + 0.7152 * g + 0.0722 * b;
                            };
                            const contrast = (a, b) => (Math.max(light(a), light(b)) + 0.05) / (Math.min(light(a), light(b)) + 0.05);
                            const paper = getComputedStyle(document.body).backgroundColor;
                            return [...document.querySelectorAll('.bar > button, .bar select, nav select, .colours > input, #filter, #find, .drop > summary, #play')]
                              .filter(one => one.checkVisibility()).map(one => contrast(getComputedStyle(one).borderTopColor, paper));
                            """);
            assertThat(ratios)
                    .hasSizeGreaterThan(10)
                    .allSatisfy(ratio ->
                            assertThat(((Number) ratio).doubleValue()).isGreaterThanOrEqualTo(3)); // WCAG 2.2, 1.4.11
            List<?> texts = (List<?>) browser.js("""
                            const light = colour => {
                              const [r, g, b] = colour.match(/[0-9.]+/g).slice(0, 3).map(v => v / 255)
                                .map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
                              return 0.2126 * r + 0.7152 * g + 0.0722 * b;
                            };
                            const contrast = (a, b) => (Math.max(light(a), light(b)) + 0.05) / (Math.min(light(a), light(b)) + 0.05);
                            const paperOf = element => {
                              for (let e = element; e; e = e.parentElement) {
                                const own = getComputedStyle(e).backgroundColor;
                                if (!/, 0\\)$/.test(own)) return own;
                              }
                              return 'rgb(255,255,255)';
                            };
                            return [...document.querySelectorAll('p, dt, dd, th, td, button, a, li span, h1, h2, h3, caption, label, strong, summary')]
                              .filter(one => one.checkVisibility() && one.textContent.trim() && !one.closest('.uplot, #map'))
                              .map(one => [contrast(getComputedStyle(one).color, paperOf(one)), one.tagName + ' ' + one.textContent.slice(0, 20)])
                              .filter(([ratio]) => ratio < 4.5).map(([ratio, text]) => ratio.toFixed(2) + ' ' + text);
                            """);
            assertThat(texts).isEmpty(); // WCAG 2.2, 1.4.3
        }
        browser.select("theme", "light");
    }

    @Test
    void every_picture_has_a_name_every_table_a_caption_and_every_control_a_label() {
        assertThat((List<?>)
                        browser.js("return [...document.querySelectorAll('canvas')].filter(one => one.checkVisibility()"
                                + " && !one.closest('#map, #map-beside') && !(one.getAttribute('role') === 'img' && one.getAttribute('aria-label')))"
                                + ".map(one => one.id || one.parentElement.className)"))
                .isEmpty();
        assertThat((List<?>) browser.js("return [...document.querySelectorAll('table:not(.u-legend)')]"
                        + ".filter(one => !one.caption || !one.caption.textContent).map(one => one.id)"))
                .isEmpty();
        assertThat((List<?>) browser.js(
                        "return [...document.querySelectorAll('input, select')].filter(one => !one.labels.length"
                                + " && !one.getAttribute('aria-label')).map(one => one.id)"))
                .isEmpty();
    }
}
