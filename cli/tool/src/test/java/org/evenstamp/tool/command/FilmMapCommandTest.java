package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.evenstamp.output.file.PublishedSchemas;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Jobs that give their film place by place. */
class FilmMapCommandTest {
    private static final String JOB = """
            layout:
              file: layout.geojson
              outline: {min: ["0 um", "0 um"], max: ["600 um", "600 um"]}
            tiles: {side: "50 um"}
            stamp:
              depth: "150 nm"
              kind: bonded-layer
              layer.modulus: "1 GPa"
              layer.poisson: "0.4 1"
              layer.thickness: "20 um"
            film: {FILM, viscosity: "3e3 Pa s"}
            process: {pressure: "5 MPa", hold: "60 s"}
            drops: {residual: "50 nm", volume: "0.1 pL", pitch: "10 um", evaporation: "10 %"}
            """;
    private static final String DUMMY =
            "dummy: {size: \"7 um\", gap: \"3 um\", spacing: \"3 um\", rim: \"2 um\", rounds: \"1\"}\n";

    @TempDir
    Path directory;

    private final TriedTool tool = new TriedTool();
    private final StringWriter out = tool.out;
    private final StringWriter err = tool.err;

    private int run(Object... arguments) {
        return tool.run(arguments);
    }

    /** Squares of 8 um at a step of 10 um over the left half. */
    @BeforeEach
    void layout() throws IOException {
        write("layout.geojson", """
                {"type":"Feature","units":"um","properties":{"repeat":{"columns":30,"rows":60,"dx":10,"dy":10}},
                 "geometry":{"type":"Polygon","coordinates":[[[1,1],[9,1],[9,9],[1,9],[1,1]]]}}
                """);
    }

    private Path write(String name, String text) throws IOException {
        return Files.writeString(directory.resolve(name), text);
    }

    private Path job(String name, String film) throws IOException {
        return write(name + ".yaml", JOB.replace("FILM", film));
    }

    private JsonNode json(String file) throws IOException {
        return new ObjectMapper().readTree(directory.resolve(file).toFile());
    }

    private JsonNode field(String results, String id) throws IOException {
        return json(results + "/result.json").get("fields").get(id);
    }

    /** Returns a field tile by tile, 0 where it has no value. */
    private double[] values(String results, String id) throws IOException {
        List<String> lines = Files.readAllLines(directory.resolve(results).resolve("tiles.csv"));
        List<String> names = Arrays.asList(lines.get(0).split(",", -1));
        int column = 0;
        while (!names.get(column).startsWith(id)) {
            column++;
        }
        int at = column;
        return lines.stream()
                .skip(1)
                .map(line -> line.split(",", -1)[at])
                .mapToDouble(value -> value.isEmpty() ? 0 : Double.parseDouble(value))
                .toArray();
    }

    /** Whatever a test has written keeps to the published schemas. */
    @AfterEach
    void resultsKeepToTheirSchemas() throws IOException {
        PublishedSchemas.checkUnder(directory);
    }

    private static String points(String law, double... nanometres) {
        StringBuilder text = new StringBuilder("# " + law + "\nx_um,y_um,thickness_nm\n");
        int i = 0;
        for (int y = 0; y <= 600; y += 600) {
            for (int x = 0; x <= 600; x += 600) {
                text.append(x)
                        .append(',')
                        .append(y)
                        .append(',')
                        .append(nanometres[i++])
                        .append('\n');
            }
        }
        return text.toString();
    }

    @Test
    void a_measured_film_of_one_thickness_is_the_same_as_that_thickness() throws IOException {
        write("film.csv", points("even", 250, 250, 250, 250));

        assertThat(run("run", job("even", "thickness: \"250 nm\""), "--no-report"))
                .as(err.toString())
                .isZero();
        assertThat(run("run", job("map", "thickness-map: film.csv"), "--no-report"))
                .as(err.toString())
                .isZero();

        assertThat(field("map-results", "film.coated").get("mean").asDouble()).isEqualTo(250);
        for (String id : List.of("residual.local", "residual.final", "fill.time", "pressure.peak", "volume.surplus")) {
            double[] even = values("even-results", id);
            assertThat(values("map-results", id))
                    .as(id)
                    .containsExactly(
                            even, within(1e-6 * Arrays.stream(even).max().orElseThrow()));
        }
        assertThat(json("map-results/result.json").get("inputs").findValuesAsText("name"))
                .contains("film.csv");
    }

