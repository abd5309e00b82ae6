package org.evenstamp.output.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;

/** What to look at, in a browser: limits, warnings and extreme tiles with their places. */
@Tag("slow")
class FindingsInBrowserTest extends PageInBrowser {
    @Test
    void without_findings_the_page_says_so() throws IOException {
        open(SamplePage.of(5, 4).withFields(1));

        assertThat(browser.text("verdict")).contains("No limits set");
        assertThat(browser.text("findings")).contains("no limits");
        assertThat(browser.driver.findElements(By.cssSelector("#findings button[data-number]")))
                .isEmpty();
    }

    @Test
    void limits_that_are_kept_are_said_to_be_kept() throws IOException {
        open(SamplePage.of(5, 4).withFields(1).withLimitKept());

        assertThat(browser.text("verdict")).contains("Within the limit");
        assertThat(browser.text("findings")).contains("every limit is kept");
        assertThat(browser.number("return stampMap.marks.getFeatures().length")).isZero();
        assertThat(browser.driver
                        .findElement(By.cssSelector("#table tr[data-field='residual.final'] .limits"))
                        .getText())
                .endsWith("✓");
    }

    @Test
    void a_warning_leads_to_its_tile() throws IOException {
        open(SamplePage.of(20, 10).withFields(1));

        browser.driver.findElement(By.cssSelector("#notes button")).click();
        browser.until("return el('map').dataset.tile === '19,9' && !stampMap.view.getAnimating()");
        assertThat(browser.data("readout", "row")).isEqualTo("9");
    }

    @Test
    void findings_have_places_by_their_share_of_what_breaks_the_limit() throws IOException {
        // 40 x 30 tiles of 200 nm; the limit is at least 90 nm. Three tiles in the lower left lack 30 nm each, two in
        // the
        // upper right 40 and 20 nm: 60 % and 40 % of what is lacking.
        SamplePage sample = SamplePage.of(40, 30);
        open(sample.with(sample.field("residual.final", "nm", i -> switch (i) {
                    case 41, 42, 81 -> 60e-9;
                    case 1000 + 38 -> 50e-9;
                    case 1000 + 39 -> 70e-9;
                    default -> 200e-9;
                }))
                .with(sample.field("fill.time", "s", i -> i))
                .withFindings(1)
                .withPolygons(1));
        browser.choose("fill.time");
        List<WebElement> places = browser.driver.findElements(By.cssSelector("#findings button[data-number]"));

        assertThat(places).hasSize(2);
        assertThat(browser.text("findings")).startsWith("residual.final ≥ 90");
        assertThat(places.get(0).getText())
                .contains("1", "60 % of it, lower left", "3 tiles, worst 60", "column 1, row 1");
        assertThat(places.get(1).getText())
                .contains("2", "40 % of it", "right", "2 tiles, worst 50", "column 38, row 25");
        places.get(1).click();

        browser.until("return document.documentElement.dataset.shown === 'residual.final'");
        browser.until("return el('map').dataset.tile === '38,25'");
        browser.until("return !stampMap.view.getAnimating()");
        assertThat(browser.data("readout", "column")).isEqualTo("38");
        assertThat(browser.js("return stampMap.view.getCenter().map(Math.round).join()"))
                .isEqualTo(browser.js("return stampMap.centreOf({column: 38, row: 25}).map(Math.round).join()"));
        assertThat(browser.number("return stampMap.marks.getFeatures().length")).isEqualTo(2);
        browser.type(browser.el("find"), "60 % of it");
        assertThat(places.get(0).isDisplayed()).isTrue();
        assertThat(places.get(1).isDisplayed()).isFalse();
    }

    @Test
    void limits_on_spread_and_sigma_have_places_too() throws IOException {
        SamplePage sample = SamplePage.of(10, 10);
        open(sample.with(sample.field("a", "nm", i -> i == 0 ? 130e-9 : i == 99 ? 80e-9 : 100e-9)));

        // A span of 20 nm that holds most tiles leaves the tile of 130 nm out by 10 (80 to 100) and 80 nm by nothing,
        // or
        // the other way round: both hold 99 tiles, the lower comes first.
        String places = "const limit = {field: 'a', measure: arguments[0], side: '<=', bound: arguments[1]};"
                + "return clustersOf(excessOf(limit, shownValues), 10, 10)"
                + ".map(one => one.worst + ':' + one.tiles.length + ':' + shown(one.share, 3)).join(' ')";
        assertThat(browser.js(places, "spread", 20)).isEqualTo("0:1:1");
        assertThat(browser.js(places, "spread", 10)).isEqualTo("0:1:0.5 99:1:0.5") /* 100 to 110: 20 each */;
        // mean 100.1 nm, variance 12.99 nm²: shares 29.9² : 20.1² of what both make
        assertThat(browser.js(places, "sigma3", 9)).isEqualTo("0:1:0.689 99:1:0.311");
        assertThat(browser.js(places, "mean", 100)).isEqualTo("0:1:1");
    }

    @Test
    void a_click_on_a_place_near_its_limit_flies_there() throws IOException {
        open(SamplePage.of(20, 10).withFields(1));
        browser.choose("fill.time");

        WebElement place = browser.driver.findElement(By.cssSelector("#findings button[data-rank]"));
        assertThat(place.getText()).contains("95 %", "60", "column 19, row 9", "helps: plain", "right");
        place.click();
        browser.until("return document.documentElement.dataset.shown === 'residual.final'");
        browser.until("return el('map').dataset.tile === '19,9' && !stampMap.view.getAnimating()");
    }

    @Test
    void extreme_tiles_are_in_order_and_lead_to_their_place() throws IOException {
        SamplePage sample = SamplePage.of(10, 10);
        open(sample.with(sample.field("a", "nm", i -> ((i * 37) % 100) * 1e-9)));

        browser.driver.findElement(By.cssSelector(".extremes summary")).click();
        List<WebElement> low = browser.driver.findElements(By.cssSelector("#ranked button"));
        assertThat(low).hasSize(20);
        assertThat(low.get(0).getText()).startsWith("0").contains("column 0, row 0");
        browser.select("rank", "high");
        WebElement highest = browser.driver.findElement(By.cssSelector("#ranked button"));
        assertThat(highest.getText()).startsWith("99");
        assertThat(browser.number("return document.querySelectorAll('#ranked button[tabindex=\"0\"]').length"))
                .isEqualTo(1); // one stop of Tab
        highest.sendKeys(Keys.ARROW_DOWN);
        assertThat(browser.js("return document.activeElement.textContent"))
                .asString()
                .startsWith("98");
        highest.click();
        browser.until("return !stampMap.view.getAnimating()");
        assertThat(browser.data("readout", "value")).isEqualTo("99");
    }
}
