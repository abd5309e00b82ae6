package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import org.evenstamp.output.file.PublishedSchemas;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A layout that is a table of tiles instead of a drawing. */
class TableCommandTest {
    private static final String JOB = """
            layout:
              table: tiles.csv
              regions:
                - {name: left, where: {box: {min: ["0 um", "0 um"], max: ["60 um", "200 um"]}}}
            stamp:
              depth: "150 nm"
              kind: bonded-layer
              layer.modulus: "1 GPa"
              layer.poisson: "0.4 1"
              layer.thickness: "20 um"
            film: {thickness: "250 nm", viscosity: "3e3 Pa s"}
            process: {pressure: "5 MPa", hold: "60 s"}
            limits:
              residual.final@left: {mean: ">= 1 nm"}
            """;

    private static final int COLUMNS = 6;
    private static final int ROWS = 5;

    @TempDir
    Path directory;

    private final TriedTool tool = new TriedTool();

    private static double fraction(int column, int row) {
        return column == 2 ? 0 : 0.1 + 0.05 * column + 0.03 * row;
    }

    /** A line a tile of 40 um, the last tile first. */
    private static String table(String header, String more) {
        StringBuilder text = new StringBuilder(header).append('\n');
        for (int i = COLUMNS * ROWS - 1; i >= 0; i--) {
            text.append(String.format(
                    Locale.ROOT,
                    "%d,%d,%.4f%s%n",
                    20 + 40 * (i % COLUMNS),
                    20 + 40 * (i / COLUMNS),
                    fraction(i % COLUMNS, i / COLUMNS),
                    more));
        }
        return text.toString();
    }

    private Path job(String text) throws IOException {
        return Files.writeString(directory.resolve("job.yaml"), text);
    }

    private int run(String table, String job) throws IOException {
        Files.writeString(directory.resolve("tiles.csv"), table);
        return tool.run("run", job(job), "--replace", "--quiet");
    }

    private JsonNode result() throws IOException {
        return new ObjectMapper()
                .readTree(directory.resolve("job-results/result.json").toFile());
    }

    private List<Double> column(String field) throws IOException {
        List<String> rows = Files.readAllLines(directory.resolve("job-results/tiles.csv"));
        int at = List.of(rows.get(0).split(",", -1)).indexOf(field);
        List<Double> values = new ArrayList<>();
        for (String row : rows.subList(1, rows.size())) {
            String cell = row.split(",", -1)[at];
            values.add(cell.isEmpty() ? Double.NaN : Double.parseDouble(cell));
        }
        return values;
    }

    /** Whatever a test has written keeps to the published schemas. */
    @AfterEach
    void resultsKeepToTheirSchemas() throws IOException {
        PublishedSchemas.checkUnder(directory);
    }

    @Test
    void a_table_is_solved_like_a_drawing_and_what_it_does_not_say_is_absent() throws IOException {
        int code = run(table("x_um,y_um,fraction,depth_nm,land_um", ",200,8"), JOB);

        assertThat(tool.err.toString()).isEmpty();
        assertThat(code).isZero();
        JsonNode result = result();
        assertThat(result.at("/grid/columns").asInt()).isEqualTo(COLUMNS);
        assertThat(result.at("/grid/side_um").asDouble()).isCloseTo(40, within(1e-9));
        List<Double> fraction = column("cavity.fraction");
        List<Double> volume = column("cavity.volume");
        List<Double> moment = column("squeeze.moment");
        for (int i = 0; i < fraction.size(); i++) {
            double its = fraction(i % COLUMNS, i / COLUMNS);
            assertThat(fraction.get(i)).isCloseTo(its, within(1e-9));
            assertThat(volume.get(i)).isCloseTo(its * 200, within(1e-6));
            // Strips of land: twelve times the mean of the torsion function is their width squared.
            assertThat(moment.get(i)).isCloseTo((1 - its) * 64, within(1e-6));
        }
        // Film is neither made nor lost: what the film had is in the layer and in the cavities.
        List<Double> layer = column("residual.final");
        List<Double> filled = column("fill.share");
        double sum = 0;
        for (int i = 0; i < layer.size(); i++) {
            sum += layer.get(i) + volume.get(i) * (fraction.get(i) > 0 ? filled.get(i) : 0);
        }
        assertThat(sum / layer.size()).isCloseTo(250, within(0.5));
        assertThat(result.get("fields").has("cavity.width.min")).isFalse();
        assertThat(result.get("fields").has("flow.path.mean")).isFalse();
        assertThat(result.get("fields").has("edge.density")).isFalse();
        assertThat(result.get("skipped").get("standing").asText()).contains("edge.density");
        assertThat(result.at("/named_regions/0/name").asText()).isEqualTo("left");
        assertThat(result.at("/named_regions/0/area_mm2").asDouble()).isCloseTo(60 * 200e-6, within(1e-9));
        assertThat(Files.readString(directory.resolve("job-results/report.html")))
                .contains("nothing is drawn");
    }

    @Test
    void the_example_of_the_docs_reads_as_it_says() throws IOException {
        String page = Files.readString(Path.of("../../docs/layout.md"));
        String example = page.split("`tiles\\.csv`:\n\n```text\n", -1)[1].split("```", -1)[0];
        String job = page.split("## Tiles instead of polygons: a table\n", -1)[1]
                .split("```yaml\n", -1)[1]
                .split("```", -1)[0];
        int code = run(example, job);

        assertThat(tool.err.toString()).isEmpty();
        assertThat(code).isZero();
        assertThat(column("cavity.volume")).containsExactly(50.0, 100.0, 0.0, 140.0);
        assertThat(column("squeeze.moment").get(0)).isCloseTo(0.75 * 900, within(1e-9));
        assertThat(result().at("/grid/side_um").asDouble()).isCloseTo(100, within(1e-9));
        tool.run("list", "formats");
        assertThat(tool.out.toString()).contains("layout.table");
    }

