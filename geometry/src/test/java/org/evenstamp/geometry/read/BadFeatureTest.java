package org.evenstamp.geometry.read;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.List;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Features whose syntax is right and whose shape or properties are not: counted, named, skipped or mended. */
class BadFeatureTest {

    private static final String GOOD = "POLYGON ((0 0, 1 0, 1 1, 0 0))\n";

    @TempDir
    private Path directory;

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "POLYGON ((0 0, 1 0, 1 1, 0 1))|layout.open-ring",
                "POLYGON ((0 0, 1 0, 0 0))|layout.few-vertices",
                "POLYGON ((0 0, 0 0, 0 0, 0 0))|layout.few-vertices",
                "POLYGON ((0 0, 3 0, 3 3, 0 0), (1 1, 1 1))|layout.few-vertices",
                "POLYGON ((0 0, 2 2, 2 0, 0 2, 0 0))|layout.self-crossing",
                "POLYGON ((0 0, 4 0, 4 4, 2 0, 0 4, 0 0))|layout.self-crossing",
                "POLYGON ((0 0, 4 0, 4 4, 2 4, 2 6, 2 4, 0 4, 0 0))|layout.self-crossing",
                "POLYGON ((0 0, 1 1, 2 2, 0 0))|layout.zero-area",
                "POLYGON ((0.1 0.3, 0.2 0.6, 0.7 2.1, 0.3 0.9, 0.1 0.3))|layout.zero-area",
                "POLYGON ((0 0, NaN 0, 1 1, 0 0))|layout.not-finite",
                "POLYGON ((0 0, 1 0, 1 -Infinity, 0 0))|layout.not-finite",
                "POLYGON ((0 0, 1e999 0, 1 1, 0 0))|layout.not-finite",
                "POLYGON ((0 0, 1e300 0, 1 1, 0 0))|layout.out-of-range",
                "POLYGON ((0 0, 1e308 0, 1e308 1e308, 0 0))|layout.out-of-range",
                "POLYGON ((0 0, 1000001 0, 1 1, 0 0))|layout.out-of-range",
                "POLYGON ((0 0, 9 0, 9 9, 0 9, 0 0), (20 20, 21 20, 21 21, 20 20))|layout.hole-outside",
                "POLYGON ((0 0, 9 0, 9 9, 0 9, 0 0), (8 8, 10 8, 10 10, 8 8))|layout.rings-overlap",
                "POLYGON ((0 0, 9 0, 9 9, 0 9, 0 0), (1 1, 8 1, 8 8, 1 8, 1 1), (2 2, 3 2, 3 3, 2 2))|layout.rings-overlap",
                "POLYGON EMPTY|layout.empty-geometry",
                "MULTIPOLYGON EMPTY|layout.empty-geometry",
                "GEOMETRYCOLLECTION EMPTY|layout.empty-geometry",
                "CURVEPOLYGON (CIRCULARSTRING (0 0, 4 0, 4 4, 0 4, 0 0))|layout.unsupported-kind"
            })
    void is_counted_under_its_code_and_place_and_skipped(String wkt, String code) {
        Reading reading = Reading.of(directory, GOOD + "\n  " + wkt + "\n" + GOOD, Reading.METRES);
        ReadReport report = reading.report();
        assertThat(reading.polygons()).hasSize(2);
        assertThat(report.features()).isEqualTo(new ReadReport.Features(2, 0, 1, 0));
        assertThat(report.skipped()).hasSize(1);
        ReadReport.Tally tally = report.skipped().get(0);
        assertThat(tally.code()).isEqualTo(code);
        assertThat(tally.count()).isEqualTo(1);
        assertThat(tally.places()).containsExactly(directory.resolve("layout.txt") + ":3:3");
        assertThat(tally.meaning()).isNotEmpty();
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "POLYGON ((0 0, 1 0, 1 1, 0 1))|layout.open-ring|1|1",
                "POLYGON ((0 0, 2 2, 2 0, 0 2, 0 0))|layout.self-crossing|2|2",
                "POLYGON ((0 0, 2 2, 2 0, 0 2))|layout.self-crossing|2|2",
                "POLYGON ((0 0, 4 0, 4 4, 2 4, 2 6, 2 4, 0 4, 0 0))|layout.self-crossing|16|1",
                "POLYGON ((0 0, 9 0, 9 9, 0 9, 0 0), (20 20, 21 20, 21 21, 20 20))|layout.hole-outside|81.5|2",
                "POLYGON ((0 0, 9 0, 9 9, 0 9, 0 0), (8 8, 10 8, 10 10, 8 10, 8 8))|layout.rings-overlap|80|1",
                "POLYGON ((0 0, 9 0, 9 9, 0 9, 0 0), (1 1, 1 1))|layout.few-vertices|81|1"
            })
    void is_mended_when_the_job_says_so(String wkt, String code, double area, int polygons) {
        Reading reading = Reading.of(directory, wkt, Reading.MENDED);
        assertThat(reading.report().skipped()).isEmpty();
        assertThat(reading.report().repaired())
                .extracting(ReadReport.Tally::code)
                .containsExactly(code);
        assertThat(reading.report().features()).isEqualTo(new ReadReport.Features(1, 0, 0, 0));
        assertThat(reading.polygons()).hasSize(polygons);
        assertThat(reading.area()).isCloseTo(area, within(1e-12));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "POLYGON ((0 0, NaN 0, 1 1, 0 0))",
                "POLYGON ((0 0, 1e300 0, 1 1))",
                "POLYGON ((0 0, 1 1, 2 2, 0 0))",
                "POLYGON ((0 0, 1 0, 0 0))",
                "POLYGON EMPTY",
                "{\"type\": \"Polygon\", \"coordinates\": [[], [[1, 1], [2, 1], [2, 2], [1, 1]]]}"
            })
    void what_cannot_be_mended_is_skipped_and_counted(String wkt) {
        Reading reading = Reading.of(directory, wkt, Reading.MENDED);
        assertThat(reading.polygons()).isEmpty();
        assertThat(reading.report().repaired()).isEmpty();
        assertThat(reading.report().features()).isEqualTo(new ReadReport.Features(0, 0, 1, 0));
        assertThat(reading.report().skipped()).hasSize(1);
    }

    @Test
    void the_rest_of_a_feature_with_one_bad_polygon_is_kept() {
        Reading reading = Reading.of(
                directory,
                "MULTIPOLYGON (((0 0, 1 0, 1 1, 0 0)), ((0 0, 1 1, 1 0, 0 1, 0 0)), ((5 5, 6 5, 6 6, 5 5)))",
                Reading.METRES);
        assertThat(reading.polygons()).hasSize(2);
        assertThat(reading.report().features()).isEqualTo(new ReadReport.Features(0, 1, 0, 0));
        assertThat(reading.report().skipped().get(0).count()).isEqualTo(1);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "{\"depth\":-2}|depth must be positive",
                "{\"depth\":0}|depth must be positive",
                "{\"depth\":NaN}|depth must be a number",
                "{\"depth\":1e999}|depth must be positive",
                "{\"depth\":\"150\"}|has no unit",
                "{\"depth\":\"150 K\"}|does not measure",
                "{\"depth\":\"150 furlong\"}|unknown unit",
                "{\"depth\":true}|depth must be a number or text with a unit",
                "{\"repeat\":{\"columns\":0}}|whole number from 1",
                "{\"repeat\":{\"columns\":2.5,\"dx\":1}}|whole number from 1",
                "{\"repeat\":{\"columns\":2}}|repeat needs dx",
                "{\"repeat\":{\"columns\":2,\"pitch\":1}}|repeat knows no \"pitch\"",
                "{\"repeat\":[2,2]}|repeat must be an object",
                "{\"texture\":{\"kind\":\"lines\",\"pitch\":1,\"width\":1}}|width below its pitch",
                "{\"texture\":{\"kind\":\"lines\",\"width\":1}}|width below its pitch",
                "{\"texture\":{\"pitch\":2,\"width\":1}}|texture needs a kind",
                "{\"texture\":{\"kind\":\"dots\",\"pitch\":2,\"width\":1}}|none of lines, holes, pillars",
                "{\"texture\":{\"kind\":\"lines\",\"pitch\":2,\"width\":1,\"angle\":\"30 nm\"}}|does not measure",
                "7|properties must be an object"
            })
    void wrong_properties_make_a_bad_feature_with_the_reason(String properties, String reason) {
        String geometry =
                ",\"geometry\":{\"type\":\"MultiPolygon\",\"coordinates\":[[[[0,0],[2,0],[2,2],[0,0]]],[[[5,5],[6,5],[6,6]]]]}}";
        Reading reading = Reading.of(
                directory,
                "{\"type\":\"FeatureCollection\",\"features\":[\n{\"type\":\"Feature\",\"properties\":" + properties
                        + geometry + "\n]}",
                Reading.METRES);
        assertThat(reading.polygons()).isEmpty();
        assertThat(reading.report().features()).isEqualTo(new ReadReport.Features(0, 0, 1, 0));
        assertThat(reading.report().skipped()).hasSize(1);
        ReadReport.Tally tally = reading.report().skipped().get(0);
        assertThat(tally.code()).isEqualTo("layout.property");
        assertThat(tally.count()).isEqualTo(1);
        assertThat(tally.places().get(0)).contains("layout.txt:2:1 (").contains(reason);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "{\"role\":\"cavities\"}|is none of cavity, protrusion, keepout, dummy, region",
                "{\"role\":3}|role must be text"
            })
    void a_role_that_is_none_is_a_defect_of_its_own(String properties, String reason) {
        Reading reading = triangle(properties);
        assertThat(reading.polygons()).isEmpty();
        ReadReport.Tally tally = reading.report().skipped().get(0);
        assertThat(tally.code()).isEqualTo("layout.role");
        assertThat(tally.places().get(0)).contains("layout.txt:1:1 (").contains(reason);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "{\"role\":\"region\"}|a region needs a name",
                "{\"role\":\"region\",\"name\":\" \"}|a region needs a name",
                "{\"role\":\"region\",\"name\":7}|name must be text",
                "{\"role\":\"region\",\"name\":\"optics\",\"weight\":-1}|weight must be zero or more",
                "{\"role\":\"region\",\"name\":\"optics\",\"weight\":\"much\"}|weight must be a number",
                "{\"role\":\"region\",\"name\":\"optics\",\"depth\":1}|neither texture nor depth"
            })
    void a_region_has_a_name_and_a_weight_of_zero_or_more_and_no_relief(String properties, String reason) {
        Reading reading = triangle(properties);
        assertThat(reading.polygons()).isEmpty();
        assertThat(reading.report().skipped().get(0).places().get(0)).contains(reason);
    }

    @Test
    void wrong_cells_of_a_table_make_a_bad_feature() {
        Reading reading = Reading.of(
                directory,
                "wkt;depth;role\nPOLYGON((0 0,1 0,1 1,0 0));-1;\nPOLYGON((0 0,1 0,1 1,0 0));;hill\n;1;\n",
                Reading.METRES);
        assertThat(reading.report().features()).isEqualTo(new ReadReport.Features(0, 0, 3, 0));
        assertThat(reading.report().skipped())
                .extracting(ReadReport.Tally::code)
                .containsExactly("layout.empty-geometry", "layout.property", "layout.role");
    }

    @Test
    void geojson_may_carry_words_for_missing_coordinates() {
        String form = "{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[%s,0],[1,1],[0,0]]]}\n";
        Reading reading = Reading.of(
                directory,
                form.formatted("null") + form.formatted("NaN") + form.formatted("-Infinity") + form.formatted("1e300")
                        + "{\"type\":\"Polygon\",\"coordinates\":[]}\n{\"type\":\"Polygon\",\"coordinates\":[[]]}",
                Reading.METRES);
        assertThat(reading.report().skipped())
                .extracting(tally -> tally.code() + " " + tally.count())
                .containsExactly("layout.empty-geometry 2", "layout.not-finite 3", "layout.out-of-range 1");
    }

    @Test
    void only_the_first_twenty_places_are_kept_but_all_are_counted() {
        String bad = "POLYGON ((0 0, 1 1, 1 0, 0 1, 0 0))\n";
        Path file = Reading.file(directory, "many.wkt", (GOOD + bad).repeat(500));
        List<String> wanted = java.util.stream.IntStream.rangeClosed(1, 20)
                .mapToObj(i -> file + ":" + 2 * i + ":1")
                .collect(Collectors.toList());
        for (int threads = 1; threads <= 3; threads++) {
            Reading reading = Reading.of(LayoutFile.open(file, Reading.METRES, 256, Reading.LIMIT), threads);
            assertThat(reading.report().skipped().get(0).count()).isEqualTo(500);
            assertThat(reading.report().skipped().get(0).places()).isEqualTo(wanted);
            assertThat(reading.report().features()).isEqualTo(new ReadReport.Features(500, 0, 500, 0));
        }
    }

    private Reading triangle(String properties) {
        return Reading.of(
                directory,
                "{\"type\":\"Feature\",\"properties\":" + properties
                        + ",\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[2,0],[2,2],[0,0]]]}}",
                Reading.METRES);
    }
}
