package org.evenstamp.analysis.numeric;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SpectralFilterTest {
    @ParameterizedTest
    @CsvSource({
        "1,1", "1,7", "5,1", "2,2", "3,4", "8,8", "7,5", "12,10", "17,6", "6,22", "31,9", "20,15", "9,25", "25,8",
        "16,64"
    })
    void aFilterIsTheCyclicConvolutionWithItsEvenKernelAtAnySize(int columns, int rows) {
        SplittableRandom random = new SplittableRandom(columns * 100L + rows);
        double[] in = random.doubles((long) columns * rows).toArray();
        double[] kernel = new double[columns * rows];
        for (int r = 0; r <= rows / 2; r++) {
            for (int c = 0; c <= columns / 2; c++) {
                double value = random.nextDouble();
                kernel[r * columns + c] = value;
                kernel[r * columns + (columns - c) % columns] = value;
                kernel[(rows - r) % rows * columns + c] = value;
                kernel[(rows - r) % rows * columns + (columns - c) % columns] = value;
            }
        }
        try (ThreadTeam team = new ThreadTeam(2)) {
            SpectralFilter filter = new SpectralFilter(columns, rows, team);
            double[] symbol = filter.symbolOf(kernel);
            double[] out = new double[in.length];
            filter.apply(in, symbol, out);
            for (int r = 0; r < rows; r++) {
                for (int c = 0; c < columns; c++) {
                    double sum = 0;
                    for (int s = 0; s < rows; s++) {
                        for (int d = 0; d < columns; d++) {
                            sum += in[s * columns + d]
                                    * kernel[Math.floorMod(r - s, rows) * columns + Math.floorMod(c - d, columns)];
                        }
                    }
                    assertThat(out[r * columns + c]).isCloseTo(sum, within(1e-11 * columns * rows));
                }
            }
        }
    }

    @ParameterizedTest
    @CsvSource({"64,64", "60,50", "135,128", "256,30", "1,100", "100,1", "300,2"})
    void fast_sizes_give_what_line_after_line_gives(int columns, int rows) {
        SplittableRandom random = new SplittableRandom(columns * 100L + rows);
        double[] in = random.doubles((long) columns * rows).toArray();
        double[] fast = new double[in.length];
        double[] slow = new double[in.length];
        try (ThreadTeam team = new ThreadTeam(2)) {
            double[] symbol = evenSymbol(columns, rows);
            new SpectralFilter(columns, rows, team).apply(in, symbol, fast);
            new LineFilter(columns, rows, team).apply(in, symbol, slow);
        }
        assertThat(ColumnFourier.serves(columns) && ColumnFourier.serves(rows)).isTrue();
        for (int i = 0; i < in.length; i++) {
            assertThat(fast[i]).isCloseTo(slow[i], within(1e-14));
        }
    }

    @ParameterizedTest
    @CsvSource({"48,31", "150,90", "256,64"})
    void any_number_of_threads_gives_the_same_bits(int columns, int rows) {
        double[] in = new SplittableRandom(3).doubles((long) columns * rows).toArray();
        double[][] out = new double[3][in.length];
        for (int threads = 1; threads <= 3; threads++) {
            try (ThreadTeam team = new ThreadTeam(threads)) {
                new SpectralFilter(columns, rows, team).apply(in, evenSymbol(columns, rows), out[threads - 1]);
            }
        }
        assertThat(out[1]).isEqualTo(out[0]);
        assertThat(out[2]).isEqualTo(out[0]);
    }

    private static double[] evenSymbol(int columns, int rows) {
        double[] symbol = new double[(columns / 2 + 1) * rows];
        for (int k = 0; k < symbol.length; k++) {
            int ky = SpectralFilter.signed(k % rows, rows);
            symbol[k] = 1.0 / (1 + k / rows + 3 * Math.abs(ky));
        }
        return symbol;
    }
}
