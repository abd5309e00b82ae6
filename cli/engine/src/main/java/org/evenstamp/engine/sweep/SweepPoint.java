package org.evenstamp.engine.sweep;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;

/**
 * What one run of a sweep found.
 *
 * @param index number of the point
 * @param failure why it could not be computed; empty when it was
 * @param limits for each limit of the job what it looks at, SI; nothing where no tile has a value
 * @param margins for each limit how far inside it that is ({@link org.evenstamp.analysis.limit.LimitCheck#margin})
 * @param figures figures of the analyses, SI, by {@code analysis.figure}
 */
public record SweepPoint(
        int index,
        String failure,
        List<OptionalDouble> limits,
        List<OptionalDouble> margins,
        Map<String, Double> figures) {
    /** Copies the lists. */
    public SweepPoint {
        limits = List.copyOf(limits);
        margins = List.copyOf(margins);
        figures = Collections.unmodifiableMap(new LinkedHashMap<>(figures));
    }

    /** Returns a point that could not be computed. */
    public static SweepPoint failed(int index, String reason) {
        return new SweepPoint(index, reason, List.of(), List.of(), Map.of());
    }

    /** Returns whether it could be computed. */
    public boolean finished() {
        return failure.isEmpty();
    }

    /** Returns whether all limits hold; a limit without a value holds. */
    public boolean withinLimits() {
        return margins.stream().allMatch(margin -> margin.isEmpty() || margin.getAsDouble() >= 0);
    }

    /** Returns the margin of the limit that is nearest to breaking; nothing where there is none. */
    public OptionalDouble tightest() {
        return margins.stream()
                .filter(OptionalDouble::isPresent)
                .mapToDouble(OptionalDouble::getAsDouble)
                .min();
    }
}