    @Test
    void volumes_instead_of_depths_leave_depths_open_and_no_land_leaves_the_solve_out() throws IOException {
        int code = run(table("x_um,y_um,fraction,volume_nm", ",30"), JOB.replaceAll("(?s)limits:.*", ""));

        assertThat(tool.err.toString()).isEmpty();
        assertThat(code).isZero();
        assertThat(column("cavity.volume")).contains(30.0, 0.0);
        assertThat(result().get("fields").has("cavity.depth.min")).isFalse();
        assertThat(result().get("skipped").get("film").asText()).contains("squeeze.moment");
    }

    @Test
    void arrays_are_the_same_stamp_as_the_table_of_their_numbers() throws IOException {
        run(table("x_um,y_um,fraction,depth_nm,moment_um^2", ",200,50"), JOB);
        List<Double> expected = column("residual.final");
        double[] x = new double[COLUMNS];
        double[] y = new double[ROWS];
        double[] fraction = new double[COLUMNS * ROWS];
        double[] depth = new double[COLUMNS * ROWS];
        double[] moment = new double[COLUMNS * ROWS];
        for (int i = 0; i < fraction.length; i++) {
            x[i % COLUMNS] = 20 + 40 * (i % COLUMNS);
            int row = i / COLUMNS;
            y[row] = 0.02 + 0.04 * row;
            fraction[i] = fraction(i % COLUMNS, i / COLUMNS);
            depth[i] = 0.2;
            moment[i] = 50;
        }
        try (OutputStream out = Files.newOutputStream(directory.resolve("tiles.npz"));
                ZipOutputStream zip = new ZipOutputStream(out)) {
            array(zip, "x_um", "(6,)", x);
            array(zip, "y_mm", "(5,)", y);
            array(zip, "fraction", "(5, 6)", fraction);
            array(zip, "depth_um", "(5, 6)", depth);
            array(zip, "moment_um^2", "(5, 6)", moment);
        }
        assertThat(tool.run("run", job(JOB.replace("tiles.csv", "tiles.npz")), "--replace", "--quiet"))
                .isZero();

        assertThat(tool.err.toString()).isEmpty();
        List<Double> found = column("residual.final");
        for (int i = 0; i < found.size(); i++) {
            assertThat(found.get(i)).isCloseTo(expected.get(i), within(1e-5));
        }
    }

    private static void array(ZipOutputStream zip, String name, String shape, double[] values) throws IOException {
        byte[] header = ("{'descr': '<f8', 'fortran_order': False, 'shape': " + shape + ", }\n")
                .getBytes(StandardCharsets.US_ASCII);
        ByteBuffer bytes =
                ByteBuffer.allocate(10 + header.length + 8 * values.length).order(ByteOrder.LITTLE_ENDIAN);
        bytes.put((byte) 0x93)
                .put("NUMPY".getBytes(StandardCharsets.US_ASCII))
                .put((byte) 1)
                .put((byte) 0);
        bytes.putShort((short) header.length).put(header);
        for (double value : values) {
            bytes.putDouble(value);
        }
        zip.putNextEntry(new ZipEntry(name + ".npy"));
        zip.write(bytes.array());
        zip.closeEntry();
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "x_um,y_um,fraction,depth_nm | x_um,y_um,share,depth_nm | there is no column \"share\" | tiles.csv:1",
                "x_um,y_um,fraction,depth_nm | x_um,y_um,fraction,depth_MPa | the column depth_MPa | tiles.csv:1",
                "x_um,y_um,fraction,depth_nm | x_um,y_um,fraction,depth_m | a depth of | tiles.csv:2",
                "180,180,0.1000,200 | | 1 of 6 x 5 tiles are missing, such as x = 20 um | tiles.csv",
                "220,180,0.4700,200 | 220,180,1.4700,200 | a fraction of 1.47 | tiles.csv:2",
                "220,180,0.4700,200 | 221,180,0.4700,200 | is no centre of a square tile | tiles.csv:2",
                "180,180,0.4200,200 | 220,180,0.4200,200 | stands on line 2 already | tiles.csv:3",
                "180,180,0.4200,200 | 180,180,,200 | fraction is \"\", no number | tiles.csv:3",
            })
    void a_mistake_in_a_table_is_told_with_its_line(String right, String wrong, String message, String place)
            throws IOException {
        String table = table("x_um,y_um,fraction,depth_nm", ",200");
        String last = "20,20,0.1000,200";
        assertThat(table).contains(right.startsWith("180,180,0.1000") ? last : right);
        String changed = wrong == null ? table.replace(last + "\n", "") : table.replace(right, wrong);
        int code = run(changed, JOB.replaceAll("(?s)limits:.*", ""));

        assertThat(code).isEqualTo(3);
        assertThat(tool.err.toString()).contains(message).contains(place);
    }

    @Test
    void a_table_beside_a_drawing_is_a_problem_and_dummies_have_no_room_in_it() throws IOException {
        String table = table("x_um,y_um,fraction,depth_nm,land_um", ",200,8");
        assertThat(run(table, JOB.replace("  table: tiles.csv", "  table: tiles.csv\n  unit: um")))
                .isEqualTo(3);
        assertThat(tool.err.toString()).contains("layout.table and layout.unit are both given");
        String rules = "dummy: {size: \"7 um\", gap: \"3 um\", spacing: \"3 um\"}\n";
        assertThat(tool.run("dummy", job(JOB + rules))).isEqualTo(3);
        assertThat(tool.err.toString()).contains("does not say where there is room for dummies");
        assertThat(tool.run("check", job(JOB))).isZero();
    }
}
