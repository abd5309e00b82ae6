package org.evenstamp.output.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;

/** States in time, regions and another run beside it, in a browser. */
@Tag("slow")
class StatesInBrowserTest extends PageInBrowser {
    @Test
    void the_time_slider_shows_the_states_in_order() throws IOException {
        open(SamplePage.of(10, 10).withFields(1).withSnapshots(0, 0.5, 2));

        assertThat(browser.el("time").isDisplayed()).isTrue();
        assertThat(browser.text("moment-shown")).isEqualTo("result");
        WebElement slider = browser.el("moment");
        slider.sendKeys(Keys.HOME);
        browser.until("return document.documentElement.dataset.shown === 'residual.final@0'");
        browser.near(7, 1);
        browser.pointAt(7, 1);
        assertThat(browser.data("readout", "value")).isEqualTo("101.7");
        slider.sendKeys(Keys.ARROW_RIGHT);
        browser.until("return document.documentElement.dataset.shown === 'residual.final@1'");
        assertThat(browser.text("moment-shown")).startsWith("0.5");
        assertThat(browser.data("readout", "value")).isEqualTo("151.7");
        browser.choose("fill.time");
        assertThat(browser.el("time").isDisplayed()).isFalse();
    }

    @Test
    void the_last_place_of_the_time_slider_is_the_field_itself() throws IOException {
        SamplePage sample = SamplePage.of(10, 10);
        var field = sample.field("residual.final", "nm", i -> 1e-7 + 1e-9 * i);
        open(sample.with(field)
                .withSnapshots(0, 0.5)
                .withSnapshotOf(field, 2)
                .withOther("before", sample.field("residual.final", "nm", i -> 0)));
        WebElement slider = browser.el("moment");

        assertThat(slider.getDomProperty("max")).isEqualTo("2");
        assertThat(browser.text("moment-shown")).startsWith("2").endsWith("the result");
        browser.near(7, 1);
        browser.pointAt(7, 1);
        assertThat(browser.data("readout", "value")).isEqualTo("117");
        slider.sendKeys(Keys.ARROW_LEFT);
        browser.until("return document.documentElement.dataset.shown === 'residual.final@1'");
        assertThat(browser.data("readout", "value")).isEqualTo("151.7");
        assertThat(browser.text("histogram-title")).contains("residual.final at 0.5");
        slider.sendKeys(Keys.END);
        browser.until("return document.documentElement.dataset.shown === 'residual.final'");
        assertThat(browser.data("readout", "value")).isEqualTo("117");

        browser.select("compare", "difference");
        browser.until("return document.documentElement.dataset.shown === 'residual.final difference'");
        slider.sendKeys(Keys.HOME);
        browser.until("return document.documentElement.dataset.shown === 'residual.final@0'");
        assertThat(browser.el("compare").getDomProperty("value")).isEqualTo("this");
        assertThat(browser.js("return [state.low, state.high].join()")).isEqualTo("100,199");
        browser.select("compare", "other");
        browser.until("return document.documentElement.dataset.shown === 'residual.final'");
        assertThat(browser.data("readout", "value")).isEqualTo("0");
        assertThat(slider.getDomProperty("value")).isEqualTo("2");
    }

    @Test
    void the_residual_layer_stands_by_region() throws IOException {
        SamplePage sample = SamplePage.of(3, 1);
        open(sample.with(sample.field("residual.final", "nm", i -> (100 + 10 * i) * 1e-9)));

        assertThat(browser.driver.findElements(By.cssSelector("#regions tbody tr")))
                .extracting(WebElement::getText)
                .containsExactly(
                        "land 0.015 50 % 3 110 100 120 24.495",
                        "cavities 100 to 150\u202fnm deep 0.015 50 % 3 110 100 120 24.495",
                        "role dummy 0.015 50 % 3 110 100 120 24.495");

        SamplePage measured = SamplePage.of(3, 1);
        open(measured.with(measured.field("cavity.fraction", "1", i -> 0.5)));
        assertThat(browser.driver.findElements(By.id("regions"))).isEmpty();
    }

    @Test
    void another_run_and_the_difference_can_be_shown() throws IOException {
        SamplePage sample = SamplePage.of(10, 10);
        sample.with(sample.field("a", "nm", i -> i * 1e-9)).with(sample.field("b", "nm", i -> 1e-9));
        open(sample.withOther("before", sample.field("a", "nm", i -> 2 * i * 1e-9)));

        browser.near(3, 0);
        browser.pointAt(3, 0);
        assertThat(browser.data("readout", "value")).isEqualTo("3");
        browser.select("compare", "other");
        browser.until("return el('readout').dataset.value === '6'");
        browser.select("compare", "difference");
        browser.until("return el('readout').dataset.value === '-3'");
        assertThat(browser.js("return [state.low, state.high].join()")).isEqualTo("-99,99");
        browser.choose("b");
        assertThat(browser.el("compare").isEnabled()).isFalse();
    }
}
