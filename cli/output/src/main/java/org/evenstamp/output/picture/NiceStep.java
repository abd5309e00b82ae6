package org.evenstamp.output.picture;

import java.util.ArrayList;
import java.util.List;

/** Round numbers for ticks and scale bars: 1, 2 or 5 times a power of ten. */
final class NiceStep {
    private NiceStep() {}

    /** Returns the largest round number that is not above {@code value}, which is positive. */
    static double below(double value) {
        double power = Math.pow(10, Math.floor(Math.log10(value)));
        double lead = value / power * (1 + 1e-12);
        return (lead >= 5 ? 5 : lead >= 2 ? 2 : 1) * power;
    }

    /** Returns the multiples of a round step from {@code low} to {@code high}, at most {@code most} and two at the least. */
    static List<Double> ticks(double low, double high, int most) {
        double step = below((high - low) / 2);
        for (double finer = step; (high - low) / finer + 1 <= most; finer = below(finer * 0.6)) {
            step = finer;
        }
        List<Double> ticks = new ArrayList<>();
        for (long i = (long) Math.ceil(low / step - 1e-9); i * step <= high + 1e-9 * step; i++) {
            ticks.add(i * step);
        }
        return ticks;
    }
}
