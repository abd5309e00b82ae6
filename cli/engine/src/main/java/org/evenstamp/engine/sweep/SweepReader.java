package org.evenstamp.engine.sweep;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.material.Datum;
import org.evenstamp.analysis.statistics.Distribution;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.JobKey;
import org.evenstamp.engine.job.JobNode;
import org.evenstamp.engine.job.SweepChoice;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.spi.Parameters;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;
import org.jspecify.annotations.Nullable;

/** Reads the section {@code sweep} of a job. One object reads one job. */
public final class SweepReader {
    private static final int MOST_POINTS = 1_000_000;

    /** Keys that decide which tiles there are. */
    private static final Set<String> MEASURING =
            Set.of("layout.file", "layout.unit", "layout.outline", "tiles.side", "layout.format");

    private final Job job;
    private final Problems problems = new Problems();

    private SweepReader(Job job) {
        this.job = job;
    }

    /** Which keys a row has beside {@code key}, and may have. */
    @SuppressWarnings("ImmutableEnumChecker") // Set.of is
    private enum Form {
        VALUES(Set.of("values"), Set.of()),
        RANGE(Set.of("from", "to"), Set.of("steps", "scale")),
        NORMAL(Set.of("mean", "deviation"), Set.of("steps")),
        FACTOR(Set.of("median", "factor"), Set.of("steps")),
        TRIANGLE(Set.of("least", "likely", "most"), Set.of("steps")),
        TIMES(Set.of("factor"), Set.of("steps")),
        STATED(Set.of(), Set.of("steps"));

        private final Set<String> needed;
        private final Set<String> allowed;

        Form(Set<String> needed, Set<String> allowed) {
            this.needed = needed;
            this.allowed = allowed;
        }

        static Optional<Form> of(Set<String> keys) {
            for (Form form : values()) {
                boolean fits = keys.containsAll(form.needed)
                        && keys.stream()
                                .allMatch(key ->
                                        key.equals("key") || form.needed.contains(key) || form.allowed.contains(key));
                if (fits) {
                    return Optional.of(form);
                }
            }
            return Optional.empty();
        }
    }

    /**
     * Reads the plan of a job.
     *
     * @throws InputException with every problem of the section
     */
    public static SweepPlan read(Job job) {
        return new SweepReader(job).plan();
    }

    private SweepPlan plan() {
        Parameters settings = job.settings();
        SweepPlan.Design design = SweepPlan.Design.valueOf(
                settings.choice(SweepChoice.DESIGN.id()).toUpperCase(Locale.ROOT));
        List<SweepAxis> axes = axes();
        double[][] correlations = correlations(axes, design);
        List<String> kept = kept();
        problems.throwIfAny();
        if (settings.find(SweepChoice.UNTIL.id()).isPresent() && design != SweepPlan.Design.SOBOL) {
            problems.add(new Problem(
                    "sweep.until",
                    job.source(null),
                    SweepChoice.UNTIL.id(),
                    "a sweep by " + design.word() + " has no part that could be enough",
                    "leave out sweep.until, or take design: sobol"));
            problems.throwIfAny();
        }
        int samples = (int) settings.quantity(SweepChoice.SAMPLES.id());
        long points = design == SweepPlan.Design.GRID
                ? axes.stream().mapToLong(axis -> axis.levels().size()).reduce(1, (a, b) -> a * b)
                : design == SweepPlan.Design.INDICES ? (long) samples * (axes.size() + 2) : samples;
        if (points > MOST_POINTS) {
            problem(
                    job.nested(SweepChoice.VARY).orElse(null),
                    "sweep.many",
                    SweepChoice.VARY,
                    "this is " + points + " runs, more than " + MOST_POINTS,
                    "take fewer samples or levels");
            problems.throwIfAny();
        }
        try {
            return new SweepPlan(
                    job, design, axes, samples, (long) settings.quantity(SweepChoice.SEED.id()), correlations, kept);
        } catch (IllegalArgumentException e) {
            problem(
                    job.nested(SweepChoice.CORRELATE).orElse(null),
                    "sweep.correlations",
                    SweepChoice.CORRELATE,
                    String.valueOf(e.getMessage()),
                    "weaken them until every set of them can go together");
            throw new InputException(problems.all());
        }
    }

