package org.evenstamp.output.file;

import static org.assertj.core.api.Assertions.assertThat;
import static org.evenstamp.output.file.PublishedSchemas.junitError;
import static org.evenstamp.output.file.PublishedSchemas.sarifErrors;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.StringReader;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import javax.xml.parsers.DocumentBuilderFactory;
import org.evenstamp.analysis.limit.RankedPlace;
import org.evenstamp.analysis.limit.Ranking;
import org.evenstamp.engine.result.Results;
import org.evenstamp.output.text.LimitText;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.spi.kit.Golden;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;
import org.xml.sax.InputSource;

class FindingsTest {
    private static final String HOSTILE = "a<b>&\"'\u0000\u0008\ufffe]]>\n\u2028</script>";

    private static Results sample(
            String name, List<Limit> limits, List<Finding.LimitBroken> broken, Map<String, String> skipped) {
        Results sample = SampleResults.results();
        Field nowhere = Field.of(FieldName.of("nowhere", "MPa", "has no value"), SampleResults.GRID, new double[] {
            Double.NaN, Double.NaN, Double.NaN, Double.NaN, Double.NaN, Double.NaN
        });
        return new Results(
                new Results.Provenance(sample.toolVersion(), name, sample.job(), sample.inputs(), sample.cautions()),
                sample.layout(),
                sample.fields().with(List.of(nowhere)),
                sample.analyses(),
                skipped,
                new Results.Verdict(limits, broken, List.of(), new Ranking(0, List.of())),
                List.of(
                        new Finding.Warning("balance", "balance.thin", name, new Place.WholeStamp()),
                        new Finding.Warning("balance", "balance.thin", "twice", new Place.Tile(0, 1, -1e-4, 1.5e-4))));
    }

    private static Element suite(Results results) throws Exception {
        return DocumentBuilderFactory.newInstance()
                .newDocumentBuilder()
                .parse(new InputSource(new StringReader(FindingsJunit.write(results))))
                .getDocumentElement();
    }

    @Test
    void the_limits_are_test_cases_of_the_published_form() {
        String xml = FindingsJunit.write(SampleResults.results());

        Golden.check("src/test/resources/golden/findings.junit.xml", xml);
        assertThat(junitError(xml)).isEmpty();
    }

    @Test
    void no_two_properties_of_the_test_report_have_one_name() throws Exception {
        NodeList properties =
                suite(sample("job", List.of(), List.of(), Map.of())).getElementsByTagName("property");
        List<String> names = new ArrayList<>();
        for (int i = 0; i < properties.getLength(); i++) {
            names.add(((Element) properties.item(i)).getAttribute("name"));
        }
        assertThat(names).doesNotHaveDuplicates().contains("warning balance.thin", "warning balance.thin 2");
    }

    @Test
    void the_findings_are_results_of_the_published_form() {
        String sarif = FindingsSarif.write(SampleResults.results());

        Golden.check("src/test/resources/golden/findings.sarif", sarif);
        assertThat(sarifErrors(sarif)).isEmpty();
    }

    @Test
    void the_schemas_refuse_what_is_not_of_their_form() {
        assertThat(sarifErrors("{\"version\": \"2.1.0\", \"runs\": [{}]}")).isNotEmpty();
        assertThat(sarifErrors(FindingsSarif.write(SampleResults.results()).replace("\"error\"", "\"grave\"")))
                .isNotEmpty();
        assertThat(junitError("<testsuite name=\"a\"/>")).isNotEmpty();
        assertThat(junitError(FindingsJunit.write(SampleResults.results()).replace("failure", "fault")))
                .isNotEmpty();
    }

    @Test
    void a_kept_limit_passes_a_broken_one_fails_and_one_without_any_value_is_skipped() throws Exception {
        Limit kept = new Limit("residual.local", Limit.Measure.MEAN, Limit.Side.AT_LEAST, 1e-8);
        Limit broken = new Limit("residual.local", Limit.Measure.EACH, Limit.Side.AT_MOST, 4e-7);
        Limit unknown = new Limit("nowhere", Limit.Measure.EACH, Limit.Side.AT_MOST, 1e6);
        Element suite = suite(sample(
                "job",
                List.of(kept, broken, unknown),
                List.of(new Finding.LimitBroken(broken, 5e-7, 2, new Place.Tile(1, 1, 0, 1.5e-4))),
                Map.of()));

        assertThat(List.of(
                        suite.getAttribute("tests"),
                        suite.getAttribute("failures"),
                        suite.getAttribute("skipped"),
                        suite.getAttribute("errors")))
                .containsExactly("3", "1", "1", "0");
        var cases = suite.getElementsByTagName("testcase");
        assertThat(((Element) cases.item(0)).getAttribute("name")).isEqualTo("residual.local mean >= 10 nm");
        assertThat(((Element) cases.item(0)).getElementsByTagName("*").getLength())
                .isZero();
        Element failure = (Element)
                ((Element) cases.item(1)).getElementsByTagName("failure").item(0);
        assertThat(failure.getAttribute("message"))
                .isEqualTo("found 500 nm at x 0 um, y 150 um (column 1, row 1), the worst of 2 tiles");
        assertThat(((Element) cases.item(2)).getElementsByTagName("skipped").getLength())
                .isOne();
    }

