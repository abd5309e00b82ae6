package org.evenstamp.output.file;

import static org.assertj.core.api.Assertions.assertThat;
import static org.evenstamp.output.file.PublishedSchemas.resultErrors;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ResultSchemaTest {
    private static final String RESULT = ResultJson.write(SampleResults.results());

    @Test
    void the_sample_keeps_to_the_published_schema() {
        assertThat(resultErrors(RESULT)).isEmpty();
    }

    @Test
    void the_schema_is_that_of_the_version_written() throws IOException {
        JsonNode schema = new ObjectMapper()
                .readTree(Path.of("../../docs/result.schema.json").toFile());

        assertThat(schema.at("/properties/schema/const").asInt()).isEqualTo(ResultJson.SCHEMA_VERSION);
        assertThat(schema.get("title").asText()).endsWith("form " + ResultJson.SCHEMA_VERSION);
    }

    @Test
    void nothing_that_is_written_may_be_left_out() throws IOException {
        ObjectMapper mapper = new ObjectMapper();
        List<String> members = new ArrayList<>();
        mapper.readTree(RESULT).fieldNames().forEachRemaining(members::add);

        for (String member : members) {
            ObjectNode less = (ObjectNode) mapper.readTree(RESULT);
            less.remove(member);
            assertThat(resultErrors(less.toString())).as(member).isNotEmpty();
        }
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', textBlock = """
            "schema" : 2           | "schema" : 1
            "limit exceeded"       | "perhaps"
            "side" : "<="          | "side" : "<"
            "measure" : "spread"   | "measure" : "width"
            "bound" : 20           | "bound" : "20 nm"
            "tiles" : 6            | "tiles" : 6.5
            "known" : 6            | "known" : 0
            "sigma" : 162.92087    | "deviation" : 162.92087
            "whole stamp"          | "somewhere"
            "file" : "a.wkt"       | "file" : 1
            "bytes" : 12           | "bytes" : -12
            """)
    void another_form_is_refused(String written, String changed) {
        assertThat(RESULT).contains(written);

        assertThat(resultErrors(RESULT.replace(written, changed))).isNotEmpty();
    }
}
