package org.evenstamp.geometry.read;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Files that cannot be read end the reading with a message that names the place and what to do. */
class BadInputTest {

    private static final String SQUARE = "POLYGON ((0 0, 1 0, 1 1, 0 1, 0 0))\n";

    @TempDir
    private Path directory;

    private String failure(Path file) {
        return Reading.failure(() -> Reading.of(file, Reading.METRES));
    }

    private String failure(byte[] bytes) {
        return failure(Reading.file(directory, "layout.txt", bytes));
    }

    @Test
    void missing_file() {
        assertThat(failure(directory.resolve("nothing.wkt")))
                .contains("nothing.wkt: there is no such file")
                .contains("check the path");
    }

    @Test
    void directory_instead_of_file() {
        assertThat(failure(directory))
                .contains(directory + ": this is a directory")
                .contains("name the layout file");
    }

    @ParameterizedTest
    @EnumSource(Compression.class)
    void empty_file(Compression compression) {
        assertThat(failure(Reading.packed("", compression)))
                .contains("layout.txt: the file is empty")
                .contains("export the layout again");
    }

    @Test
    void binary_file() {
        assertThat(failure(new byte[] {(byte) 0x89, 'P', 'N', 'G', 13, 10, 26, 10, 0, 0}))
                .contains("binary file (byte 0x1a at position 6)")
                .contains("GeoJSON, WKT");
        assertThat(failure(new byte[] {(byte) 0xFF, (byte) 0xFE, 'P', 0}))
                .contains("UTF-16")
                .contains("save it as UTF-8");
    }

    @Test
    void unknown_format() {
        assertThat(failure("Dear reader,\nthis is no layout\n".getBytes(java.nio.charset.StandardCharsets.UTF_8)))
                .contains("layout.txt:1:1: no layout format begins like this: \"Dear reader,\"")
                .contains("use GeoJSON, WKT");
        assertThat(failure("\n# nothing\n\n".getBytes(java.nio.charset.StandardCharsets.UTF_8)))
                .contains("nothing but blank lines");
    }

    @ParameterizedTest
    @EnumSource(
            value = Compression.class,
            names = {"GZIP", "ZSTD"})
    void truncated_compressed_file(Compression compression) {
        StringBuilder text = new StringBuilder();
        for (int i = 0; i < 20_000; i++) {
            text.append("POLYGON ((" + i + " 0, " + (i + 1) + " 0, " + i * 7919 % 997 + " 1, " + i + " 0))\n");
        }
        byte[] whole = Reading.packed(text.toString(), compression);
        assertThat(failure(Arrays.copyOf(whole, whole.length / 2)))
                .contains("layout.txt: the compressed file ends in the middle of its data, after")
                .contains("bytes (copy or compress it again)");
        byte[] damaged = whole.clone();
        Arrays.fill(damaged, whole.length / 2, whole.length / 2 + 64, (byte) 0x55);
        assertThat(failure(damaged)).contains("layout.txt").contains("copy or compress it again");
        assertThat(failure(Arrays.copyOf(whole, 9))).contains("copy or compress it again");
    }

