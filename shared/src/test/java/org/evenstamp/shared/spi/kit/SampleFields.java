package org.evenstamp.shared.spi.kit;

import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.grid.TileGrid;

/**
 * Fields of the tile map that could be those of a real stamp: cavities of one depth, long protrusions between them.
 *
 * <p>From the cavity fraction, a depth and a pattern pitch follow all others by the geometry of parallel lines: protrusions
 * of width {@code s = (1 - fraction) pitch}, squeeze moment {@code (1 - fraction) s^2}, longest flow path {@code s / 2},
 * mean flow path {@code s / 4}, two edges a pitch. A tile without cavity has neither edges nor cavity widths; its
 * protrusions, and so its flow paths, are as wide as the tile.
 */
public final class SampleFields {
    private SampleFields() {}

    /** Returns random cavity fractions, depth between 50 and 500 nm, pattern pitch between 0.2 and 20 um. */
    public static FieldSet random(TileGrid grid, long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        double[] fraction = random.doubles(grid.size()).toArray();
        return of(grid, fraction, random.nextDouble(50e-9, 500e-9), random.nextDouble(0.2e-6, 20e-6));
    }

    /** Returns the same cavity fraction everywhere, from 0 (none) to 1 (nothing else). */
    public static FieldSet uniform(TileGrid grid, double fraction) {
        double[] fractions = new double[grid.size()];
        Arrays.fill(fractions, fraction);
        return of(grid, fractions, 200e-9, 2e-6);
    }

    /** Returns the fields of line patterns with these cavity fractions. */
    public static FieldSet of(TileGrid grid, double[] fraction, double depthMetres, double pitchMetres) {
        int size = grid.size();
        double[] volume = new double[size];
        double[] edges = new double[size];
        double[] wall = new double[size];
        double[] moment = new double[size];
        double[] meanPath = new double[size];
        double[] longestPath = new double[size];
        double[] protrusion = new double[size];
        double[] cavity = new double[size];
        double[] depth = new double[size];
        for (int i = 0; i < size; i++) {
            double land = 1 - fraction[i];
            double width = fraction[i] == 0 ? grid.pitchMetres() : land * pitchMetres;
            volume[i] = fraction[i] * depthMetres;
            edges[i] = fraction[i] == 0 || land == 0 ? 0 : 2 / pitchMetres;
            wall[i] = edges[i] * depthMetres;
            moment[i] = land * width * width;
            meanPath[i] = width / 4;
            longestPath[i] = width / 2;
            protrusion[i] = land == 0 ? Double.NaN : width;
            depth[i] = fraction[i] == 0 ? Double.NaN : depthMetres;
            cavity[i] = fraction[i] == 0 ? Double.NaN : fraction[i] * pitchMetres;
        }
        return FieldSet.empty(grid)
                .with(List.of(
                        Field.of(TileFields.CAVITY_FRACTION, grid, fraction),
                        Field.of(TileFields.CAVITY_VOLUME, grid, volume),
                        Field.of(TileFields.CAVITY_DEPTH_MIN, grid, depth),
                        Field.of(TileFields.CAVITY_DEPTH_MAX, grid, depth),
                        Field.of(TileFields.EDGE_DENSITY, grid, edges),
                        Field.of(TileFields.WALL_AREA, grid, wall),
                        Field.of(TileFields.SQUEEZE_MOMENT, grid, moment),
                        Field.of(TileFields.FLOW_PATH_MEAN, grid, meanPath),
                        Field.of(TileFields.FLOW_PATH_MAX, grid, longestPath),
                        Field.of(TileFields.PROTRUSION_WIDTH_MIN, grid, protrusion),
                        Field.of(TileFields.CAVITY_WIDTH_MIN, grid, cavity)));
    }

    /** Returns a field of numbers between 0 and 1 of its unit, for a field that no tile map gives. */
    public static Field numbers(FieldName name, TileGrid grid, long seed) {
        return Field.of(
                name,
                grid,
                new SplittableRandom(seed)
                        .doubles(grid.size())
                        .map(name.unit()::toSi)
                        .toArray());
    }
}
