package org.evenstamp.output.text;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class PlainTextTest {
    @ParameterizedTest
    @CsvSource({
        "a\u001b[31mb, a\\u001b[31mb",
        "a\u0000b, a\\u0000b",
        "a\u0007\u009b, a\\u0007\\u009b",
        "pay\u202egnp.exe, pay\\u202egnp.exe",
        "half \ud800 x, half \\ud800 x",
        "caf\u00e9 \u4e2d \ud83d\ude00, caf\u00e9 \u4e2d \ud83d\ude00"
    })
    void what_a_terminal_would_obey_is_shown_as_its_number(String text, String shown) {
        assertThat(PlainText.of(text)).isEqualTo(shown);
    }

    @Test
    void lines_become_one() {
        assertThat(PlainText.of(" one \n\n  two\r\nthree\n")).isEqualTo("one  two three");
    }

    @Test
    void long_input_is_cut_between_its_quotes_and_its_length_told() {
        String text =
                PlainText.cut("bad.yaml:3:4: \"" + "1".repeat(100_000) + "x\" is not a length (write \"250 nm\")");

        assertThat(text)
                .hasSizeLessThan(200)
                .startsWith("bad.yaml:3:4: \"1111")
                .endsWith(" ...\" (100001 characters) is not a length (write \"250 nm\")");
    }

    @Test
    void a_line_of_any_length_keeps_its_beginning_and_its_end() {
        String text = PlainText.cut("begin " + "\ud83d\ude00".repeat(50_000) + " end");

        assertThat(text).hasSizeLessThan(2000).startsWith("begin ").endsWith(" end");
        assertThat(PlainText.of(text)).isEqualTo(text);
    }
}