    @Test
    void unit_that_nobody_gave() {
        ReadOptions none = new ReadOptions(null, null, ReadOptions.Policy.SKIP);
        assertThat(Reading.failure(() -> Reading.of(directory, SQUARE, none)))
                .contains("does not say the unit")
                .contains("layout.unit: \"um\"");
        assertThat(Reading.failure(
                        () -> Reading.of(directory, "{\"type\":\"FeatureCollection\",\"features\":[]}", none)))
                .contains("layout.unit: \"um\"");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "\"furlong\"|unknown unit \"furlong\"",
                "\"s\"|is not a length",
                "7|unknown unit \"7\"",
                "\"\"|a unit is missing"
            })
    void unknown_unit(String unit, String message) {
        ReadOptions none = new ReadOptions(null, null, ReadOptions.Policy.SKIP);
        String text = "{\"type\":\"FeatureCollection\",\"units\":" + unit + ",\"features\":[]}";
        assertThat(Reading.failure(() -> Reading.of(directory, text, none)))
                .contains("layout.txt: the file's member units: ")
                .contains(message)
                .contains("\"units\": \"um\"");
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "{\"type\":\"FeatureCollection\",\"units\":\"um\",\"features\":[]}",
                "{\"type\":\"FeatureCollection\",\"features\":[],\"units\":\"um\"}"
            })
    void unit_other_than_the_jobs(String text) {
        ReadOptions nanometres = new ReadOptions(null, 1e-9, ReadOptions.Policy.SKIP);
        assertThat(Reading.failure(() -> Reading.of(directory, text, nanometres)))
                .contains("the file says units \"um\"")
                .contains("1.0E-9 m")
                .contains("make both the same");
    }

    /** Reads a text in which the place of the error is marked by an at sign, which is taken out, and returns the message. */
    private String failureAtMark(String marked) {
        int at = marked.indexOf('@');
        String before = marked.substring(0, at);
        long line = before.chars().filter(c -> c == '\n').count() + 1;
        int column = at - before.lastIndexOf('\n');
        String message = Reading.failure(directory, before + marked.substring(at + 1));
        assertThat(message).contains("layout.txt:" + line + ":" + column + ": ").endsWith(")");
        return message;
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "POLYGON ((0 0, 1 0, 1 1, 0 0)@|expected ',' or ')' but found the end of the line|cut off",
                "POLYGON ((0 0, 1 0, 1 1, 0 0,@))|expected a number but found ')'|mend",
                "POLYGON ((0 0, 1 0, 1 @x1, 0 0))|expected a number but found 'x'|mend",
                "POLYGON ((0 0, 1@, 1 1, 0 0))|expected a number but found ','|mend",
                "POLYGON ((0 0, 1 0@|expected a number but found the end of the line|cut off",
                "POLYGON (@0 0, 1 0, 1 1, 0 0)|expected '(' but found '0'|mend",
                "@POLYGN ((0 0, 1 0, 1 1, 0 0))|unknown geometry \"POLYGN\"|write POLYGON",
                "@(0 0, 1 0)|expected a geometry such as POLYGON but found '('|write POLYGON",
                "POLYGON ((0 0, 1 0, 1 1, 0 0)) @tail|the line goes on with 't'|one geometry on each line",
                "SRID=4326@ POLYGON ((0 0, 1 0, 1 1, 0 0))|expected ';'|SRID=number;",
                "LINESTRING (0 0, 1 1@|expected ')'|cut off"
            })
    void broken_well_known_text(String line, String message, String fix) {
        assertThat(failureAtMark(SQUARE + line + "\n" + SQUARE))
                .contains(message)
                .contains(fix);
        assertThat(failureAtMark(SQUARE + "\r\n  " + line))
                .contains(message.replace(" of the line", ""))
                .contains(fix);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "[[[0,0],[1,0],[1,1],[0,0],@]]|a comma stands before the closing ']'|delete the comma",
                "[[[0,0],[1,0],[1,1],[0,0]],@]|a comma stands before the closing ']'|delete the comma",
                "[[[0,0],[1@],[1,1],[0,0]]]|expected ',' but found ']'|mend the JSON",
                "[[[0,0],[1,0] @[1,1],[0,0]]]|expected ',' or ']' but found '['|mend the JSON",
                "[[[0,0],[1,0@x],[1,1],[0,0]]]|expected ',' or ']' but found 'x'|mend the JSON",
                "[[[0,0],[1,@.5],[1,1],[0,0]]]|this is not a number as JSON writes it|write 0.5",
                "[[[0,0],[1,@01],[1,1],[0,0]]]|this is not a number as JSON writes it|write 0.5",
                "[[[0,0],[1,@1.],[1,1],[0,0]]]|this is not a number as JSON writes it|write 0.5",
                "[[[0,0],[1,@\"2\"],[1,1],[0,0]]]|expected a number but found '\"'|mend the JSON",
                "[[[0,0],[1,0],[1,1],[0,0]]@|expected ',' or ']' but found '}'|mend the JSON",
                "[[@0,0],[1,0],[1,1],[0,0]]|expected '[' but found '0'|mend the JSON"
            })
    void broken_geojson_coordinates(String coordinates, String message, String fix) {
        String text = "{\"type\":\"FeatureCollection\",\"features\":[\n"
                + "{\"type\":\"Feature\",\"geometry\":{\"type\":\"Polygon\",\"coordinates\":" + coordinates
                + "},\"properties\":{}}\n]}\n";
        assertThat(failureAtMark(text)).contains(message).contains(fix);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "{'type':'FeatureCollection','features':[F,@]}|a comma stands after the last feature",
                "{'type':'FeatureCollection','features':[F @F]}|expected ',' but found '{'",
                "{'type':'FeatureCollection','features':[F,@7]}|expected a feature but found '7'",
                "{'type':'FeatureCollection','features':[F@|the file ends before its list of features does",
                "{'type':'FeatureCollection','features':[F]@|expected ',' or '}' but found the end",
                "{'type':'FeatureCollection','features':[F]}\\n @F|the file goes on with '{'",
                "{'type':'FeatureCollection','features':[F],@}|a comma stands before the closing '}'",
                "@{'type':'FeatureCollection','feature':[F]}|has no \"features\"",
                "{'type':'FeatureCollection'@|expected ',' or '}' but found the end",
                "{'type':'Feature','geometry':{'type':@'Polygone'}}|unknown GeoJSON type \"Polygone\"",
                "{'type':'Feature','geometry':@{'type':'Polygon'}}|this geometry has no \"coordinates\"",
                "{'type':'Feature','geometry':@{'coordinates':[]}}|this geometry has no geometry \"type\"",
                "@{'geometry':null}|this object has no \"type\"",
                "{'type':'Feature','geometry':null,'geometry':@null}|an object has the same member twice",
                "{'type':'Feature','id':@tru}|expected true",
                "{'type':'Feature','id':'a\\@q'}|unknown escape",
                "{'type':'Feature','properties':{'role':'@\\uz000'}}|needs four hexadecimal digits",
                "{'type':'Feature' @'id':1}|expected ',' or '}' but found '\"'",
                "{@type:'Feature'}|expected a name or text in double quotes but found 't'",
                "{'coordinates':[[[0,0],[1,0],[1,1],[0,0]]] @x,'type':'Polygon'}|expected ',' or '}' but found 'x'",
                "{'geometry':{'coordinates':[[[0,0],[1,0],[1,1],[0,0]]],'type':'Polygon'@|expected ',' or '}' but found the end"
            },
            quoteCharacter = '~')
    void broken_geojson_structure(String form, String message) {
        String feature = "{'type':'Feature','geometry':{'type':'Polygon','coordinates':[[[0,0],[1,0],[1,1]]]}}";
        String text = form.replaceAll("F(?!e)", feature).replace('\'', '"').replace("\\n", "\n");
        assertThat(failureAtMark(text)).contains(message);
    }

    @Test
    void a_feature_over_several_lines_in_a_file_of_lines() {
        ReadOptions lines = new ReadOptions(LayoutFormat.GEOJSON_LINES, 1.0, ReadOptions.Policy.SKIP);
        String text = "{\"type\":\"Feature\",\n\"geometry\":null,\"properties\":null}\n";
        assertThat(Reading.failure(() -> Reading.of(directory, text, lines)))
                .contains("layout.txt:1:1: this feature goes on in the next line")
                .contains("write each feature on one line");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "0103000000@01|the geometry is cut off: 4 bytes must follow, there are 1",
                "010300000001000000@04000000@00|the geometry is cut off: 64 bytes must follow, there are 1",
                "0103000000FFFFFFFF@|the geometry is cut off",
                "010300000000000000@00|the geometry ends 1 bytes before its line does",
                "0103000000000000000@|the number of hexadecimal digits is odd",
                "01030000@zz|expected a hexadecimal digit but found 'z'",
                "05@03000000|a geometry must begin with byte order",
                "010A000000@|unknown geometry type 10"
            })
    void broken_binary(String line, String message) {
        String point = "0101000000000000000000F03F000000000000F03F\n";
        assertThat(failureAtMark(point + line.replaceFirst("@(?=0400)", "") + "\n"))
                .contains(message);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '~',
            value = {
                "1,POLYGON((0 0,@1 0,1 1,0 0))|this row has more than 2 cells|between double quotes",
                "@1|this row has 1 cells, the first has 2|complete the row",
                "1,@\"POLYGON((0 0,1 0,1 1,0 0))|a quoted cell does not end|close it",
                "1,\"POLYGON((0 0,1 0,1 1,0 0)) @x\"|the cell goes on with 'x'|one geometry in each row",
                "1,\"POLYGON((0 0,1 0,1 1,0 0))\"@x|expected the end of a cell but found 'x'|double the quotes",
                "1,\"POLYGON((0 0,1 0,1 1,0 0)@\"|expected ',' or ')' but found '\"'|mend"
            })
    void broken_table(String row, String message, String fix) {
        assertThat(failureAtMark("id,wkt\n" + row + "\n")).contains(message).contains(fix);
    }

    @Test
    void a_table_without_a_geometry_column() {
        ReadOptions table = new ReadOptions(LayoutFormat.CSV_WKT, 1.0, ReadOptions.Policy.SKIP);
        assertThat(Reading.failure(() -> Reading.of(directory, "a,b\n1,2\n", table)))
                .contains("layout.txt:1:1: no column")
                .contains("name the column with the polygons \"wkt\"");
    }

    @Test
    void nesting_without_end() {
        String text = "{\"type\":\"Feature\",\"id\":" + "[".repeat(100_000) + "}";
        assertThat(Reading.failure(directory, text)).contains("deep").contains("write them flatter");
        assertThat(Reading.failure(directory, "GEOMETRYCOLLECTION(".repeat(100_000)))
                .contains("more than 100 deep");
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2})
    void the_first_error_in_the_file_is_the_one_reported(int threads) {
        String text = SQUARE.repeat(500) + "POLYGON ((x\n" + SQUARE.repeat(20) + "POLYGON ((y\n" + SQUARE.repeat(500);
        Path file = Reading.file(directory, "two.wkt", text);
        for (int repetition = 0; repetition < 20; repetition++) {
            assertThat(Reading.failure(
                            () -> Reading.of(LayoutFile.open(file, Reading.METRES, 128, Reading.LIMIT), threads)))
                    .contains("two.wkt:501:11: expected a number but found 'x'");
        }
    }

    @Test
    void a_line_longer_than_the_budget() {
        String longLine = "POLYGON ((" + "0 0, 1 0, 1 1, ".repeat(2000) + "0 0))\n";
        Path file = Reading.file(directory, "long.wkt", SQUARE + longLine);
        assertThat(Reading.failure(() -> Reading.of(LayoutFile.open(file, Reading.METRES, 64, 4096), 2)))
                .contains("long.wkt:2:1: a single line or feature is longer than")
                .contains("split it, or give Java more memory (-Xmx)");
        Path json = Reading.file(
                directory,
                "long.json",
                "{\"type\":\"FeatureCollection\",\"features\":[{\"type\":\"Polygon\",\"coordinates\":[[[0,0]"
                        + ",[1,0],[1,1],[0,0]".repeat(2000) + "]]}]}");
        assertThat(Reading.failure(() -> Reading.of(LayoutFile.open(json, Reading.METRES, 64, 4096), 2)))
                .contains("long.json:1:41")
                .contains("-Xmx");
    }

    @Test
    void a_file_that_changes_while_it_is_read() throws IOException {
        Path file = Reading.file(directory, "moving.wkt", SQUARE);
        LayoutFile layout = LayoutFile.open(file, Reading.METRES);
        Files.setLastModifiedTime(file, FileTime.fromMillis(1_000_000));
        assertThat(Reading.failure(() -> Reading.of(layout, 1)))
                .contains("moving.wkt: the file changed while it was being read")
                .contains("run again");
    }

    @Test
    void the_report_comes_after_a_pass() {
        LayoutFile layout = LayoutFile.open(Reading.file(directory, "one.wkt", SQUARE), Reading.METRES);
        assertThatThrownBy(layout::report).isInstanceOf(IllegalStateException.class);
    }
}
