package org.evenstamp.engine.sensitivity;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import org.evenstamp.analysis.film.FilmSensitivity;
import org.evenstamp.analysis.film.FilmSensitivity.Variant;
import org.evenstamp.analysis.film.LayerGoal;
import org.evenstamp.analysis.film.LayerSensitivity;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.engine.sensitivity.SensitivityAnswer.OfGoal;
import org.evenstamp.engine.sensitivity.SensitivityAnswer.Turned;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;

/**
 * Asks the film solve of a job backwards: how the numbers that the job is about go with every value of its film, stamp and
 * process, with the cavities of every tile and with the film on every tile.
 */
public final class Sensitivity {
    /** Part of a turn by which inputs are compared: they cost no solve. */
    private static final double OF_INPUT = 1e-2;

    /** Part of a turn by which solves are compared. */
    private static final double OF_CHECK = 0.1;

    /** So many knobs of each goal are checked. */
    private static final int CHECKED = 3;

    /** Changes below this share of the largest are no effect. */
    private static final double NO_EFFECT = 1e-6;

    private static final double PERCENT = 0.01;
    private static final double NANOMETRE = 1e-9;

    private final Job job;
    private final FieldSet fields;
    private final FilmSensitivity solve;
    private List<Goal> goals;

    private Sensitivity(Job job, Results results, RunOptions options, Progress progress) {
        this.job = job;
        fields = results.fields();
        solve = FilmSensitivity.solve(FilmVariant.of(job, fields), options.threads(), progress);
        goals = Goal.of(job.limits(), fields);
    }

    /**
     * Runs a job and asks it backwards.
     *
     * @param check whether the strongest knobs are compared with central differences of solves at the same time steps
     * @throws InputException when the job's film is not solved, or its way back is not known, with the reason
     */
    public static SensitivityAnswer of(Job job, boolean check, RunOptions options, Progress progress) {
        Results results = Simulation.run(job, options, progress);
        if (results.fields().find(ImprintFields.RESIDUAL_FINAL.id()).isEmpty()) {
            Problems problems = new Problems();
            problems.add(
                    "sensitivity.no-film",
                    "",
                    "the film of this job is not solved: "
                            + results.skipped().getOrDefault("film", "its analysis is not there"),
                    "give what the film solve needs");
            problems.throwIfAny();
        }
        return new Sensitivity(job, results, options, progress).answer(results, check);
    }

    /** A knob and its variants to either side; one side alone where the job allows no other. */
    private record Sides(Knob knob, int low, int high) {}

    private SensitivityAnswer answer(Results results, boolean check) {
        List<Variant> variants = new ArrayList<>();
        List<Sides> sides = new ArrayList<>();
        for (Knob knob : Knob.of(job, fields)) {
            Variant low = turned(knob, -OF_INPUT);
            Variant high = turned(knob, OF_INPUT);
            // What is 0 and can only grow is not there.
            if (knob.fromNothing() ? low != null && high != null : low != null || high != null) {
                sides.add(new Sides(knob, add(variants, low), add(variants, high)));
            }
        }
        List<LayerGoal> layers =
                goals.stream().flatMap(goal -> goal.layer().stream()).toList();
        List<LayerSensitivity> found = solve.backAndFilling(layers, variants);
        boolean fills = found.size() > goals.size();
        if (fills) {
            goals = Stream.concat(
                            goals.stream(),
                            Stream.of(Goal.filling(solve.filledShare().orElseThrow())))
                    .toList();
        }
        List<List<Turned>> turns = new ArrayList<>();
        for (LayerSensitivity one : found) {
            turns.add(ranked(one, sides));
        }
        if (check) {
            check(turns, sides);
        }
        List<OfGoal> answers = new ArrayList<>();
        for (int g = 0; g < goals.size(); g++) {
            boolean spread = goals.get(g)
                            .layer()
                            .filter(layer -> layer.measure() == LayerGoal.Measure.SIGMA3)
                            .isPresent()
                    && found.get(g).value() > 0;
            answers.add(new OfGoal(
                    goals.get(g),
                    found.get(g).value(),
                    turns.get(g),
                    spread ? Attribution.of(found.get(g), fields) : List.of()));
        }
        return new SensitivityAnswer(
                results.with(maps(found)), answers, left(fills), solve.unfilledTiles(), solve.steps());
    }

    private static int add(List<Variant> variants, @Nullable Variant one) {
        if (one == null) {
            return -1;
        }
        variants.add(one);
        return variants.size() - 1;
    }

    private List<Goal.Left> left(boolean fills) {
        List<Goal.Left> left = new ArrayList<>(Goal.left(job.limits(), fields));
        if (!fills) {
            left.add(new Goal.Left(
                    "the time of filling", "90 % of the cavities' volume are not filled at the end, or at once"));
        }
        return left;
    }

