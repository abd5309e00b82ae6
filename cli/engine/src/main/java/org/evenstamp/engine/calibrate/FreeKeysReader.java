package org.evenstamp.engine.calibrate;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.evenstamp.engine.job.CalibrationChoice;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.JobNode;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;

/** Reads which keys of a job a fit may change: its {@code calibrate.free}. */
public final class FreeKeysReader {
    /** Keys that change the tile map, which all runs of a fit share. */
    private static final Set<String> MEASURING = Set.of("layout", "tiles");

    private final Job job;
    private final Problems problems = new Problems();

    private FreeKeysReader(Job job) {
        this.job = job;
    }

    /**
     * Reads the keys.
     *
     * @throws InputException with every problem of the section
     */
    public static List<FreeKey> read(Job job) {
        return new FreeKeysReader(job).keys();
    }

    private List<FreeKey> keys() {
        Optional<JobNode> free = job.nested(CalibrationChoice.FREE);
        List<FreeKey> keys = new ArrayList<>();
        if (free.isPresent() && free.get() instanceof JobNode.Sequence rows) {
            rows.items().forEach(row -> key(row).ifPresent(keys::add));
        }
        if (keys.isEmpty() && problems.isEmpty()) {
            problems.add(new Problem(
                    "calibrate.nothing",
                    job.source(free.orElse(null)),
                    CalibrationChoice.FREE.id(),
                    "the job does not say what a fit may change",
                    "such as calibrate: {free: " + CalibrationChoice.FREE.example() + "}"));
        }
        problems.throwIfAny();
        return keys;
    }

    private Optional<FreeKey> key(JobNode node) {
        Map<String, JobNode.Entry> row = node instanceof JobNode.Mapping mapping ? mapping.entries() : Map.of();
        Optional<String> key = text(row, "key");
        if (key.isEmpty()
                || !Set.of("key", "factor", "deviation", "least", "most").containsAll(row.keySet())
                || (row.containsKey("factor") && row.containsKey("deviation"))) {
            problem(
                    node,
                    "this row of calibrate.free does not name a key, and a factor or a deviation or neither, and perhaps least and most",
                    "such as " + CalibrationChoice.FREE.example());
            return Optional.empty();
        }
        String section = key.get().substring(0, Math.max(0, key.get().indexOf('.')));
        OptionalDouble start = job.settings().find(key.get());
        if (start.isEmpty() || MEASURING.contains(section) || key.get().equals("stamp.depth")) {
            problem(
                    node,
                    start.isEmpty()
                            ? "the job has no number " + key.get() + " to begin with"
                            : key.get() + " changes the tile map, which a fit leaves as it is",
                    "set it in the job, or free another key");
            return Optional.empty();
        }
        if (key.get().startsWith("calibrate.") || key.get().startsWith("sweep.")) {
            problem(node, key.get() + " is no number of the stamp, the film or the process", "free another key");
            return Optional.empty();
        }
        return free(node, row, key.get(), start.getAsDouble());
    }

    private Optional<FreeKey> free(JobNode node, Map<String, JobNode.Entry> row, String key, double start) {
        Unit unit = job.unit(key);
        try {
            double least = bound(row, "least", unit, Double.NEGATIVE_INFINITY);
            double most = bound(row, "most", unit, Double.POSITIVE_INFINITY);
            if (!(start >= least && start <= most) || !(least < most)) {
                throw new UnitException(
                        "the job's own value, with which the fit begins, must lie between least and most");
            }
            if (row.containsKey("factor")) {
                double factor = Double.parseDouble(text(row, "factor").orElse("no number"));
                if (!(factor > 1) || !(start > 0)) {
                    throw new UnitException("a factor must be above 1, of a value above 0");
                }
                return Optional.of(new FreeKey(key, start, true, FreeKey.prior(factor), least, most, unit));
            }
            if (row.containsKey("deviation")) {
                Quantity deviation = Quantity.parse(text(row, "deviation").orElse(""));
                deviation.siAs(unit);
                double si = deviation.value() * deviation.unit().scale();
                if (!(si > 0)) {
                    throw new UnitException("a deviation must be above 0");
                }
                return Optional.of(new FreeKey(key, start, false, si, least, most, unit));
            }
            return Optional.of(new FreeKey(key, start, start > 0, Double.POSITIVE_INFINITY, least, most, unit));
        } catch (UnitException | NumberFormatException e) {
            problem(node, key + ": " + e.getMessage(), "such as " + CalibrationChoice.FREE.example());
            return Optional.empty();
        }
    }

    private static double bound(Map<String, JobNode.Entry> row, String name, Unit unit, double without) {
        Optional<String> text = text(row, name);
        return text.isPresent() ? Quantity.parse(text.get()).siAs(unit) : without;
    }

    private static Optional<String> text(Map<String, JobNode.Entry> row, String name) {
        JobNode.Entry entry = row.get(name);
        return entry != null && entry.value() instanceof JobNode.Scalar scalar
                ? Optional.of(scalar.text().strip())
                : Optional.empty();
    }

    private void problem(JobNode node, String message, String fix) {
        problems.add(new Problem("calibrate.free", job.source(node), CalibrationChoice.FREE.id(), message, fix));
    }
}
