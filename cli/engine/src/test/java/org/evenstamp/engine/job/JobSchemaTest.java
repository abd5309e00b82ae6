package org.evenstamp.engine.job;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.dataformat.yaml.YAMLFactory;
import com.networknt.schema.Error;
import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.shared.spi.kit.Golden;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class JobSchemaTest {
    private static String ours() {
        return JobSchema.write(JobVocabulary.of(new Pipeline(AnalysisFinder.find(List.of()))));
    }

    private static List<Error> errors(String schema, String yaml) throws IOException {
        Schema validator = SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                .getSchema(schema);
        String json = new ObjectMapper().writeValueAsString(new ObjectMapper(new YAMLFactory()).readTree(yaml));
        return validator.validate(json, InputFormat.JSON);
    }

    @Test
    void the_published_schema_is_that_of_our_analyses() {
        Golden.check("src/main/resources/org/evenstamp/engine/job/job.schema.json", ours());
        Golden.check("../../docs/job.schema.json", ours());
    }

    @Test
    void the_starter_job_is_valid() throws IOException {
        Path starter = Path.of("../tool/src/main/resources/org/evenstamp/tool/command/starter/job.yaml");
        assertThat(errors(ours(), Files.readString(starter))).isEmpty();
    }

    @Test
    void keys_of_plug_ins_are_in_the_schema() throws IOException {
        String schema = JobSchema.write(JobVocabulary.of(SampleAnalysis.pipeline()));

        assertThat(errors(schema, """
                        layout: {file: a, outline: {min: [0 mm, 0 mm], max: [1 mm, 1 mm]}}
                        stamp: {depth: 150nm}
                        film: {share: 0.5, kind: liquid}
                        process: {steps: [{time: 1 s}]}
                        limits: {film.left: {each: [">= 1 nm", "<= 2 nm"]}}
                        """)).isEmpty();
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "film: {thickness: 200}",
                "film: {thickness: \"200\"}",
                "film: {thicknes: \"200 nm\"}",
                "film: {kind: solid}",
                "process: {steps: [{pressure: 1 MPa}]}",
                "limits: {film.lefd: {each: \"<= 1 nm\"}}",
                "limits: {film.left: {each: \"1 nm\"}}",
                "nonsense: {}"
            })
    void what_the_reader_refuses_by_form_the_schema_refuses_too(String addition) throws IOException {
        String schema = JobSchema.write(JobVocabulary.of(SampleAnalysis.pipeline()));

        assertThat(errors(schema, "layout: {file: a}\nstamp: {depth: 1 nm}\n" + addition))
                .isNotEmpty();
    }
}