    @Test
    void a_sloping_film_reaches_balance_and_film_solve_and_its_mean_the_rest() throws IOException {
        write("film.csv", points("slope along x, from 320 to 200 nm", 320, 200, 320, 200));

        assertThat(run("run", job("map", "thickness-map: film.csv"), "--no-report"))
                .as(err.toString())
                .isZero();

        double[] film = values("map-results", "film.coated");
        double[] volume = values("map-results", "cavity.volume");
        double[] local = values("map-results", "residual.local");
        double[] last = values("map-results", "residual.final");
        double[] share = values("map-results", "fill.share");
        double coated = 0;
        double left = 0;
        for (int i = 0; i < film.length; i++) {
            assertThat(film[i]).isCloseTo(320 - 10 * (i % 12 + 0.5), within(1e-6));
            assertThat(local[i]).isCloseTo(film[i] - volume[i], within(1e-6));
            coated += film[i] / film.length;
            left += (last[i] + share[i] * volume[i]) / film.length;
        }
        assertThat(coated).isCloseTo(260, within(1e-9));
        JsonNode analyses = json("map-results/result.json").get("analyses");
        double rigid = figure(analyses, "film", "rigid.residual");
        assertThat(rigid).isCloseTo(260 - Arrays.stream(volume).average().orElseThrow(), within(1e-6));
        assertThat(figure(analyses, "balance", "film.there")).isCloseTo(260e-9 * 0.36e-6 * 1e12, within(1e-6));
        assertThat(left).isCloseTo(260, within(1e-3));
    }

    private static double figure(JsonNode analyses, String analysis, String id) {
        for (JsonNode one : analyses) {
            if (one.get("id").asText().equals(analysis)) {
                for (JsonNode figure : one.get("figures")) {
                    if (figure.get("id").asText().equals(id)) {
                        return figure.get("value").asDouble();
                    }
                }
            }
        }
        throw new AssertionError("no figure " + id);
    }

    @Test
    void what_drops_writes_makes_the_film_it_was_asked_for() throws IOException {
        // 0.01 pL on a raster of 5 um: 12 drops on a tile of land, 48 on one of cavities
        String fine =
                JOB.replace("volume: \"0.1 pL\"", "volume: \"0.01 pL\"").replace("pitch: \"10 um\"", "pitch: \"5 um\"");
        Path asked = write("job.yaml", fine.replace("FILM", "thickness: \"250 nm\""));
        assertThat(run("drops", asked, "--quiet")).as(err.toString()).isZero();

        Path back = write("back.yaml", fine.replace("FILM", "drop-map: job-results-drops/drops.csv"));
        assertThat(run("run", back, "--no-report")).as(err.toString()).isZero();

        double[] film = values("back-results", "film.coated");
        double[] need = values("job-results-drops", "drop.need");
        double drops = Arrays.stream(values("job-results-drops", "drop.count")).sum();
        double drop = 0.009e-15 / 0.36e-6 * 1e9; // on the whole map, nm
        double mean = Arrays.stream(film).average().orElseThrow();
        assertThat(mean).isCloseTo(drops * drop, withinPercentage(1e-6));
        assertThat(mean).isCloseTo(Arrays.stream(need).average().orElseThrow(), within(0.5 * drop));
        for (int i = 0; i < film.length; i++) {
            boolean step = i % 12 == 5 || i % 12 == 6; // drops beside the step from cavities to land spread across it
            assertThat(film[i])
                    .as("tile %d", i)
                    .isCloseTo(need[i], within((step ? 6 : 2) * 3.6)); // a drop on a tile: 3.6 nm
        }
        double[] left = values("back-results", "residual.local");
        assertThat(Arrays.stream(left).average().orElseThrow()).isCloseTo(50, within(1.0));
    }

    @Test
    void points_and_drops_that_leave_tiles_out_are_told() throws IOException {
        write("film.csv", "x_um,y_um,thickness_nm\n0,0,250\n100,0,250\n0,100,250\n100,100,250\n");
        assertThat(run("run", job("map", "thickness-map: film.csv"), "--no-report"))
                .isEqualTo(3);
        assertThat(err.toString())
                .contains("film.csv: the points do not cover the stamp: 135 of 144 tiles")
                .contains("the farthest, at x = 0.5750 mm, y = 0.5750 mm, by 0.6718 mm");

        write("near.csv", points("", 250, 250, 250, 250).replace("600", "560"));
        assertThat(run("run", job("near", "thickness-map: near.csv"), "--no-report"))
                .as(err.toString())
                .isZero();
        assertThat(json("near-results/result.json").get("warnings").findValuesAsText("code"))
                .contains("film.map-beyond");

        StringBuilder drops = new StringBuilder("x_um,y_um,volume_pL\n");
        for (int i = 0; i < 400; i++) {
            drops.append(i % 20 + 5).append(',').append(30 * (i / 20)).append(",0.1\n");
        }
        write("drops.csv", drops.toString());
        assertThat(run("run", job("dry", "drop-map: drops.csv"), "--no-report")).isEqualTo(3);
        assertThat(err.toString())
                .contains("drops.csv: the drops leave 96 of 144 tiles without film, first at x = 0.2250 mm")
                .contains("a drop spreads over 5 mean drop spacings, 0.1500 mm, at most");

        write("drops.csv", "x_um,y_um,volume_pL\n900,1,1\n300,300,90\n-1,0,1\n");
        assertThat(run("run", job("out", "drop-map: drops.csv"), "--no-report"))
                .as(err.toString())
                .isZero();
        assertThat(json("out-results/result.json").get("warnings").findValuesAsText("message"))
                .contains("2 of 3 places of drops lie outside the map and were left out, first that on line 2 of"
                        + " drops.csv");
        write("drops.csv", "x_um,y_um,volume_pL\n900,1,1\n");
        assertThat(run("run", job("all", "drop-map: drops.csv"), "--no-report")).isEqualTo(3);
        assertThat(err.toString()).contains("all its 1 places of drops lie outside the map");
    }

