package org.evenstamp.output.picture;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.function.IntToDoubleFunction;
import javax.imageio.ImageIO;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.grid.TileGrid;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class MapPictureTest {
    /** Where the plot's upper left corner is. */
    private static final int LEFT = 110;

    private static final int TOP = 92;

    private static BufferedImage draw(TileGrid grid, IntToDoubleFunction value) {
        double[] values = new double[grid.size()];
        Arrays.setAll(values, value);
        MapOptions.Outline outline = new MapOptions.Outline(
                grid.originXMetres(),
                grid.originYMetres(),
                grid.originXMetres() + grid.columns() * grid.pitchMetres(),
                grid.originYMetres() + grid.rows() * grid.pitchMetres());
        return new MapPicture(outline)
                .draw(Field.of(FieldName.of("a.field", "um", "something measured"), grid, values));
    }

    private static int colour(BufferedImage image, int x, int y) {
        return image.getRGB(x, y) & 0xffffff;
    }

    @Test
    void the_lowest_row_is_at_the_bottom_and_the_first_column_on_the_left() {
        TileGrid grid = new TileGrid(0, 0, 1e-5, 2, 2);
        BufferedImage image = draw(grid, i -> i * 1e-6);
        int tile = 320;

        int quarter = tile / 2;
        assertThat(colour(image, LEFT + quarter, TOP + tile + quarter)).isEqualTo(ColourScale.at(0));
        assertThat(colour(image, LEFT + tile + quarter, TOP + tile + quarter)).isEqualTo(ColourScale.at(1 / 3.0));
        assertThat(colour(image, LEFT + quarter, TOP + quarter)).isEqualTo(ColourScale.at(2 / 3.0));
        assertThat(colour(image, LEFT + tile + quarter, TOP + quarter)).isEqualTo(ColourScale.at(1));
    }

    @Test
    void tiles_without_a_value_are_hatched_grey() {
        BufferedImage image = draw(new TileGrid(0, 0, 1e-5, 2, 1), i -> i == 0 ? Double.NaN : 1e-6);
        Set<Integer> seen = new HashSet<>();
        for (int x = 20; x < 60; x++) {
            seen.add(colour(image, LEFT + x, TOP + 100));
        }

        assertThat(seen).containsExactlyInAnyOrder(0xdcdcdc, 0x9c9c9c);
    }

    @Test
    void a_field_without_any_value_is_drawn_too() {
        assertThat(draw(new TileGrid(0, 0, 1e-5, 3, 3), i -> Double.NaN)).isNotNull();
    }

    @ParameterizedTest
    @CsvSource({"1, 1", "1, 500", "500, 1", "1000, 1000", "7, 3", "4000, 5"})
    void pictures_of_every_shape_of_grid_have_a_sensible_size(int columns, int rows) {
        BufferedImage image = draw(new TileGrid(0, 0, 1e-5, columns, rows), i -> i * 1e-9);

        assertThat(image.getWidth()).isBetween(600, 3400);
        assertThat(image.getHeight()).isBetween(300, 3400);
    }

    @Test
    void the_file_holds_every_pixel_as_drawn() throws IOException {
        SplittableRandom random = new SplittableRandom(1);
        BufferedImage drawn = new BufferedImage(67, 41, BufferedImage.TYPE_INT_RGB);
        for (int y = 0; y < 41; y++) {
            for (int x = 0; x < 67; x++) {
                drawn.setRGB(x, y, random.nextInt());
            }
        }

        // Read by the reader that comes with Java.
        BufferedImage read = ImageIO.read(new ByteArrayInputStream(PngFile.of(drawn)));

        assertThat(read.getRGB(0, 0, 67, 41, null, 0, 67)).isEqualTo(drawn.getRGB(0, 0, 67, 41, null, 0, 67));
    }

    @Test
    void a_few_outliers_do_not_leave_the_rest_one_colour() {
        TileGrid grid = new TileGrid(0, 0, 1e-5, 40, 40);
        double[] values = new double[grid.size()];
        Arrays.setAll(values, i -> i == 5 ? 1 : (i % 100) * 1e-6);
        ColourRange range = ColourRange.of(Field.of(FieldName.of("a", "um", "a"), grid, values));

        assertThat(range.high()).isLessThanOrEqualTo(99);
        assertThat(range.above()).isBetween(1, 16);
        assertThat(range.below()).isLessThanOrEqualTo(16);
    }

    @Test
    void the_scale_grows_lighter_from_end_to_end() {
        double before = -1;
        for (int i = 0; i <= 256; i++) {
            int colour = ColourScale.at(i / 256.0);
            double light = 0.2126 * (colour >> 16) + 0.7152 * ((colour >> 8) & 0xff) + 0.0722 * (colour & 0xff);
            assertThat(light).isGreaterThanOrEqualTo(before - 0.6); // whole numbers of colour
            before = light;
        }
        assertThat(ColourScale.at(Double.NEGATIVE_INFINITY)).isEqualTo(ColourScale.at(0));
    }

    @Test
    void ticks_are_round_and_few() {
        assertThat(NiceStep.ticks(0, 1, 6)).containsExactly(0.0, 0.2, 0.4, 0.6000000000000001, 0.8, 1.0);
        assertThat(NiceStep.ticks(-6, 6, 4)).containsExactly(-5.0, 0.0, 5.0);
        assertThat(NiceStep.below(7)).isEqualTo(5);
        assertThat(NiceStep.below(1)).isEqualTo(1);
        for (double high : List.of(1e-9, 0.37, 12.0, 5e7)) {
            assertThat(NiceStep.ticks(0, high, 7)).hasSizeBetween(2, 7);
        }
    }
}
