package org.evenstamp.geometry.layout;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.SplittableRandom;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.util.AffineTransformation;

class PoseTest {
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12})
    void points_and_the_copies_of_arrays_move_as_an_affine_transformation_moves_them(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        Pose pose = new Pose(
                random.nextBoolean(), random.nextInt(4), random.nextDouble() * 1e-2, random.nextDouble() * -1e-2);
        AffineTransformation map = new AffineTransformation();
        if (pose.mirroredX()) {
            map.scale(-1, 1);
        }
        map.rotate(pose.quarterTurns() * Math.PI / 2).translate(pose.shiftXMetres(), pose.shiftYMetres());
        Repeat repeat =
                new Repeat(1 + random.nextInt(4), 1 + random.nextInt(4), random.nextDouble(), -random.nextDouble());
        Repeat moved = pose.apply(repeat);
        double[] point = {random.nextDouble(), random.nextDouble()};
        double[] first = point.clone();
        pose.apply(first, 1);

        assertThat(java.util.Objects.requireNonNull(moved).count()).isEqualTo(repeat.count());
        for (int column = 0; column < repeat.columns(); column++) {
            for (int row = 0; row < repeat.rows(); row++) {
                Coordinate copy = map.transform(
                        new Coordinate(point[0] + column * repeat.dxMetres(), point[1] + row * repeat.dyMetres()),
                        new Coordinate());
                boolean found = false;
                for (int i = 0; i < moved.columns(); i++) {
                    for (int j = 0; j < moved.rows(); j++) {
                        found |= Math.hypot(
                                        first[0] + i * moved.dxMetres() - copy.x,
                                        first[1] + j * moved.dyMetres() - copy.y)
                                < 1e-12;
                    }
                }
                assertThat(found).as("copy %d, %d", column, row).isTrue();
            }
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
    void the_lines_of_a_texture_run_where_two_points_on_one_of_them_come_to(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        Pose pose = new Pose(random.nextBoolean(), random.nextInt(4), 0.1, 0.2);
        double angle = random.nextDouble() * Math.PI;
        Texture texture = new Texture(Texture.Kind.LINES, 2e-6, 1e-6, angle, Texture.Lattice.SQUARE);
        double[] line = {0, 0, Math.cos(angle), Math.sin(angle)};
        pose.apply(line, 2);
        double moved = java.util.Objects.requireNonNull(pose.apply(texture)).angleRadians();

        double along = (line[2] - line[0]) * Math.sin(moved) - (line[3] - line[1]) * Math.cos(moved);
        assertThat(Math.abs(along)).isLessThan(1e-12);
    }
}
