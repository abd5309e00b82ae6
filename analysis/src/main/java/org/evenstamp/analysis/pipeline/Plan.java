package org.evenstamp.analysis.pipeline;

import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Curve;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Snapshot;
import org.evenstamp.shared.thread.Workers;
import org.evenstamp.shared.unit.Unit;
import org.jspecify.annotations.Nullable;

/** What will run for a job, and what will not and why. */
public final class Plan {
    private static final Pattern ID = Pattern.compile("[a-z][a-z0-9-]*(\\.[a-z0-9-]+)*");

    /** Squares of larger numbers, as statistics take them, could not be summed over all tiles. */
    private static final double MOST_SHOWN = 1e150;
    /** Metres from the origin that a place may be away: in micrometres still a number. */
    private static final double FARTHEST = 1e100;

    private static final Unit SECOND = Unit.parse("s");

    /** An analysis ready to run. */
    record Step(FoundAnalysis found, Analysis analysis) {}

    private final List<FieldName> tileFields;
    private final List<FoundAnalysis> running;
    private final List<Step> steps;
    private final List<Skipped> skipped;

    /** Every step comes after those whose fields it reads. */
    Plan(Collection<FieldName> tileFields, List<FoundAnalysis> running, List<Step> steps, List<Skipped> skipped) {
        this.tileFields = List.copyOf(tileFields);
        this.running = List.copyOf(running);
        this.steps = List.copyOf(steps);
        this.skipped = List.copyOf(skipped);
    }

    /** Returns the analyses that will run, in the order in which they were found. */
    public List<FoundAnalysis> running() {
        return running;
    }

    /** Returns the analyses that will not run, in the order in which they were found. */
    public List<Skipped> skipped() {
        return skipped;
    }

    /** Returns the names of all fields that {@link #run} will deliver, in their order there. */
    public List<FieldName> fieldNames() {
        return Stream.concat(
                        tileFields.stream(),
                        running.stream().flatMap(analysis -> analysis.description().gives().stream()))
                .toList();
    }

    /**
     * Runs the analyses, independent ones side by side. Each may use all the threads; which one finishes first does not
     * show in the outcome.
     *
     * <p>Cancelling {@code progress}, or interrupting the calling thread, ends the run at the next place where each
     * analysis counts its work.
     *
     * @param tileMap at least the fields the plan was made for
     * @param threads number of threads, at least 1
     * @throws InputException with the problems of every analysis that refused its input
     * @throws AnalysisFailure when an analysis has a bug; of several the first in order
     * @throws CancelledException when asked to stop
     */
    public Outcome run(FieldSet tileMap, int threads, Progress progress) {
        if (threads < 1) {
            throw new IllegalArgumentException("at least one thread is needed, not " + threads);
        }
        tileFields.forEach(tileMap::get);
        List<Outcome.Answer> answers = runAll(tileMap, threads, progress);
        FieldSet all = tileMap;
        for (Outcome.Answer answer : answers) {
            all = all.with(answer.result().fields()).withNumbers(limitable(answer));
        }
        return new Outcome(all, answers, skipped);
    }

    /** Returns the figures of an answer that a job may limit. */
    private static Map<FieldName, Double> limitable(Outcome.Answer answer) {
        Map<FieldName, Double> numbers = new LinkedHashMap<>();
        for (FieldName name : answer.analysis().limitableFigures()) {
            answer.result().figures().stream()
                    .filter(figure -> name.id().equals(answer.analysis().id() + "." + figure.id()))
                    .forEach(figure -> numbers.put(name, figure.valueSi()));
        }
        return numbers;
    }

    private List<Outcome.Answer> runAll(FieldSet tileMap, int threads, Progress progress) {
        Schedule schedule = new Schedule(steps, Compatibility.givers(running));
        Workers.run("analysis", Math.min(threads, Math.max(1, steps.size())), progress, () -> {
            for (var step = schedule.next(); step.isPresent(); step = schedule.next()) {
                try {
                    List<Field> given = schedule.given(step.get());
                    schedule.done(step.get(), run(step.get(), tileMap, given, threads, progress));
                } catch (RuntimeException | Error e) {
                    schedule.failed(step.get(), e);
                }
            }
            return schedule;
        });
        progress.checkCancelled();
        throwFailures(schedule);
        return running.stream()
                .map(found -> new Outcome.Answer(found, schedule.result(found).orElseThrow()))
                .toList();
    }

    /** Throws the problems of all that refused their input, or else the first bug in order. */
    private void throwFailures(Schedule schedule) {
        Problems problems = new Problems();
        for (FoundAnalysis analysis : running) {
            Throwable cause = schedule.failure(analysis).orElse(null);
            if (cause instanceof InputException e) {
                problems.add(e);
            } else if (cause instanceof RuntimeException e) {
                throw e;
            } else if (cause instanceof Error e) {
                throw e;
            }
        }
        problems.throwIfAny();
    }

