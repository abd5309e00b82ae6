package org.evenstamp.output.page;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.SplittableRandom;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.evenstamp.output.file.ResultJson;
import org.evenstamp.output.text.ShortDecimal;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ReportPageTest {
    @TempDir
    Path directory;

    private String page(SamplePage sample, int threads) throws IOException {
        Path file = directory.resolve("report" + threads + ".html");
        ReportPage.write(file, sample.content(), threads);
        return Files.readString(file);
    }

    @Test
    void threads_do_not_change_a_byte() throws IOException {
        assertThat(page(SamplePage.of(30, 20).withFields(1).withPolygons(50), 1))
                .isEqualTo(page(SamplePage.of(30, 20).withFields(1).withPolygons(50), 3));
    }

    @Test
    void the_page_names_no_address_to_load_from() throws IOException {
        String page = page(SamplePage.of(3, 2).withFields(1), 1);

        assertThat(page).contains("default-src 'none'").doesNotContain("sourceMappingURL");
        assertThat(Pattern.compile("(?i)<(script|link|img|iframe|object|embed)\\b[^>]*\\b(src|href)=\"(?!data:)")
                        .matcher(page)
                        .find())
                .isFalse();
    }

    @Test
    void texts_of_a_user_never_become_markup() throws IOException {
        String page = page(
                SamplePage.of(3, 2).withWords(SamplePage.HOSTILE).withFields(1).withFindings(2), 1);

        assertThat(page).doesNotContain("<img").contains("&lt;/script&gt;&lt;img");
        Matcher result =
                Pattern.compile("id=\"result\">(.*?)</script>", Pattern.DOTALL).matcher(page);
        assertThat(result.find()).isTrue();
        assertThat(result.group(1)).doesNotContain("<");
        assertThat(new ObjectMapper().readTree(result.group(1)))
                .isEqualTo(new ObjectMapper()
                        .readTree(ResultJson.write(SamplePage.of(3, 2)
                                .withWords(SamplePage.HOSTILE)
                                .withFields(1)
                                .withFindings(2)
                                .content()
                                .results())));
    }

    @Test
    void numbers_are_those_of_the_tables_to_six_digits() {
        SplittableRandom random = new SplittableRandom(7);
        for (int i = 0; i < 200_000; i++) {
            double value = (random.nextDouble() - 0.5) * Math.pow(10, random.nextInt(-40, 40));
            BigDecimal table = new BigDecimal(ShortDecimal.of(value));
            assertThat(Packed.rounded(value))
                    .isEqualTo(table.round(new MathContext(6, RoundingMode.HALF_UP))
                            .doubleValue());
        }
        for (double value : List.of(0.0, 1.0, 999999.5, 9.999995, 99999949999.0, 1e22, 1e-22, 1e300, 4e-320)) {
            BigDecimal table = new BigDecimal(ShortDecimal.of(value));
            assertThat(Packed.rounded(value))
                    .isEqualTo(table.round(new MathContext(6, RoundingMode.HALF_UP))
                            .doubleValue());
        }
    }

    @Test
    void a_state_on_another_grid_is_refused() {
        SamplePage sample = SamplePage.of(3, 2).withFields(1);
        sample.withOther("other", SamplePage.of(2, 2).field("x", "nm", i -> 1));

        assertThatThrownBy(() -> page(sample, 1)).isInstanceOf(IllegalArgumentException.class);
    }
}