    private List<SweepAxis> axes() {
        List<SweepAxis> axes = new ArrayList<>();
        Optional<JobNode> vary = job.nested(SweepChoice.VARY);
        if (vary.isEmpty()
                || !(vary.get() instanceof JobNode.Sequence rows)
                || rows.items().isEmpty()) {
            problem(
                    vary.orElse(null),
                    "sweep.nothing",
                    SweepChoice.VARY,
                    "the job does not say what varies",
                    "such as " + SweepChoice.VARY.example());
            return axes;
        }
        for (JobNode row : rows.items()) {
            axis(row).ifPresent(axis -> {
                if (axes.stream().anyMatch(other -> other.key().equals(axis.key()))) {
                    problem(row, "sweep.twice", SweepChoice.VARY, axis.key() + " varies twice", "keep one of the two");
                } else if (MEASURING.contains(axis.key())
                        && job.nested(SweepChoice.KEEP).isPresent()) {
                    problem(
                            row,
                            "sweep.tiles",
                            SweepChoice.VARY,
                            axis.key() + " changes the tiles, and kept fields need the same tiles in every run",
                            "leave out sweep.keep");
                } else if (isPossible(row, axis)) {
                    axes.add(axis);
                }
            });
        }
        return axes;
    }

    private Optional<SweepAxis> axis(JobNode node) {
        if (!(node instanceof JobNode.Mapping row)) {
            problem(
                    node,
                    "job.type",
                    SweepChoice.VARY,
                    "a row of sweep.vary must be a group of keys, is " + node.kind(),
                    "such as " + SweepChoice.VARY.example());
            return Optional.empty();
        }
        Optional<String> key = text(row, "key");
        Optional<Form> form = Form.of(row.entries().keySet());
        if (key.isEmpty() || form.isEmpty()) {
            problem(
                    node,
                    "sweep.row",
                    SweepChoice.VARY,
                    "this row of sweep.vary has the keys "
                            + String.join(", ", row.entries().keySet()),
                    "it takes key and one of: values; from, to, steps, scale; mean, deviation; median, factor; factor;"
                            + " least, likely, most; or key alone for what its material states");
            return Optional.empty();
        }
        if (form.get() == Form.VALUES) {
            return levels(key.get(), row);
        }
        try {
            return Optional.of(
                    switch (form.get()) {
                        case TIMES -> times(key.get(), factor(row), row);
                        case STATED -> stated(key.get(), row);
                        default -> spread(key.get(), form.get(), row);
                    });
        } catch (UnitException | IllegalArgumentException e) {
            problem(node, "sweep.range", SweepChoice.VARY, key.get() + ": " + e.getMessage(), "");
            return Optional.empty();
        }
    }

    private Optional<SweepAxis> levels(String key, JobNode.Mapping row) {
        List<String> levels = new ArrayList<>();
        if (Objects.requireNonNull(row.entries().get("values")).value() instanceof JobNode.Sequence list) {
            for (JobNode item : list.items()) {
                if (item instanceof JobNode.Scalar scalar) {
                    levels.add(scalar.text());
                }
            }
        }
        if (levels.isEmpty()) {
            problem(
                    row,
                    "sweep.range",
                    SweepChoice.VARY,
                    key + " has no values",
                    "such as values: [\"2 MPa\", \"4 MPa\"]");
            return Optional.empty();
        }
        return Optional.of(new SweepAxis.Levels(key, levels));
    }