    private static AnalysisResult run(
            Step step, FieldSet tileMap, List<Field> sources, int threads, Progress progress) {
        progress.checkCancelled();
        AnalysisDescription description = step.found.description();
        FieldSet there = tileMap.with(sources);
        List<Field> wanted = Stream.concat(description.needs().stream(), description.uses().stream())
                .flatMap(name -> there.find(name.id()).stream())
                .toList();
        FieldSet given = FieldSet.empty(tileMap.grid()).with(wanted);
        AnalysisContext context = new AnalysisContext(
                tileMap.grid(), tileMap.links().map(given::with).orElse(given), threads, progress);
        @Nullable AnalysisResult result;
        try {
            result = step.analysis.run(context);
        } catch (InputException e) {
            throw e;
        } catch (Throwable e) { // a plug-in may throw anything, checked exceptions included
            if (e instanceof CancelledException cancelled && progress.cancelled()) {
                throw cancelled;
            }
            throw new AnalysisFailure(step.found, e);
        } finally {
            if (!progress.cancelled()) {
                Thread.interrupted(); // what an analysis did to its own thread is not for the next one
            }
        }
        if (result == null) { // a plug-in need not have been compiled with our null checks
            throw new AnalysisFailure(step.found, "returned null");
        }
        try {
            checkDelivered(step.found, tileMap, result);
        } catch (AnalysisFailure e) {
            throw e;
        } catch (RuntimeException e) { // lists that hold nothing, or change while they are looked at
            throw new AnalysisFailure(step.found, e);
        }
        return result;
    }

    private static void checkDelivered(FoundAnalysis found, FieldSet tileMap, AnalysisResult result) {
        Map<String, FieldName> open = new HashMap<>();
        found.description().gives().forEach(name -> open.put(name.id(), name));
        for (Field field : result.fields()) {
            FieldName declared = open.remove(field.name().id());
            if (declared == null) {
                throw new AnalysisFailure(
                        found, "delivered the field " + field.name().id() + ", which it did not declare or twice");
            }
            if (!declared.equals(field.name())) {
                throw new AnalysisFailure(found, "declared " + declared + " but delivered " + field.name());
            }
            if (!field.grid().equals(tileMap.grid())) {
                throw new AnalysisFailure(
                        found, "delivered the field " + field.name().id() + " on another grid: " + field.grid());
            }
        }
        checkNumbers(found, result);
        for (Finding.Warning warning : result.warnings()) {
            if (warning.place() instanceof Place.Tile tile
                    && !(Math.abs(tile.xMetres()) <= FARTHEST && Math.abs(tile.yMetres()) <= FARTHEST)) {
                throw new AnalysisFailure(found, "warns of a place that is no number: " + warning.message());
            }
            Objects.requireNonNull(warning.origin(), "the origin of a warning");
            Objects.requireNonNull(warning.code(), "the code of a warning");
            Objects.requireNonNull(warning.message(), "the message of a warning");
            Objects.requireNonNull(warning.place(), "the place of a warning");
        }
        Map<String, Double> times = new HashMap<>();
        for (Snapshot snapshot : result.snapshots()) {
            Field field = snapshot.field();
            if (!found.description().gives().contains(field.name())
                    || !field.grid().equals(tileMap.grid())) {
                throw new AnalysisFailure(
                        found, "delivered a snapshot of " + field.name() + ", which is none of a field it gives");
            }
            checkShown(found, "the time of a snapshot", SECOND, snapshot.seconds());
            checkField(found, field);
            Double before = times.put(field.name().id(), snapshot.seconds());
            if (before != null && before >= snapshot.seconds()) {
                throw new AnalysisFailure(
                        found, "delivered snapshots of " + field.name().id() + " out of order");
            }
        }
        if (!open.isEmpty()) {
            throw new AnalysisFailure(
                    found,
                    "did not deliver what it declared: "
                            + String.join(", ", open.keySet().stream().sorted().toList()));
        }
    }

    /** What is delivered must be a number in the unit it is shown in too, and its name fit for a file. */
    private static void checkNumbers(FoundAnalysis found, AnalysisResult result) {
        Set<String> ids = new HashSet<>();
        for (Figure figure : result.figures()) {
            checkId(found, "figure", figure.id(), ids);
            checkShown(found, "the figure " + figure.id(), figure.unit(), figure.valueSi());
        }
        ids.clear();
        for (Curve curve : result.curves()) {
            checkId(found, "curve", curve.id(), ids);
            for (Curve.Column column : curve.columns()) {
                for (int i = 0; i < column.length(); i++) {
                    checkShown(found, "the curve " + curve.id(), column.unit(), column.at(i));
                }
            }
        }
        result.fields().forEach(field -> checkField(found, field));
    }

    private static void checkField(FoundAnalysis found, Field field) {
        if (found.plugIn()) {
            for (double value : field.toArray()) { // 0 where the tile has no value
                checkShown(found, "the field " + field.name().id(), field.name().unit(), value);
            }
        }
    }

    private static void checkId(FoundAnalysis found, String what, String id, Set<String> before) {
        if (!ID.matcher(id).matches() || !before.add(id)) {
            throw new AnalysisFailure(
                    found, "delivered a " + what + " \"" + id + "\", which is no dotted lower-case words, or twice");
        }
    }

    private static void checkShown(FoundAnalysis found, String what, Unit unit, double si) {
        if (!(Math.abs(unit.fromSi(si)) <= MOST_SHOWN)) {
            throw new AnalysisFailure(
                    found, "delivered " + what + " that is no number of " + unit.symbol() + " up to " + MOST_SHOWN);
        }
    }
}
