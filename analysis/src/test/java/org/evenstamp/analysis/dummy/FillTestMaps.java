package org.evenstamp.analysis.dummy;

import java.util.SplittableRandom;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;

/** Layouts to try programs on: blocks of cavities on empty ground, nanometres deep. */
final class FillTestMaps {
    static final double DEPTH = 150e-9;

    final int columns;
    final int rows;
    final double[] volume;
    final double[] room;

    FillTestMaps(int columns, int rows, long seed) {
        this.columns = columns;
        this.rows = rows;
        SplittableRandom dice = new SplittableRandom(seed);
        double[] fraction = new double[columns * rows];
        for (int block = 0; block < Math.max(2, columns * rows / 150); block++) {
            int left = dice.nextInt(columns);
            int low = dice.nextInt(rows);
            int wide = 1 + dice.nextInt(Math.max(1, columns / 8));
            int high = 1 + dice.nextInt(Math.max(1, rows / 8));
            double value = 0.05 + 0.9 * dice.nextDouble();
            for (int row = low; row < Math.min(rows, low + high); row++) {
                for (int column = left; column < Math.min(columns, left + wide); column++) {
                    fraction[row * columns + column] = value;
                }
            }
        }
        volume = new double[columns * rows];
        room = new double[columns * rows];
        for (int i = 0; i < volume.length; i++) {
            volume[i] = DEPTH * fraction[i];
            room[i] = DEPTH * (1 - fraction[i]) * (dice.nextInt(10) == 0 ? 0 : 0.3 + 0.4 * dice.nextDouble());
        }
    }

    static Stage stage() {
        return new Progress().stage("test", 0, "iterations");
    }

    static double[] mirrored(double[] map, int columns) {
        double[] result = new double[map.length];
        for (int i = 0; i < map.length; i++) {
            result[i] = map[i - i % columns + columns - 1 - i % columns];
        }
        return result;
    }
}
