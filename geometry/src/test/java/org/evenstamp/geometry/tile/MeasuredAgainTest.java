package org.evenstamp.geometry.tile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.LongStream;
import org.evenstamp.geometry.Polygons;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.tile.MapOptions.Drawn;
import org.evenstamp.geometry.tile.MapOptions.Outline;
import org.evenstamp.geometry.tile.MapOptions.Structure;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** A layout measured a second time, on tiles twice as wide, without being read again. */
class MeasuredAgainTest {
    private static final double UM = 1e-6;

    static LongStream seeds() {
        return LongStream.range(0, 12);
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void wide_tiles_measured_after_their_parts_are_as_if_measured_alone(long seed) {
        List<PackedPolygon> polygons = new ArrayList<>();
        Polygons.stars(seed, 5, 330).forEach(star -> polygons.add(Polygons.mapped(star, UM, 0, 0, 0, UM, 0)));
        Drawn drawn = seed % 2 == 0 ? Drawn.CAVITIES : Drawn.PROTRUSIONS;
        Progress progress = new Progress();
        TileMapper.Measured parts = new TileMapper(options(drawn, 30)).measure(Polygons.store(polygons), progress);
        TileMap after =
                new TileMapper(options(drawn, 60)).measureAgain(parts, progress).tiles();
        TileMap alone = new TileMapper(options(drawn, 60)).map(Polygons.store(polygons), progress);
        assertThat(after.fields().grid()).isEqualTo(alone.fields().grid());
        int known = 0;
        for (FieldName name : List.of(TileFields.CAVITY_WIDTH_MIN, TileFields.PROTRUSION_WIDTH_MIN)) {
            Field expected = alone.fields().get(name);
            Field found = after.fields().get(name);
            for (int tile = 0; tile < expected.grid().size(); tile++) {
                assertThat(found.known(tile)).isEqualTo(expected.known(tile));
                if (expected.known(tile)) {
                    // The rim of a wide tile takes in a little more: a wall that meets it at a hundredth of a radian
                    // ends by
                    // a hundred times the difference of the slacks farther out.
                    assertThat(found.at(tile))
                            .isCloseTo(expected.at(tile), within(100 * (60 - 30) * UM * WidthMapper.SLACK));
                    assertThat(found.at(tile)).isGreaterThan(expected.at(tile) - 1e-15);
                    known++;
                }
            }
        }
        assertThat(known).isGreaterThan(10);
        assertThat(after.fields().get(TileFields.CAVITY_VOLUME).toArray())
                .containsExactly(alone.fields().get(TileFields.CAVITY_VOLUME).toArray());
    }

    private static MapOptions options(Drawn drawn, double pitch) {
        return new MapOptions(
                drawn,
                1e-7,
                new Outline(0, 0, 330 * UM, 330 * UM),
                pitch * UM,
                Structure.ESTIMATED,
                MapOptions.Around.CLOSED,
                2);
    }
}
