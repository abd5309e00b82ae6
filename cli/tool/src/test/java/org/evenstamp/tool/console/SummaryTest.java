package org.evenstamp.tool.console;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import org.evenstamp.output.file.SampleResults;
import org.evenstamp.shared.spi.kit.Golden;
import org.junit.jupiter.api.Test;

class SummaryTest {
    private static Console console(boolean colour) {
        return new Console(new PrintWriter(new StringWriter()), new PrintWriter(new StringWriter()), colour, false);
    }

    @Test
    void a_run_fits_one_screen() {
        String text = Summary.of(SampleResults.results(), "out", console(false));

        Golden.check("src/test/resources/golden/summary.txt", text);
        assertThat(text.lines()).hasSizeLessThan(40);
    }

    @Test
    void colours_change_nothing_but_the_looks() {
        String plain = Summary.of(SampleResults.results(), null, console(false));
        String coloured = Summary.of(SampleResults.results(), null, console(true));

        assertThat(plain).doesNotContain("\u001b");
        assertThat(coloured).contains("\u001b[31m");
        assertThat(coloured.replaceAll("\u001b\\[[0-9]+m", "")).isEqualTo(plain);
    }
}