    @Test
    void a_film_has_one_thickness() throws IOException {
        write("film.csv", points("", 250, 250, 250, 0));

        assertThat(run("check", job("job", "thickness: \"250 nm\", thickness-map: film.csv, drop-map: none.csv")))
                .isEqualTo(3);

        assertThat(err.toString())
                .contains("job.yaml:11:44: film.thickness-map is given beside film.thickness, and a film has one")
                .contains("job.yaml:11:64: film.drop-map is given beside film.thickness")
                .contains("film.csv:6: a thickness of 0 nm is not that of a film")
                .contains("none.csv: it cannot be read: there is no such file");

        assertThat(run(
                        "check",
                        write(
                                "lim.yaml",
                                JOB.replace("FILM", "thickness: \"250 nm\"")
                                        + "limits: {film.coated: {each: \">= 200 nm\"}}\n")))
                .isEqualTo(3);
        assertThat(err.toString()).contains("the limit on film.coated needs a map of the film");
    }

    @Test
    @Tag("slow")
    void first_recipes_are_solved_on_the_measured_film() throws IOException {
        write("film.csv", points("", 240, 280, 240, 280));
        Path job =
                write("job.yaml", JOB.replace("FILM", "thickness-map: film.csv").replace("50 um", "150 um"));

        assertThat(run("recipe", job)).as(err.toString()).isZero();

        assertThat(out.toString()).contains("260 nm of film");
    }

    @Test
    void the_other_verbs_work_with_it_or_say_why_not() throws IOException {
        write("film.csv", points("", 240, 280, 240, 280));
        String coarse = JOB.replace("side: \"50 um\"", "side: \"100 um\"");
        write("mine.tsv", "film\tmine\tglass-temperature\t100 degC\t-\t-\t-\tmeasured\tus\n");
        Path job = write("job.yaml", coarse.replace("FILM", "thickness-map: film.csv, materials: mine.tsv") + DUMMY);

        assertThat(run("drops", job, "--quiet")).as(err.toString()).isZero();
        assertThat(run("dummy", job, "--what-if", "--quiet")).as(err.toString()).isZero();
        List<String> read = List.of("job.yaml", "layout.geojson", "mine.tsv", "film.csv");
        assertThat(json("job-results-drops/result.json").get("inputs").findValuesAsText("name"))
                .isEqualTo(read);
        assertThat(json("job-results-dummies/result.json").get("inputs").findValuesAsText("name"))
                .containsExactlyElementsOf(Stream.concat(read.stream(), Stream.of("merged.geojson.gz"))
                        .toList());
        assertThat(field("job-results-dummies", "film.coated").get("mean").asDouble())
                .isCloseTo(260, within(1e-9));
        Path film = write("film.yaml", JOB.replace("FILM", "target-residual: \"120 nm\", thickness-map: film.csv"));
        assertThat(run("film", film)).isEqualTo(3);
        assertThat(err.toString())
                .contains("the job gives its film place by place in film.csv, and this verb looks for one thickness");
    }

    @Test
    void check_lays_the_film_over_the_stamp_and_tells_points_and_drops_that_miss_it() throws IOException {
        write("far.csv", "x_mm,y_mm,thickness_nm\n50,50,200\n51,50,200\n51,51,200\n50,51,210\n");
        write("drops.csv", "x_mm,y_mm,volume_pL\n50,50,1\n51,50,1\n51,51,1\n");
        write("fits.csv", "x_mm,y_mm,thickness_nm\n-1,-1,200\n2,-1,200\n2,2,200\n-1,2,210\n");

        assertThat(run("check", job("far", "thickness-map: far.csv"))).isEqualTo(3);
        assertThat(err.toString()).contains("far.csv", "the points do not cover the stamp");
        assertThat(run("check", job("beside", "drop-map: drops.csv"))).isEqualTo(3);
        assertThat(err.toString()).contains("drops.csv", "all its 3 places of drops lie outside the map");
        assertThat(run("check", job("fits", "thickness-map: fits.csv"))).isZero();
        assertThat(run("check", job("far", "thickness-map: far.csv"), "--json")).isEqualTo(3);
        assertThat(out.toString()).contains("film.map-uncovered");
    }
}
