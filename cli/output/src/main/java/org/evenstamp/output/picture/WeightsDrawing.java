package org.evenstamp.output.picture;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import org.evenstamp.analysis.statistics.SobolIndices;
import org.evenstamp.engine.sweep.SweepSummary;

/**
 * Draws what matters for each limit of a sweep, the weightiest key first (a tornado): bars of the weights to the right where the
 * number rises with the key and to the left where it falls; or the total Sobol index with its interval, and in it the first-order
 * one.
 */
public final class WeightsDrawing {
    private static final double LEFT = 220;
    private static final double WIDE = 420;
    private static final double BAR = 20;
    private static final int RISES = 0x0b5566;
    private static final int FALLS = 0xb5651d;
    private static final int TOTAL = 0xa9c6ce;

    private WeightsDrawing() {}

    /** Returns whether there is anything to draw. */
    public static boolean has(SweepSummary summary) {
        return summary.limits().stream()
                .anyMatch(one -> one.weights().isPresent() || one.indices().isPresent());
    }

    /**
     * Returns the text of an SVG file.
     *
     * @param keys the keys that vary
     * @param limits the limits of the summary in words, in its order
     */
    public static String svg(SweepSummary summary, List<String> keys, List<String> limits) {
        Svg sheet = new Svg();
        double height = draw(summary, keys, limits, sheet);
        return sheet.file(LEFT + WIDE + 110, height, "what matters");
    }

    /** Returns a PNG file. */
    public static byte[] png(SweepSummary summary, List<String> keys, List<String> limits) {
        PixelSheet sheet = new PixelSheet();
        double height = draw(summary, keys, limits, sheet);
        return sheet.file(LEFT + WIDE + 110, height);
    }

    private static double draw(SweepSummary summary, List<String> keys, List<String> limits, Sheet sheet) {
        boolean shares = summary.limits().stream().anyMatch(one -> one.indices().isPresent());
        sheet.text(LEFT, 26, 16, "start", "What matters for each limit");
        sheet.text(
                LEFT,
                46,
                12.5,
                "start",
                shares
                        ? "light: total index with its 95 % interval; dark: first-order index"
                        : "deviations that the number changes by for one of the key; blue rises, brown falls");
        double y = 66;
        for (int i = 0; i < summary.limits().size(); i++) {
            SweepSummary.OneLimit one = summary.limits().get(i);
            if (one.weights().isEmpty() && one.indices().isEmpty()) {
                continue;
            }
            sheet.text(LEFT, y + 14, 13, "start", limits.get(i));
            y += 24;
            double top = y;
            for (int key : order(one, keys.size())) {
                sheet.text(LEFT - 8, y + BAR / 2 + 4, 12.5, "end", keys.get(key));
                if (one.indices().isPresent()) {
                    shares(sheet, one.indices().get(), key, y);
                } else {
                    weight(sheet, one.weights().orElseThrow().get(key), y);
                }
                y += BAR + 4;
            }
            double zero = one.indices().isPresent() ? LEFT : LEFT + WIDE / 2;
            sheet.line(zero, top - 2, zero, y - 2, "#1a1a1a", 1);
            y += 12;
        }
        return y + 8;
    }

    private static List<Integer> order(SweepSummary.OneLimit one, int keys) {
        List<Integer> order = new ArrayList<>();
        for (int k = 0; k < keys; k++) {
            order.add(k);
        }
        order.sort(Comparator.comparingDouble(k -> -size(one, k)));
        return order;
    }

    private static double size(SweepSummary.OneLimit one, int key) {
        return one.indices().isPresent()
                ? one.indices().get().total().get(key).value()
                : Math.abs(one.weights().orElseThrow().get(key));
    }

    private static void weight(Sheet sheet, double weight, double y) {
        double zero = LEFT + WIDE / 2;
        double length = Math.min(1, Math.abs(weight)) * WIDE / 2;
        sheet.fill(weight < 0 ? zero - length : zero, y, length, BAR, weight < 0 ? FALLS : RISES);
        sheet.text(LEFT + WIDE + 12, y + BAR / 2 + 4, 12.5, "start", String.format(Locale.ROOT, "%+.2f", weight));
    }

    private static void shares(Sheet sheet, SobolIndices indices, int key, double y) {
        SobolIndices.Estimate total = indices.total().get(key);
        sheet.fill(LEFT, y, within(total.value()), BAR, TOTAL);
        sheet.fill(LEFT, y + 5, within(indices.first().get(key).value()), BAR - 10, RISES);
        double middle = y + BAR / 2;
        sheet.line(LEFT + within(total.least()), middle, LEFT + within(total.most()), middle, "#1a1a1a", 1.2);
        sheet.text(
                LEFT + WIDE + 12,
                y + BAR / 2 + 4,
                12.5,
                "start",
                String.format(
                        Locale.ROOT, "%.2f, %.2f", indices.first().get(key).value(), total.value()));
    }

    private static double within(double share) {
        return Math.max(0, Math.min(1, share)) * WIDE;
    }
}
