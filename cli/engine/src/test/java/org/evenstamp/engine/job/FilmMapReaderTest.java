package org.evenstamp.engine.job;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import java.util.OptionalDouble;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Problems;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class FilmMapReaderTest {
    @TempDir
    Path directory;

    private final Problems problems = new Problems();

    private Path file(String text) throws IOException {
        return Files.writeString(directory.resolve("map.csv"), text);
    }

    private List<String> lines() {
        return problems.all().stream()
                .map(Problem::line)
                .map(line -> line.replace(directory + "/", ""))
                .toList();
    }

    private void thickness(String text) throws IOException {
        assertThat(FilmMapReader.thickness(file(text), "map.csv", problems)).isNull();
    }

    private void drops(String text, OptionalDouble volume) throws IOException {
        assertThat(FilmMapReader.drops(FilmMapReader.readDrops(file(text)), "map.csv", volume, 0.1, problems))
                .isNull();
    }

    @ParameterizedTest
    @CsvSource({"',', x_mm y_mm thickness_nm", "';', x_um thickness_um y_um", "'\t', thickness_nm y_mm x_mm"})
    void columns_stand_in_any_order_unit_and_separator(String separator, String header) throws IOException {
        StringBuilder text = new StringBuilder("\ufeff# measured\n\n" + header.replace(" ", separator) + "\n");
        double[][] points = {{0, 0, 200}, {1, 0, 210}, {0.3, 1, 220}};
        for (double[] point : points) {
            text.append(header.replace("x_mm", point[0] + "")
                            .replace("x_um", 1000 * point[0] + "")
                            .replace("y_mm", point[1] + "")
                            .replace("y_um", 1000 * point[1] + "")
                            .replace("thickness_nm", point[2] + "")
                            .replace("thickness_um", point[2] / 1000 + "")
                            .replace(" ", separator))
                    .append("\r\n");
        }

        FilmMap.Measured map =
                Objects.requireNonNull(FilmMapReader.thickness(file(text.toString()), "map.csv", problems));

        assertThat(lines()).isEmpty();
        assertThat(map.roughlyMetres()).isCloseTo(210e-9, within(1e-18));
        assertThat(map.points().spacingMetres()).isCloseTo(Math.sqrt(0.5e-6 / 3), within(1e-12));
    }

    @Test
    void drops_are_what_evaporation_leaves_of_them() throws IOException {
        FilmMap.Dispensed map = Objects.requireNonNull(FilmMapReader.drops(
                FilmMapReader.readDrops(file("x_um,y_um,drops\n10,20,3\n30,20,1\n")),
                "map.csv",
                OptionalDouble.of(1e-15),
                0.1,
                problems));
        FilmMap.Dispensed volumes = Objects.requireNonNull(FilmMapReader.drops(
                FilmMapReader.readDrops(file("x_um,y_um,volume_pL\n10,20,3\n30,20,1\n")),
                "map.csv",
                OptionalDouble.empty(),
                0.1,
                problems));

        assertThat(lines()).isEmpty();
        assertThat(map.cubicMetres()).containsExactly(new double[] {2.7e-15, 0.9e-15}, within(1e-27));
        assertThat(volumes.cubicMetres()).containsExactly(map.cubicMetres(), within(1e-27));
        assertThat(map.x()).containsExactly(new double[] {10e-6, 30e-6}, within(1e-18));
        assertThat(map.lines()).containsExactly(2, 3);
    }

    @Test
    void everything_wrong_with_the_first_line_is_said_at_once() throws IOException {
        thickness("# points\nx,y_nL,height_nm\n1,2,3\n");

        String fix = "the first line is x_mm,y_mm,thickness_nm, in these units or others";
        assertThat(lines())
                .containsExactly(
                        "map.csv:2: the column x has no unit (write x_mm if that is the unit meant)",
                        "map.csv:2: the column y_nL: \"nL\" does not fit (such as y_mm)",
                        "map.csv:2: there is no column \"height_nm\" (" + fix + ")",
                        "map.csv:2: the column thickness_nm is missing (" + fix + ")");
    }

    @Test
    void every_wrong_point_is_named_with_its_line() throws IOException {
        thickness("""
                x_mm,y_mm,thickness_nm
                0,0,250
                1,0,0
                0,1,-5
                1,1,2500000
                2,2
                NaN,2,250
                3,1e9,250
                0.0,0,251
                """);

        assertThat(lines())
                .containsExactly(
                        "map.csv:6: there are 2 values, not 3 (a value for each of x, y, thickness)",
                        "map.csv:7: x is \"NaN\", no number (write it like 12.5)",
                        "map.csv:8: y is 1e9 mm, more than 10 m from the origin (look at the unit in the first line)",
                        "map.csv:3: a thickness of 0 nm is not that of a film (2 nm to 100 um: look at the unit in the first"
                                + " line; leave out places that were not measured)",
                        "map.csv:4: a thickness of -5 nm is not that of a film (2 nm to 100 um: look at the unit in the first"
                                + " line; leave out places that were not measured)",
                        "map.csv:5: a thickness of 2500000 nm is not that of a film (2 nm to 100 um: look at the unit in the"
                                + " first line; leave out places that were not measured)",
                        "map.csv:9: the point x = 0 mm, y = 0 mm stands on line 2 already (keep one of the two)");
    }

    @Test
    void a_map_a_thousand_times_off_is_none_of_a_film() throws IOException {
        thickness("x_mm,y_mm,thickness_nm\n0,0,0.25\n1,0,250\n0,1,250000\n");
        assertThat(lines())
                .containsExactly(
                        "map.csv:2: a thickness of 0.25 nm is not that of a film (2 nm to 100 um: look at the unit in the first line;"
                                + " leave out places that were not measured)",
                        "map.csv:4: a thickness of 250000 nm is not that of a film (2 nm to 100 um: look at the unit in the first"
                                + " line; leave out places that were not measured)");
    }

    @Test
    void points_that_span_no_area_are_refused() throws IOException {
        thickness("x_mm,y_mm,thickness_nm\n0,0,250\n1,1,250\n2,2,250\n");
        thickness("x_um,y_um,thickness_nm\n0,0,240\n1000,0,260\n0,1000,250\n1000,1001e-320,255\n"); // two a rounding
        // apart
        thickness("x_mm,y_mm,thickness_nm\n");

        assertThat(lines())
                .containsExactly(
                        "map.csv: its 3 points span no area, or some are too close to be told apart (give three points at"
                                + " least that are not on a line and not a rounding apart, or film.thickness for an even"
                                + " film)",
                        "map.csv: its 4 points span no area, or some are too close to be told apart (give three points at"
                                + " least that are not on a line and not a rounding apart, or film.thickness for an even"
                                + " film)",
                        "map.csv: there are no points in it (the first line is x_mm,y_mm,thickness_nm, in these units or"
                                + " others)");
    }

    @Test
    void drops_need_a_volume_and_whole_numbers() throws IOException {
        drops("x_um,y_um,drops\n1,1,2\n2,2,0\n3,3,1.5\n", OptionalDouble.empty());
        drops("x_um,y_um,volume_pL\n1,1,-2\n", OptionalDouble.empty());
        drops("x_um,y_um\n1,1\n", OptionalDouble.empty());

        assertThat(lines())
                .containsExactly(
                        "map.csv: it counts drops, and the job does not say how large a drop is (set drops.volume, such as"
                                + " \"1 pL\", or give a column volume_pL instead of drops)",
                        "map.csv:3: 0 drops are not possible (a whole number from 1 on)",
                        "map.csv:4: 1.5 drops are not possible (a whole number from 1 on)",
                        "map.csv:2: a volume of -2 pL is not that of a drop (more than 0 pL; leave out places without drop)",
                        "map.csv:1: there must be one of the columns drops and volume_pL (the first line is x_mm,y_mm,drops"
                                + " or x_mm,y_mm,volume_pL, in these units or others)");
    }

    @Test
    void after_twenty_problems_the_rest_is_counted() throws IOException {
        thickness("x_mm,y_mm,thickness_nm\n" + "1,a,2\n".repeat(30));

        assertThat(lines()).hasSize(21).last().isEqualTo("map.csv: 10 more problems like these");
    }

    @Test
    void a_file_that_is_not_there_or_not_text_is_said() throws IOException {
        assertThat(FilmMapReader.thickness(directory.resolve("none.csv"), "none.csv", problems))
                .isNull();
        Files.write(directory.resolve("map.csv"), new byte[] {(byte) 0xff, (byte) 0xfe, 1, 2});
        assertThat(FilmMapReader.thickness(directory.resolve("map.csv"), "map.csv", problems))
                .isNull();

        assertThat(lines())
                .containsExactly(
                        "none.csv: it cannot be read: there is no such file (the name is relative to the job)",
                        "map.csv: it is no text in UTF-8 (save it as plain text)");
    }
}
