package org.evenstamp.geometry.tile;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.LongStream;
import org.evenstamp.geometry.Polygons;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Texture;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.geometry.tile.MapOptions.Around;
import org.evenstamp.geometry.tile.MapOptions.Drawn;
import org.evenstamp.geometry.tile.MapOptions.Outline;
import org.evenstamp.geometry.tile.MapOptions.Structure;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;

/** Small layouts and their maps, for tests. */
abstract class PolygonMaps {
    static final double DEPTH = 150e-9;
    static final double UM = 1e-6;

    static MapOptions options(Drawn drawn, Outline outline, @Nullable Double pitch, int threads) {
        return new MapOptions(drawn, DEPTH, outline, pitch, Structure.SOLVED, Around.CLOSED, threads);
    }

    static TileMap map(List<PackedPolygon> polygons, MapOptions options) {
        return new TileMapper(options).map(Polygons.store(polygons), new Progress());
    }

    static double[] values(TileMap map, org.evenstamp.shared.field.FieldName name) {
        return map.fields().get(name).toArray();
    }

    static PackedPolygon scaled(double scale, double[]... rings) {
        return Polygons.mapped(Polygons.of(rings), scale, 0, 0, 0, scale, 0);
    }

    static Traits texture(Texture texture) {
        return new Traits(null, null, null, texture);
    }

    static Traits role(Role role, @Nullable Double depth) {
        return new Traits(depth, role, null, null);
    }

    static LongStream seeds() {
        return LongStream.range(0, 10);
    }

    /** Edges of a tile without cavity lie on its sides: they are those of its neighbours' cavities. */
    static void giveToCavities(double[] lengths, double[] fraction) {
        double[] owned = lengths.clone();
        for (int i = 0; i < owned.length; i++) {
            if (fraction[i] == 0) {
                List<Integer> takers = new ArrayList<>();
                for (int j : new int[] {i % 4 > 0 ? i - 1 : -1, i - 4}) {
                    if (j >= 0 && fraction[j] > 0) {
                        takers.add(j);
                    }
                }
                lengths[i] = 0;
                for (int j : takers) {
                    lengths[j] += owned[i] / takers.size();
                }
            }
        }
    }
}