    private static @Nullable Variant turned(Knob knob, double turns) {
        try {
            return knob.turned().by(turns);
        } catch (InputException e) {
            return null; // at the end of its range, or not free beside what else the job says
        }
    }

    private static List<Turned> ranked(LayerSensitivity goal, List<Sides> sides) {
        List<Turned> turns = new ArrayList<>();
        double most = 0;
        for (Sides side : sides) {
            double high = side.high < 0 ? 0 : goal.change(side.high);
            double low = side.low < 0 ? 0 : goal.change(side.low);
            double change = (high - low) / ((side.high < 0 || side.low < 0 ? 1 : 2) * OF_INPUT);
            most = Math.max(most, Math.abs(change));
            turns.add(
                    new Turned(side.knob.key(), side.knob.step(), side.knob.meaning(), change, OptionalDouble.empty()));
        }
        double least = NO_EFFECT * most;
        turns.removeIf(turn -> !(Math.abs(turn.change()) > least));
        turns.sort(Comparator.comparingDouble(turn -> -Math.abs(turn.change())));
        return turns;
    }

    /** Sets central differences beside the first entries of each goal; a knob is turned once for all goals. */
    private void check(List<List<Turned>> turns, List<Sides> sides) {
        Map<String, Optional<FilmSensitivity.Repeated>> layers = new LinkedHashMap<>();
        for (int g = 0; g < turns.size(); g++) {
            List<Turned> of = turns.get(g);
            for (int n = 0; n < Math.min(CHECKED, of.size()); n++) {
                Turned turn = of.get(n);
                Knob knob = sides.stream()
                        .map(Sides::knob)
                        .filter(one -> one.key().equals(turn.key()))
                        .findFirst()
                        .orElseThrow();
                Optional<FilmSensitivity.Repeated> low =
                        layers.computeIfAbsent(knob.key() + " -", k -> repeated(knob, -OF_CHECK));
                Optional<FilmSensitivity.Repeated> high =
                        layers.computeIfAbsent(knob.key() + " +", k -> repeated(knob, OF_CHECK));
                OptionalDouble less = value(goals.get(g), low);
                OptionalDouble more = value(goals.get(g), high);
                if (less.isPresent() && more.isPresent()) {
                    double difference = (more.getAsDouble() - less.getAsDouble()) / (2 * OF_CHECK);
                    of.set(
                            n,
                            new Turned(
                                    turn.key(),
                                    turn.step(),
                                    turn.meaning(),
                                    turn.change(),
                                    OptionalDouble.of(difference)));
                }
            }
        }
    }

    private static OptionalDouble value(Goal goal, Optional<FilmSensitivity.Repeated> solve) {
        if (solve.isEmpty() || goal.layer().isEmpty()) {
            return solve.map(FilmSensitivity.Repeated::seconds).orElse(OptionalDouble.empty());
        }
        return OptionalDouble.of(goal.layer().get().value(solve.get().residualMetres()));
    }

    private Optional<FilmSensitivity.Repeated> repeated(Knob knob, double turns) {
        Variant variant = turned(knob, turns);
        return variant == null ? Optional.empty() : solve.repeated(variant);
    }

    /** Returns the maps of where cavity area and film would change each goal. */
    private List<Field> maps(List<LayerSensitivity> found) {
        List<Field> maps = new ArrayList<>();
        int size = fields.grid().size();
        double[] depth = CavityDepths.of(job, fields);
        for (int g = 0; g < found.size(); g++) {
            double[] byVolume = found.get(g).byVolume();
            double[] byFraction = found.get(g).byFraction();
            double[] cavity = new double[size];
            Arrays.setAll(cavity, i -> size * PERCENT * (byFraction[i] + depth[i] * byVolume[i]));
            double[] film = found.get(g).byThickness();
            Arrays.setAll(film, i -> size * NANOMETRE * film[i]);
            Goal goal = goals.get(g);
            maps.add(map("help.cavity.", goal, "1 % more of its area as cavities", cavity));
            maps.add(map("help.film.", goal, "1 nm more film", film));
        }
        return maps;
    }

    private Field map(String prefix, Goal goal, String change, double[] values) {
        String side = goal.isNeutral() ? "" : goal.lessIsBetter() ? "; below zero it helps" : "; above zero it helps";
        FieldName name = FieldName.of(
                prefix + goal.id(),
                goal.unit(),
                goal.subject() + ", " + goal.name() + ": change if every tile got " + change
                        + " and it did what this one does" + side);
        return Field.of(name, fields.grid(), values);
    }
}
