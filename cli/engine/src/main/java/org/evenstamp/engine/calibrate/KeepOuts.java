package org.evenstamp.engine.calibrate;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.evenstamp.engine.job.CalibrationChoice;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.JobNode;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;

/**
 * Where nothing can be measured: the rectangles of a job's {@code calibrate.keep-out}.
 *
 * @param rectangles the rectangles, their rims included
 */
record KeepOuts(List<Rectangle> rectangles) {
    private static final Unit MM = Unit.parse("mm");

    KeepOuts {
        rectangles = List.copyOf(rectangles);
    }

    /** A rectangle, m. */
    record Rectangle(double left, double low, double right, double high) {}

    /**
     * Reads them.
     *
     * @throws InputException with a problem for every row that is none
     */
    static KeepOuts of(Job job) {
        Problems problems = new Problems();
        List<Rectangle> rectangles = new ArrayList<>();
        JobNode node = job.nested(CalibrationChoice.KEEP_OUT).orElse(null);
        List<JobNode> rows =
                node == null ? List.of() : node instanceof JobNode.Sequence list ? list.items() : List.of(node);
        for (JobNode row : rows) {
            Optional<Rectangle> rectangle = rectangle(row);
            rectangle.ifPresent(rectangles::add);
            if (rectangle.isEmpty()) {
                problems.add(new Problem(
                        "calibrate.keep-out",
                        job.source(row),
                        CalibrationChoice.KEEP_OUT.id(),
                        "this row of calibrate.keep-out is no rectangle with min left of and below max",
                        "such as " + CalibrationChoice.KEEP_OUT.example()));
            }
        }
        problems.throwIfAny();
        return new KeepOuts(rectangles);
    }

    private static Optional<Rectangle> rectangle(JobNode row) {
        if (!(row instanceof JobNode.Mapping mapping) || mapping.entries().size() != 2) {
            return Optional.empty();
        }
        double[] low = corner(mapping.entries(), "min");
        double[] high = corner(mapping.entries(), "max");
        return low.length == 2 && high.length == 2 && low[0] < high[0] && low[1] < high[1]
                ? Optional.of(new Rectangle(low[0], low[1], high[0], high[1]))
                : Optional.empty();
    }

    private static double[] corner(Map<String, JobNode.Entry> row, String name) {
        JobNode.Entry entry = row.get(name);
        if (entry == null || !(entry.value() instanceof JobNode.Sequence pair)) {
            return new double[0];
        }
        try {
            return pair.items().stream()
                    .mapToDouble(item -> Quantity.parse(item instanceof JobNode.Scalar scalar ? scalar.text() : "")
                            .siAs(MM))
                    .toArray();
        } catch (UnitException e) {
            return new double[0];
        }
    }

    /** Returns whether a place lies in one of them. */
    boolean hold(double xMetres, double yMetres) {
        return rectangles.stream()
                .anyMatch(one ->
                        xMetres >= one.left && xMetres <= one.right && yMetres >= one.low && yMetres <= one.high);
    }
}
