package org.evenstamp.geometry.tile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import org.evenstamp.geometry.Polygons;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.tile.MapOptions.Around;
import org.evenstamp.geometry.tile.MapOptions.Drawn;
import org.evenstamp.geometry.tile.MapOptions.Outline;
import org.evenstamp.geometry.tile.MapOptions.Structure;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.LandLinks;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class LandNetworkTest {
    private static final double UM = 1e-6;

    private static PackedPolygon rectangle(double x0, double y0, double x1, double y1) {
        return Polygons.mapped(Polygons.of(Polygons.rectangle(x0, y0, x1, y1)), UM, 0, 0, 0, UM, 0);
    }

    private static TileMap map(List<PackedPolygon> cavities, double width, double height, double side, Around around) {
        return map(cavities, new Outline(0, 0, width * UM, height * UM), side, Structure.SOLVED, around);
    }

    private static TileMap map(
            List<PackedPolygon> cavities, Outline outline, double side, Structure structure, Around around) {
        MapOptions options = new MapOptions(Drawn.CAVITIES, 150e-9, outline, side * UM, structure, around, 2);
        return new TileMapper(options).map(Polygons.store(cavities), new Progress());
    }

    private static double[] values(TileMap map, FieldName name) {
        return map.fields().get(name).toArray();
    }

    private static double mean(double[] values) {
        return Arrays.stream(values).average().orElseThrow();
    }

    /** Strips of land 200 um wide, 12 times the torsion function over them is the cube of the width: at any side the same. */
    @ParameterizedTest
    @CsvSource({"25, 0", "40, 13", "50, 7", "80, 31", "100, 0", "160, 20", "200, 50", "400, 30"})
    void moments_of_wide_land_add_up_to_the_closed_form_at_every_tile_side(double side, double shift) {
        List<PackedPolygon> cavities = new ArrayList<>();
        for (int n = 0; n < 4; n++) {
            double x = 400 * n + 30 + shift;
            cavities.add(rectangle(x, 0, x + 200, 800));
        }
        TileMap map = map(cavities, 1600, 800, side, Around.REPEATS);
        assertThat(mean(values(map, TileFields.SQUEEZE_MOMENT)) / (Math.pow(200 * UM, 3) / (400 * UM)))
                .isCloseTo(1, within(2e-3));
    }

    /** What even sinking displaces leaves: into own cavities, and over links that cancel, and through walls on sides. */
    @ParameterizedTest
    @ValueSource(ints = {0, 1, 2, 3, 4, 5, 6, 7, 8, 9})
    void what_even_sinking_displaces_leaves_somewhere(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        List<PackedPolygon> cavities = new ArrayList<>();
        for (int n = 0; n < 12; n++) {
            double x = 100 * random.nextInt(0, 9);
            double y = 100 * random.nextInt(0, 9) + random.nextInt(0, 40);
            cavities.add(rectangle(x, y, x + random.nextInt(1, 4) * 40, y + random.nextInt(30, 120)));
        }
        TileMap map = map(cavities, 1000, 1000, 100, Around.REPEATS);
        LandLinks links = map.fields().links().orElseThrow();
        double[] moment = links.moment();
        double[] fraction = values(map, TileFields.CAVITY_FRACTION);
        double lost = 0;
        for (int i = 0; i < 100; i++) {
            int right = i / 10 * 10 + (i + 1) % 10;
            int left = i / 10 * 10 + (i + 9) % 10;
            int up = (i + 10) % 100;
            int down = (i + 90) % 100;
            double u = moment[i] / 12 / 1e-8;
            double left1 = links.linkRight()[left] * (u - moment[left] / 12e-8);
            double out = links.own()[i]
                    + links.linkRight()[i] * (u - moment[right] / 12e-8)
                    + left1
                    + links.linkUp()[i] * (u - moment[up] / 12e-8)
                    + links.linkUp()[down] * (u - moment[down] / 12e-8)
                    + u
                            * (Math.max(0, links.wallRight()[i])
                                    + Math.max(0, links.wallUp()[i])
                                    + Math.max(0, -links.wallRight()[left])
                                    + Math.max(0, -links.wallUp()[down]));
            if (links.own()[i] > 0 && fraction[i] < 1) {
                assertThat(out).as("tile " + i).isCloseTo(1, within(1e-9));
            }
            if (fraction[i] == 0) {
                lost += links.own()[i] / 100;
            }
        }
        assertThat(lost)
                .as("share of what pure land displaces that its links do not carry")
                .isLessThan(0.05);
    }

    /** Edges on the lines between tiles, off by rounding: twelve rectangles that once made tears of 1e10. */
    @Test
    void edges_on_tile_lines_leave_no_slivers() {
        List<PackedPolygon> cavities = new ArrayList<>();
        for (int k = 0; k < 12; k++) {
            double x = -6000 + 80.0 * (10 + 11 * k);
            double y = -3000 + 37.0 * k;
            cavities.add(rectangle(x, y, x + 120, y + 500));
        }
        Outline outline = new Outline(-6e-3, -6e-3, 6e-3, 6e-3);
        TileMap map = map(cavities, outline, 80, Structure.ESTIMATED, Around.REPEATS);
        double[] fraction = values(map, TileFields.CAVITY_FRACTION);
        double[] edge = values(map, TileFields.EDGE_DENSITY);
        double[] volume = values(map, TileFields.CAVITY_VOLUME);
        double length = 0;
        for (int i = 0; i < fraction.length; i++) {
            assertThat(fraction[i] == 0 || fraction[i] > 1e-6).as("tile " + i).isTrue();
            assertThat(volume[i] > 0).isEqualTo(fraction[i] > 0);
            assertThat(fraction[i] > 0 || edge[i] == 0).isTrue();
            length += edge[i] * 6400e-12;
        }
        assertThat(length).isCloseTo(12 * 1240e-6, within(1e-9));
    }

    /** The edges of these rectangles lie on the lines between tiles; which tile owns a line differs in the mirror. */
    @Test
    void mirrored_layout_with_edges_on_tile_lines_has_the_mirrored_map() {
        List<PackedPolygon> plain = new ArrayList<>();
        List<PackedPolygon> mirrored = new ArrayList<>();
        for (int k = 0; k < 5; k++) {
            double x = 80.0 * (1 + 3 * k);
            double y = 37.0 * k + 40;
            plain.add(rectangle(x, y, x + 120, y + 300));
            mirrored.add(rectangle(1280 - x - 120, y, 1280 - x, y + 300));
        }
        TileMap a = map(plain, 1280, 640, 80, Around.REPEATS);
        TileMap b = map(mirrored, 1280, 640, 80, Around.REPEATS);
        for (FieldName name : List.of(TileFields.SQUEEZE_MOMENT, TileFields.EDGE_DENSITY, TileFields.CAVITY_FRACTION)) {
            for (int row = 0; row < 8; row++) {
                for (int column = 0; column < 16; column++) {
                    double here = a.fields().get(name).at(column, row);
                    assertThat(b.fields().get(name).at(15 - column, row))
                            .as(name.id() + " " + column + " " + row)
                            .isCloseTo(here, within(1e-5 * Math.abs(here) + 1e-30));
                }
            }
        }
    }

    /**
     * Tiles of 8.25, 2.5, 1.5 and 1.25 periods cut a grating unevenly: the film sees the same grating in all of them, where
     * the share of a tile alone is off by up to a fifth.
     */
    @ParameterizedTest
    @CsvSource({"330, 0", "330, 110", "100, 0", "100, 33", "60, 20", "60, 41", "60, 12", "50, 5.5"})
    void film_sees_an_even_grating_however_tiles_cut_it(double side, double shift) {
        List<PackedPolygon> cavities = new ArrayList<>();
        for (int n = -20; n * 40 < 4 * side + 40; n++) {
            cavities.add(rectangle(40 * n + shift, -side, 40 * n + shift + 30, 4 * side));
        }
        TileMap map = map(cavities, 4 * side, 3 * side, side, Around.REPEATS);
        LandLinks links = map.fields().links().orElseThrow();
        for (int i = 0; i < links.fraction().length; i++) {
            assertThat(links.fraction()[i]).isCloseTo(0.75, within(2e-3));
            assertThat(links.volume()[i]).isCloseTo(0.75 * 150e-9, within(2e-3 * 150e-9));
        }
        assertThat(mean(links.moment()))
                .isCloseTo(mean(values(map, TileFields.SQUEEZE_MOMENT)), within(1e-12 * 25e-12));
        assertThat(mean(links.fraction())).isCloseTo(mean(values(map, TileFields.CAVITY_FRACTION)), within(1e-12));
    }
}