    @Test
    void what_does_not_break_a_limit_is_a_warning_or_a_note() throws IOException {
        JsonNode run = new ObjectMapper()
                .readTree(FindingsSarif.write(sample("job", List.of(), List.of(), Map.of("stress", "no modulus"))))
                .at("/runs/0");

        assertThat(run.at("/tool/driver/rules")).hasSize(2);
        assertThat(run.get("results"))
                .extracting(result -> result.get("level").asText() + " "
                        + result.get("ruleId").asText() + " "
                        + result.get("ruleIndex").asInt())
                .containsExactly("warning balance.thin 0", "warning balance.thin 0", "note analysis.skipped 1");
        assertThat(run.at("/results/1/locations/0/properties/x_um").asDouble()).isEqualTo(-100);
        assertThat(run.at("/results/1/locations/0/physicalLocation/artifactLocation/uri")
                        .asText())
                .isEqualTo("a.wkt");
    }

    @Test
    void an_index_above_1_that_the_job_does_not_limit_is_a_warning_and_other_places_are_related() throws Exception {
        Limit each = new Limit("residual.local", Limit.Measure.EACH, Limit.Side.AT_MOST, 1e-7);
        Limit index = new Limit("fill.time", Limit.Measure.EACH, Limit.Side.AT_MOST, 1);
        Place.Tile first = Place.Tile.of(SampleResults.GRID, 4);
        Place.Tile second = Place.Tile.of(SampleResults.GRID, 2);
        Results bare = sample("job", List.of(each), List.of(new Finding.LimitBroken(each, 5e-7, 5, first)), Map.of());
        Results results = ranked(
                bare,
                new Ranking(
                        4,
                        List.of(
                                place(index, 30, 5, "wait"),
                                place(each, 5, 4, "level it"),
                                place(each, 3, 2, "level it"),
                                place(index, 0.5, 0, "wait"))));
        JsonNode list =
                new ObjectMapper().readTree(FindingsSarif.write(results)).at("/runs/0/results");

        assertThat(sarifErrors(FindingsSarif.write(results))).isEmpty();
        assertThat(junitError(FindingsJunit.write(results))).isEmpty();
        assertThat(list.at("/0/message/text").asText()).endsWith("; would help: level it");
        assertThat(list.at("/0/relatedLocations")).hasSize(1);
        assertThat(list.at("/0/relatedLocations/0/message/text").asText())
                .isEqualTo("demand over capacity 3 at " + LimitText.place(second));
        assertThat(list.at("/1/ruleId").asText()).isEqualTo("index.exceeded");
        assertThat(list.at("/1/level").asText()).isEqualTo("warning");
        assertThat(list.at("/1/message/text").asText())
                .isEqualTo(
                        "fill.time is above 1, the limit of an index: found 30 s at x 100 um, y 150 um (column 2, row 1);"
                                + " would help: wait");
        assertThat(list).hasSize(4);
        assertThat(suite(results).getAttribute("failures")).isEqualTo("1");
    }

    private static RankedPlace place(Limit limit, double ratio, int tile, String help) {
        return new RankedPlace(
                limit,
                ratio,
                ratio * limit.boundSi(),
                limit.fieldId(),
                help,
                1,
                Place.Tile.of(SampleResults.GRID, tile));
    }

    private static Results ranked(Results results, Ranking ranking) {
        return new Results(
                results.provenance(),
                results.layout(),
                results.fields(),
                results.analyses(),
                results.skipped(),
                new Results.Verdict(results.limits(), results.broken(), List.of(), ranking),
                results.warnings());
    }

    @ParameterizedTest
    @CsvSource({"a.wkt, a.wkt", "a.wkt.gz, sample.yaml", "a.GZ, sample.yaml", "a.gz.wkt, a.gz.wkt"})
    void findings_on_a_packed_layout_point_at_the_job(String layout, String file) throws Exception {
        JsonNode run = new ObjectMapper()
                .readTree(FindingsSarif.write(SampleResults.results(layout)))
                .at("/runs/0");

        assertThat(run.at("/results")).isNotEmpty();
        for (JsonNode result : run.at("/results")) {
            JsonNode place = result.at("/locations/0/physicalLocation/artifactLocation");
            assertThat(place.at("/uri").asText()).isEqualTo(file);
            assertThat(run.at("/artifacts/" + place.at("/index").asInt() + "/location/uri")
                            .asText())
                    .isEqualTo(file);
            assertThat(result.at("/locations/0/logicalLocations")).isNotEmpty();
        }
    }

    @Test
    void hostile_names_stay_text() throws Exception {
        Results results = sample(HOSTILE, List.of(), List.of(), Map.of(HOSTILE, HOSTILE));

        assertThat(junitError(FindingsJunit.write(results))).isEmpty();
        assertThat(suite(results).getAttribute("name")).isEqualTo("a<b>&\"'\ufffd\ufffd\ufffd]]> \u2028</script>");
        assertThat(sarifErrors(FindingsSarif.write(results))).isEmpty();
        assertThat(new ObjectMapper()
                        .readTree(FindingsSarif.write(results))
                        .at("/runs/0/automationDetails/id")
                        .asText())
                .isEqualTo("evenstamp/" + HOSTILE + "/");
    }

    @ParameterizedTest
    @CsvSource({
        "layout.geojson.gz, layout.geojson.gz",
        "../a b/ä#1.wkt, ../a%20b/%C3%A4%231.wkt",
        "c:d.wkt, ./c:d.wkt",
        "/tmp/100% stamp.wkt, file:///tmp/100%25%20stamp.wkt"
    })
    void files_are_named_by_uris(String name, String uri) {
        assertThat(FindingsSarif.uri(name)).isEqualTo(uri);
    }
}
