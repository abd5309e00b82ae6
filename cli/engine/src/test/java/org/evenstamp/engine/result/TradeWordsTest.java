package org.evenstamp.engine.result;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TradeWordsTest {
    private static final String RESIDUAL = "residual.final residual layer under the protrusions when the pressing ends";
    private static final String TEAR = "release.tear work of the release over that which tears the feature";

    @ParameterizedTest
    @CsvSource({
        "RLT, true, false",
        "rl, true, false",
        "residual layer thickness, true, false",
        "demold, false, true",
        "demoulding tear, false, true",
        "final, true, false",
        "residual pressing, true, false",
        "RLT nonsense, false, false",
        "'', true, true"
    })
    void a_search_finds_things_under_the_words_of_the_trade(String query, boolean residual, boolean tear) {
        assertThat(TradeWords.fits(query, RESIDUAL)).isEqualTo(residual);
        assertThat(TradeWords.fits(query, TEAR)).isEqualTo(tear);
    }

    @Test
    void the_glossary_explains_every_word_and_names_every_synonym() throws IOException {
        String glossary = Files.readString(Path.of("../../docs/words.md")).toLowerCase(Locale.ROOT);
        TradeWords.all().forEach((word, synonyms) -> {
            assertThat(glossary).contains("**" + word);
            assertThat(synonyms).allSatisfy(synonym -> assertThat(glossary).contains(synonym.toLowerCase(Locale.ROOT)));
        });
    }
}
