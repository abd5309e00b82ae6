package org.evenstamp.output.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * Success criteria of the Web Content Accessibility Guidelines 2.2 (W3C Recommendation, 5 October 2023) that a page can be
 * asked about: contrast, reflow, labels and the reach of keys are measured by the tests beside this one.
 */
@Tag("slow")
class AccessibilityInBrowserTest extends PageInBrowser {
    /** Everything that takes the focus and can be seen. */
    private static final String CONTROLS = "const controls = [...document.querySelectorAll("
            + "'a[href], button, input, select, summary, [tabindex=\"0\"]')]"
            + ".filter(one => one.checkVisibility({visibilityProperty: true}) && !one.disabled && !one.closest('.skip'));";

    private static final String NAME = "const name = one => one.id || one.textContent.trim().slice(0, 30);";

    @BeforeEach
    void open() throws IOException {
        SamplePage sample = SamplePage.of(20, 15);
        open(sample.with(sample.field("residual.final", "nm", i -> (100 + i % 50) * 1e-9))
                .withFindings(3)
                .withPolygons(20));
    }

    /** 2.5.8: 24 by 24 pixels, or a circle of 24 pixels around its middle that meets no other such target; text links excepted. */
    @Test
    void what_is_to_be_clicked_is_large_enough_or_stands_alone() {
        assertThat((List<?>) browser.js(CONTROLS + NAME + """
                        const targets = controls.filter(one => !one.matches('a, #map')).map(one => {
                          const label = one.matches('input[type=checkbox], input[type=radio]') ? one.closest('label') : null;
                          const box = (label || one).getBoundingClientRect();
                          return {one, box, x: box.left + box.width / 2, y: box.top + box.height / 2};
                        });
                        const small = target => target.box.width < 24 || target.box.height < 24;
                        const near = (a, b) => {
                          const dx = Math.max(b.box.left - a.x, 0, a.x - b.box.right), dy = Math.max(b.box.top - a.y, 0, a.y - b.box.bottom);
                          return Math.hypot(dx, dy) < 12;
                        };
                        return targets.filter(a => small(a) && targets.some(b => b !== a && !a.one.contains(b.one) && !b.one.contains(a.one) && near(a, b)))
                          .map(a => name(a.one));
                        """)).isEmpty();
        assertThat(browser.number(CONTROLS + "return controls.length")).isGreaterThan(20);
    }

    /** 2.4.7 and 2.4.11: the focus is seen, and nothing lies over it. */
    @Test
    void the_focus_is_seen_on_every_control_and_not_hidden() {
        assertThat((List<?>) browser.js(CONTROLS + NAME + """
                        return controls.filter(one => {
                          one.focus({focusVisible: true});
                          one.scrollIntoView({block: 'nearest'});
                          const style = getComputedStyle(one), box = one.getBoundingClientRect();
                          const ringed = (style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 1) || style.boxShadow !== 'none';
                          const top = document.elementFromPoint(
                            Math.min(innerWidth - 1, box.left + box.width / 2), Math.min(innerHeight - 1, box.top + box.height / 2));
                          const shown = top && (one.contains(top) || top.contains(one) || (one.labels && [...one.labels].some(label => label.contains(top))));
                          return !ringed || !shown;
                        }).map(name);
                        """)).isEmpty();
    }

    /** 1.3.1, 2.4.2, 2.4.6, 3.1.1, 4.1.2: what a reader that is no eye goes by. */
    @Test
    void title_language_headings_and_references_are_in_order() {
        assertThat(browser.js("return document.documentElement.lang")).isEqualTo("en");
        assertThat(browser.js("return document.title")).asString().endsWith("· evenstamp report");
        assertThat(browser.number("return document.querySelectorAll('h1').length"))
                .isEqualTo(1);
        assertThat((List<?>) browser.js("const levels = [...document.querySelectorAll('h1, h2, h3, h4, h5, h6')]"
                        + ".map(one => Number(one.tagName[1]));"
                        + "return levels.filter((level, i) => i > 0 && level > levels[i - 1] + 1)"))
                .as("headings that skip a level")
                .isEmpty();
        assertThat((List<?>) browser.js("return [...document.querySelectorAll('h1, h2, h3')]"
                        + ".filter(one => one.checkVisibility() && !one.textContent.trim()).map(one => one.id)"))
                .as("empty headings")
                .isEmpty();
        assertThat((List<?>) browser.js("const ids = [...document.querySelectorAll('[id]')].map(one => one.id);"
                        + "return ids.filter((id, i) => ids.indexOf(id) !== i)"))
                .as("ids given twice")
                .isEmpty();
        assertThat((List<?>) browser.js(
                        "return [...document.querySelectorAll('[aria-describedby], [aria-labelledby], label[for], nav a')]"
                                + ".flatMap(one => [one.getAttribute('aria-describedby'), one.getAttribute('aria-labelledby'),"
                                + " one.getAttribute('for'), (one.getAttribute('href') || '').slice(1)])"
                                + ".filter(id => id && !document.getElementById(id))"))
                .as("references to nothing")
                .isEmpty();
        assertThat((List<?>) browser.js(CONTROLS + NAME
                        + "return controls.filter(one => !(one.getAttribute('aria-label') || one.title || one.textContent.trim()"
                        + " || (one.labels && one.labels.length))).map(name)"))
                .as("controls without a name")
                .isEmpty();
    }

    /** 2.4.1: the first stop of the tab key leads past the head of the page. */
    @Test
    void the_first_link_leads_to_the_map() {
        assertThat(browser.js(
                        "const first = document.querySelector('a, button, input'); return first.getAttribute('href')"))
                .isEqualTo("#map");
    }
}
