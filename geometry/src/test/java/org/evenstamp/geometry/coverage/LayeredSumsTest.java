package org.evenstamp.geometry.coverage;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import org.evenstamp.geometry.Polygons;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.shared.grid.TileGrid;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class LayeredSumsTest {
    private static final TileGrid GRID = new TileGrid(0, 0, 10, 10, 10);
    /** All but regions, which are no features. */
    private static final List<Role> ROLES =
            Stream.of(Role.values()).filter(role -> role != Role.REGION).toList();

    private static final LayerRules RULES = new LayerRules(true, 1e-7);

    static LongStream seeds() {
        return LongStream.range(0, 20);
    }

    private static LayeredSums sums(List<PackedPolygon> polygons) {
        LayeredSums sums = new LayeredSums(GRID, RULES::layerOf);
        polygons.forEach(sums::accept);
        return sums;
    }

    /** However the features are dealt out to workers, the sums of every role are the same to the last bit. */
    @ParameterizedTest
    @MethodSource("seeds")
    void sums_of_the_roles_do_not_depend_on_how_the_features_are_dealt_out(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        List<PackedPolygon> polygons = Polygons.stars(seed, 12, 100);
        List<List<PackedPolygon>> hands = List.of(new ArrayList<>(), new ArrayList<>(), new ArrayList<>());
        for (PackedPolygon polygon : polygons) {
            Role role = ROLES.get(random.nextInt(ROLES.size()));
            Polygons.with(polygon, new Traits(null, role, null, null));
            hands.get(random.nextInt(hands.size())).add(polygon);
        }

        LayeredSums whole = sums(polygons);
        LayeredSums merged = sums(List.of());
        hands.forEach(hand -> merged.merge(sums(hand)));

        assertThat(merged.layers().keySet())
                .extracting(Layer::role)
                .containsExactly(Role.CAVITY, Role.DUMMY, Role.PROTRUSION);
        whole.layers().forEach((layer, sums) -> {
            assertThat(merged.sumsOf(layer).coverage()).as(layer.toString()).containsExactly(sums.coverage());
            assertThat(merged.sumsOf(layer).edgeLength()).as(layer.toString()).containsExactly(sums.edgeLength());
        });
        assertThat(merged.drawnAreaSquareMetres()).isEqualTo(whole.drawnAreaSquareMetres());
    }
}
