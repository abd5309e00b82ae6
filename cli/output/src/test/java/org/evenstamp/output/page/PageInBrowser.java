package org.evenstamp.output.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.evenstamp.shared.field.FieldSet;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;

/** Opens pages from disk in a real browser, with no network to reach, and sees after every test that none was asked for. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
abstract class PageInBrowser {
    @TempDir
    Path directory;

    Browser browser;
    int pages;

    @BeforeAll
    void start() {
        browser = Browser.start(false);
    }

    @AfterAll
    void stop() {
        if (browser != null) {
            browser.close();
        }
    }

    @AfterEach
    void nothing_was_asked_of_a_network_and_nothing_complained() {
        assertThat((List<?>) browser.js("return performance.getEntriesByType('resource').map(entry => entry.name)"
                        + ".filter(name => !name.startsWith('data:') && !name.startsWith('blob:'))"))
                .isEmpty();
        assertThat(browser.console()).isEmpty();
        assertThat(browser.js("return String(window.harmed)")).isEqualTo("undefined");
    }

    FieldSet open(SamplePage sample) throws IOException {
        Path file = directory.resolve("report" + pages++ + ".html");
        PageContent content = sample.content();
        ReportPage.write(file, content, 2);
        browser.open(file);
        return content.results().fields();
    }
}
