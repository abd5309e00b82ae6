package org.evenstamp.geometry.merge;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.SplittableRandom;
import java.util.stream.LongStream;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class BoxPairsTest {
    static LongStream seeds() {
        return LongStream.range(0, 40);
    }

    /** Oracle: every box with every other. Boxes of very different sizes, many on whole numbers so that they touch. */
    @ParameterizedTest
    @MethodSource("seeds")
    void pairs_are_those_of_the_slow_comparison(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        int count = random.nextInt(1, 300);
        float[] boxes = new float[4 * count];
        for (int i = 0; i < count; i++) {
            float x = random.nextInt(-50, 50);
            float y = random.nextInt(-50, 50);
            float width = random.nextInt(8) == 0 ? random.nextInt(0, 90) : random.nextInt(0, 4);
            float height = random.nextInt(8) == 0 ? random.nextInt(0, 90) : random.nextInt(0, 4);
            boolean absent = random.nextInt(10) == 0;
            boxes[4 * i] = x;
            boxes[4 * i + 1] = y;
            boxes[4 * i + 2] = absent ? x - 1 : x + width;
            boxes[4 * i + 3] = absent ? y - 1 : y + height;
        }
        LongStream.Builder expected = LongStream.builder();
        for (int i = 0; i < count; i++) {
            for (int j = i + 1; j < count; j++) {
                if (boxes[4 * i + 2] >= boxes[4 * i]
                        && boxes[4 * j + 2] >= boxes[4 * j]
                        && boxes[4 * i] <= boxes[4 * j + 2]
                        && boxes[4 * j] <= boxes[4 * i + 2]
                        && boxes[4 * i + 1] <= boxes[4 * j + 3]
                        && boxes[4 * j + 1] <= boxes[4 * i + 3]) {
                    expected.add((long) i << 32 | j);
                }
            }
        }
        long[] pairs = new BoxPairs(boxes, 1_000_000).find(2, new Progress().stage("", 0, ""));
        assertThat(pairs).containsExactly(expected.build().toArray());
    }

    @Test
    void search_ends_soon_after_its_budget() {
        float[] boxes = new float[4 * 5000];
        for (int i = 0; i < 5000; i++) {
            boxes[4 * i + 2] = 1;
            boxes[4 * i + 3] = 1;
        }
        long[] pairs = new BoxPairs(boxes, 100).find(1, new Progress().stage("", 0, ""));
        assertThat(pairs.length).isBetween(101, 5000);
    }
}
