package org.evenstamp.engine.job;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.geometry.tile.DieArray;
import org.jspecify.annotations.Nullable;

/** Reads {@code layout.array}: how the layout is stepped over the stamp. */
final class ArrayReader {
    private static final List<String> KEYS = List.of("columns", "rows", "step", "offset", "die", "omit", "turned");
    private static final List<String> PLACE = List.of("column", "row");
    private static final List<String> TURNED = List.of("column", "row", "turn");
    private static final String EXAMPLE = JobVocabulary.LAYOUT_ARRAY.example();
    private static final double FARTHEST_MILLIMETRES = 1e6;

    private final JobProblems problems;
    private final GroupReader group;
    /** Whether a key is mistyped, so that another one may only seem to be missing. */
    private final boolean mistyped;

    private boolean sound = true;

    ArrayReader(JobNode node, JobProblems problems) {
        this.problems = problems;
        int before = problems.all().size();
        group = new GroupReader(JobVocabulary.LAYOUT_ARRAY.id(), node, KEYS, EXAMPLE, problems);
        mistyped = problems.all().size() > before;
    }

    /** Returns the array, or nothing when it cannot be understood. */
    Optional<DieArray> array() {
        if (!group.sound()) {
            return Optional.empty();
        }
        int columns = count(group, "columns", DieArray.MOST_PLACES);
        int rows = count(group, "rows", DieArray.MOST_PLACES);
        if (sound && (long) columns * rows > DieArray.MOST_PLACES) {
            problem(
                    group,
                    "columns",
                    columns + " x " + rows + " dies are more than the " + DieArray.MOST_PLACES
                            + " that an array may have",
                    "fewer columns or rows");
        }
        double[] step = step();
        double[] offset = group.pair("offset", FARTHEST_MILLIMETRES).orElse(new double[2]);
        List<DieArray.Places> omitted = new ArrayList<>();
        for (GroupReader row : rows("omit", PLACE)) {
            omitted.add(places(row, columns, rows));
        }
        List<DieArray.Turn> turned = new ArrayList<>();
        for (GroupReader row : rows("turned", TURNED)) {
            turned.add(new DieArray.Turn(places(row, columns, rows), turns(row)));
        }
        if (!sound || step == null) {
            return Optional.empty();
        }
        DieArray array = new DieArray(
                columns,
                rows,
                step[0],
                step[1],
                offset[0],
                offset[1],
                group.rectangle("die").orElse(null),
                omitted,
                turned);
        if (array.places() == 0) {
            problem(group, "omit", "no die is left: all places are omitted", "omit fewer of them");
            return Optional.empty();
        }
        return Optional.of(array);
    }

    private double @Nullable [] step() {
        if (group.node("step") == null) {
            if (mistyped) {
                return null;
            }
            problem(group, "step", "says no step from die to die", "such as step: [\"2 mm\", \"2.5 mm\"]");
            return null;
        }
        double[] step = group.pair("step", FARTHEST_MILLIMETRES).orElse(null);
        if (step != null && !(step[0] > 0 && step[1] > 0)) {
            problem(
                    group,
                    "step",
                    "both steps must be longer than nothing",
                    "columns count to the right, rows upwards");
            return null;
        }
        return step;
    }

    private int count(GroupReader reader, String key, int most) {
        if (reader.node(key) == null) {
            return 1;
        }
        return whole(reader, key, most);
    }

    /** Returns a whole number from 1 on; the largest where it is none, which is a problem. */
    private int whole(GroupReader reader, String key, int most) {
        int before = problems.all().size();
        OptionalDouble value = reader.quantity(key, "1", 1, most);
        if (value.isPresent() && value.getAsDouble() == Math.rint(value.getAsDouble())) {
            return (int) value.getAsDouble();
        }
        if (problems.all().size() == before) {
            problem(reader, key, key + " must be a whole number", "");
        }
        sound = false;
        return most;
    }

    private List<GroupReader> rows(String key, List<String> known) {
        JobNode node = group.node(key);
        if (node == null) {
            return List.of();
        }
        if (!(node instanceof JobNode.Sequence list)) {
            problem(group, key, key + " must be a list of places, is " + node.kind(), "such as [{column: 1, row: 1}]");
            return List.of();
        }
        return list.items().stream()
                .map(item ->
                        new GroupReader(JobVocabulary.LAYOUT_ARRAY.id(), item, known, "{column: 1, row: 1}", problems))
                .filter(GroupReader::sound)
                .toList();
    }

    private DieArray.Places places(GroupReader row, int columns, int rows) {
        if (row.node("column") == null && row.node("row") == null) {
            problem(row, "column", "a place needs column, row or both", "such as {column: 1, row: 1}");
        }
        return new DieArray.Places(
                row.node("column") == null ? 0 : whole(row, "column", columns),
                row.node("row") == null ? 0 : whole(row, "row", rows));
    }

    private int turns(GroupReader row) {
        if (row.node("turn") == null) {
            problem(row, "turn", "says no turn", "turn is one of 90 deg, 180 deg, 270 deg");
            return 0;
        }
        OptionalDouble turns = LayerReader.quarterTurns(row, JobVocabulary.LAYOUT_ARRAY.id());
        sound &= turns.isPresent();
        return (int) turns.orElse(0);
    }

    private void problem(GroupReader reader, String key, String message, String fix) {
        sound = false;
        reader.problem(key, "job.value", JobVocabulary.LAYOUT_ARRAY.id() + ": " + message, fix);
    }
}