    private SweepAxis times(String key, double factor, JobNode.Mapping row) {
        if (job.settings().find(key).isEmpty()) {
            throw new IllegalArgumentException("the job has no such number that a factor could be of");
        }
        return new SweepAxis.Times(key, factor, job.unit(key), steps(row));
    }

    /** Takes what the material of a key states: of a viscosity the factor, of any other number the triangle over it. */
    private SweepAxis stated(String key, JobNode.Mapping row) {
        Datum stated = job.stated(key)
                .orElseThrow(() -> new IllegalArgumentException(
                        "no material of the job states this, or the job sets it itself; say how it varies"));
        Datum.Spread spread = stated.spread()
                .orElseThrow(() -> new IllegalArgumentException("its material states "
                        + new SweepAxis.Spread(
                                        key,
                                        new Distribution.Discrete(1),
                                        stated.value().unit(),
                                        1)
                                .text(stated.si())
                        + " and no spread; say how it varies"));
        if (key.equals(CommonParameters.FILM_VISCOSITY.id())) {
            return times(key, Math.sqrt(spread.most() / spread.least()), row);
        }
        return new SweepAxis.Spread(
                key,
                new Distribution.Triangular(spread.least(), stated.si(), spread.most()),
                stated.property().unit(),
                steps(row));
    }

    private static double factor(JobNode.Mapping row) {
        double factor = pure(row, "factor").orElseThrow(() -> new IllegalArgumentException("factor is no number"));
        return new Distribution.LogNormal(1, factor).factor();
    }

    private static int steps(JobNode.Mapping row) {
        int steps = (int) pure(row, "steps").orElse(5);
        if (steps < 1) {
            throw new IllegalArgumentException("steps must be 1 at least");
        }
        return steps;
    }

    private SweepAxis spread(String key, Form form, JobNode.Mapping row) {
        int steps = steps(row);
        String first =
                form == Form.RANGE ? "from" : form == Form.NORMAL ? "mean" : form == Form.FACTOR ? "median" : "least";
        Unit unit = quantity(row, first).unit();
        Distribution law = switch (form) {
            case RANGE -> {
                double from = quantity(row, "from").si();
                double to = quantity(row, "to").siAs(unit);
                yield text(row, "scale").orElse("linear").equals("log")
                        ? new Distribution.LogUniform(from, to)
                        : new Distribution.Uniform(from, to);
            }
            case NORMAL -> {
                Quantity deviation = quantity(row, "deviation");
                deviation.siAs(unit); // of the same kind
                // A difference takes no part of a unit's zero: 2 degC of deviation are 2 K.
                yield new Distribution.Normal(
                        quantity(row, "mean").si(),
                        deviation.value() * deviation.unit().scale());
            }
            case FACTOR -> new Distribution.LogNormal(quantity(row, "median").si(), factor(row));
            case TRIANGLE ->
                new Distribution.Triangular(
                        quantity(row, "least").si(),
                        quantity(row, "likely").siAs(unit),
                        quantity(row, "most").siAs(unit));
            case VALUES, TIMES, STATED -> throw new IllegalStateException(form + " has no distribution of its own");
        };
        return new SweepAxis.Spread(key, law, unit, steps);
    }

    private static Quantity quantity(JobNode.Mapping row, String name) {
        String text = text(row, name).orElse("");
        return Quantity.parse(isNumber(text) ? text + " 1" : text);
    }

    private static OptionalDouble pure(JobNode.Mapping row, String name) {
        Optional<String> text = text(row, name);
        return text.isPresent() && isNumber(text.get())
                ? OptionalDouble.of(Double.parseDouble(text.get()))
                : OptionalDouble.empty();
    }

    private static boolean isNumber(String text) {
        return text.strip().matches("[+-]?(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)(?:[eE][+-]?[0-9]+)?");
    }

    private static Optional<String> text(JobNode.Mapping row, String name) {
        JobNode.Entry entry = row.entries().get(name);
        return entry != null && entry.value() instanceof JobNode.Scalar scalar
                ? Optional.of(scalar.text().strip())
                : Optional.empty();
    }

