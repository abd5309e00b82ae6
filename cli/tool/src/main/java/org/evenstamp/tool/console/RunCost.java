package org.evenstamp.tool.console;

import java.lang.management.ManagementFactory;
import java.lang.management.MemoryPoolMXBean;
import java.lang.management.MemoryType;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.evenstamp.shared.progress.Stage;

/** Tells what a run cost: the time of each stage and the memory of all. */
public final class RunCost {
    private RunCost() {}

    /** Stages of one name, such as the solves of several rounds. */
    private record Stages(int times, double seconds, long done, String unit) {
        Stages and(Stages other) {
            return new Stages(times + other.times, seconds + other.seconds, done + other.done, unit);
        }
    }

    /**
     * Returns a table with a row for each name of a stage, in the order in which they were first opened. A stage that opens
     * others counts their time too, so the rows need not add up to the whole.
     *
     * @param stages all stages of the run
     * @param seconds time of the whole run
     * @param peakHeapBytes as {@link #peakHeapBytes} says
     */
    public static String of(List<Stage> stages, double seconds, long peakHeapBytes) {
        Map<String, Stages> rows = new LinkedHashMap<>();
        for (Stage stage : stages) {
            rows.merge(stage.name(), new Stages(1, stage.seconds(), stage.done(), stage.unit()), Stages::and);
        }
        int width = rows.keySet().stream().mapToInt(String::length).max().orElse(0);
        String form = "%-" + Math.max(width, "stage".length()) + "s %6s %10s  %s%n";
        StringBuilder text = new StringBuilder();
        if (!rows.isEmpty()) {
            text.append(String.format(Locale.ROOT, form, "stage", "times", "seconds", "amount"));
        }
        rows.forEach((name, row) -> text.append(String.format(
                Locale.ROOT,
                form,
                name,
                row.times(),
                String.format(Locale.ROOT, "%.3f", row.seconds()),
                ProgressLine.amount(row.done(), row.unit()))));
        return text.append(String.format(
                        Locale.ROOT, "%.3f s in all, heap at most %.0f MB%n", seconds, Math.ceil(peakHeapBytes * 1e-6)))
                .toString();
    }

    /**
     * Returns the most heap that this process can have used at one time, bytes: the sum of the peaks of the heap's parts, which
     * may have come at different times. It holds garbage that was not yet collected.
     */
    public static long peakHeapBytes() {
        return ManagementFactory.getMemoryPoolMXBeans().stream()
                .filter(pool -> pool.getType() == MemoryType.HEAP)
                .map(MemoryPoolMXBean::getPeakUsage)
                .mapToLong(usage -> usage == null ? 0 : usage.getUsed())
                .sum();
    }
}