    /** Tries the middle of an axis: a key that is not there, or a unit that does not fit, is told where the row stands. */
    private boolean isPossible(JobNode row, SweepAxis axis) {
        try {
            double middle = axis.law().quantile(0.5);
            boolean relative = axis instanceof SweepAxis.Times;
            job.with(axis.key(), axis.text(relative ? middle * job.settings().quantity(axis.key()) : middle));
            return true;
        } catch (InputException e) {
            for (Problem problem : e.problems()) {
                problem(row, problem.code(), SweepChoice.VARY, "sweep.vary: " + problem.message(), problem.fix());
            }
            return false;
        }
    }

    private double @Nullable [][] correlations(List<SweepAxis> axes, SweepPlan.Design design) {
        Optional<JobNode> node = job.nested(SweepChoice.CORRELATE);
        if (node.isEmpty() || !(node.get() instanceof JobNode.Sequence rows)) {
            return null;
        }
        if (design == SweepPlan.Design.GRID || design == SweepPlan.Design.INDICES) {
            problem(
                    node.get(),
                    "sweep.correlations",
                    SweepChoice.CORRELATE,
                    "keys that go together have no " + design.word(),
                    "leave out sweep.correlate, or take sobol or latin");
            return null;
        }
        List<String> keys = axes.stream().map(SweepAxis::key).toList();
        double[][] matrix = new double[axes.size()][axes.size()];
        for (int i = 0; i < matrix.length; i++) {
            matrix[i][i] = 1;
        }
        for (JobNode item : rows.items()) {
            List<String> pair = item instanceof JobNode.Mapping row
                            && row.entries().get("keys") != null
                            && row.entries().get("keys").value() instanceof JobNode.Sequence list
                    ? list.items().stream()
                            .map(one -> one instanceof JobNode.Scalar scalar ? scalar.text() : "")
                            .toList()
                    : List.of();
            OptionalDouble by = item instanceof JobNode.Mapping row ? pure(row, "by") : OptionalDouble.empty();
            if (pair.size() != 2 || by.isEmpty() || !keys.containsAll(pair) || Math.abs(by.getAsDouble()) >= 1) {
                problem(
                        item,
                        "sweep.correlations",
                        SweepChoice.CORRELATE,
                        "this row of sweep.correlate does not name two keys that vary and a correlation between -1 and 1",
                        "such as " + SweepChoice.CORRELATE.example());
            } else {
                int a = keys.indexOf(pair.get(0));
                int b = keys.indexOf(pair.get(1));
                matrix[a][b] = by.getAsDouble();
                matrix[b][a] = by.getAsDouble();
            }
        }
        return matrix;
    }

    private List<String> kept() {
        Optional<JobNode> node = job.nested(SweepChoice.KEEP);
        if (node.isEmpty()) {
            return List.of();
        }
        List<String> kept = new ArrayList<>();
        if (node.get() instanceof JobNode.Sequence list) {
            for (JobNode item : list.items()) {
                String id = item instanceof JobNode.Scalar scalar ? scalar.text() : "";
                if (job.findFieldName(id).isEmpty()) {
                    problem(
                            item,
                            "job.unknown-field",
                            SweepChoice.KEEP,
                            "there is no field \"" + id + "\" to keep",
                            "evenstamp list fields shows all fields");
                } else if (!kept.contains(id)) {
                    kept.add(id);
                }
            }
        } else {
            problem(
                    node.get(),
                    "job.type",
                    SweepChoice.KEEP,
                    "sweep.keep must be a list of fields, is " + node.get().kind(),
                    "such as " + SweepChoice.KEEP.example());
        }
        return kept;
    }

    private void problem(@Nullable JobNode node, String code, JobKey key, String message, String fix) {
        problems.add(new Problem(code, job.source(node), key.id(), message, fix));
    }
}
