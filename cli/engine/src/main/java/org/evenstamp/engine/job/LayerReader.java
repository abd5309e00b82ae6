package org.evenstamp.engine.job;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.BiFunction;
import org.evenstamp.geometry.layout.Pose;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.read.LayoutFormat;
import org.evenstamp.geometry.read.ReadOptions;
import org.evenstamp.shared.unit.UnitException;
import org.jspecify.annotations.Nullable;

/** Reads one row of {@code layout.layers}: a file, and what is said of all its features. */
final class LayerReader {
    static final List<String> ROLES =
            Arrays.stream(Role.values()).map(Role::word).toList();

    private static final List<String> KEYS = List.of(
            "file",
            "unit",
            "format",
            "role",
            "depth",
            "depth-scale",
            "offset",
            "turn",
            "mirror",
            "name",
            "weight",
            "stepped");
    private static final double FARTHEST_MILLIMETRES = 1e6;
    private static final double ROUNDING = 1e-9;

    private final GroupReader row;

    LayerReader(JobNode node, JobProblems problems) {
        row = new GroupReader(
                JobVocabulary.LAYOUT_LAYERS.id(), node, KEYS, JobVocabulary.LAYOUT_LAYERS.example(), problems);
    }

    /** Returns the names of the files that a job's layers name, as far as it can be understood. */
    static List<String> files(JobNode.Mapping root) {
        List<String> files = new ArrayList<>();
        JobNode.Entry layout = root.entries().get(JobVocabulary.LAYOUT_LAYERS.section());
        JobNode.Entry layers = layout != null && layout.value() instanceof JobNode.Mapping keys
                ? keys.entries().get(JobVocabulary.LAYOUT_LAYERS.key())
                : null;
        if (layers != null && layers.value() instanceof JobNode.Sequence rows) {
            for (JobNode row : rows.items()) {
                JobNode.Entry file = row instanceof JobNode.Mapping mapping
                        ? mapping.entries().get("file")
                        : null;
                if (file != null && file.value() instanceof JobNode.Scalar name) {
                    files.add(name.text());
                }
            }
        }
        return files;
    }

    /**
     * Returns the layer, or nothing when it names no file.
     *
     * @param find finds a file by its name and the place where that stands
     */
    Optional<LayerChoice> layer(BiFunction<String, JobNode.Mark, Path> find) {
        if (!row.sound()) {
            return Optional.empty();
        }
        Optional<String> file = row.text("file");
        if (file.isEmpty() && row.node("file") == null) {
            row.problem(
                    "file", "job.missing-key", "this row of layout.layers names no file", "such as file: keepout.wkt");
        }
        Optional<String> format = row.choice("format", List.copyOf(JobVocabulary.LAYOUT_FORMATS.keySet()));
        ReadOptions.Assigned assigned = assigned();
        Double unit = unit();
        boolean stepped =
                row.choice("stepped", List.of("on", "off")).orElse("on").equals("on");
        return file.map(name -> new LayerChoice(
                find.apply(name, row.mark("file")), name, format(format.orElse("auto")), unit, assigned, stepped));
    }

    private static @Nullable LayoutFormat format(String word) {
        return JobVocabulary.format(word);
    }

    private @Nullable Double unit() {
        Optional<String> unit = row.text("unit");
        if (unit.isEmpty()) {
            return null;
        }
        try {
            return LengthUnit.metres(unit.get());
        } catch (UnitException e) {
            row.problem("unit", "job.value", "layout.layers: unit: " + e.getMessage(), "");
            return null;
        }
    }

    private ReadOptions.Assigned assigned() {
        Role role = row.choice("role", ROLES)
                .map(word -> Role.valueOf(word.toUpperCase(Locale.ROOT)))
                .orElse(null);
        OptionalDouble depth = row.quantity("depth", "nm", 0.1, 1e6);
        OptionalDouble scale = row.quantity("depth-scale", "1", 1e-6, 1e6);
        Optional<String> name = row.text("name");
        OptionalDouble weight = row.quantity("weight", "1", 0, 1e6);
        for (String key : List.of("depth", "depth-scale")) {
            if (role != null && !role.inRelief() && row.node(key) != null) {
                row.problem(
                        key,
                        "job.value",
                        "layout.layers: what has the role " + role.word() + " leaves the relief as it is and has no "
                                + key,
                        "leave it out");
            }
        }
        for (String key : List.of("name", "weight")) {
            if (role != Role.REGION && row.node("role") != null && row.node(key) != null) {
                row.problem(
                        key, "job.value", "layout.layers: only regions have a " + key, "role: region, or leave it out");
            }
        }
        name.ifPresent(word -> RegionReader.checkName(word, row));
        return new ReadOptions.Assigned(
                role,
                depth.isPresent() ? depth.getAsDouble() : null,
                scale.orElse(1),
                name.orElse(null),
                weight.isPresent() ? weight.getAsDouble() : null,
                pose());
    }

    /** Returns the key {@code turn} in quarter turns, 0 to 3; nothing where it is missing or wrong, the latter a problem. */
    static OptionalDouble quarterTurns(GroupReader row, String key) {
        OptionalDouble turn = row.quantity("turn", "deg", -270, 270);
        if (turn.isEmpty()) {
            return turn;
        }
        double quarters = turn.getAsDouble() / (Math.PI / 2);
        if (Math.abs(quarters - Math.rint(quarters)) > ROUNDING) {
            row.problem(
                    "turn",
                    "job.value",
                    key + ": a drawing is turned by quarter turns only",
                    "turn is one of 0 deg, 90 deg, 180 deg, 270 deg");
            return OptionalDouble.empty();
        }
        return OptionalDouble.of(Math.floorMod((int) Math.rint(quarters), 4));
    }

    private Pose pose() {
        double[] shift = row.pair("offset", FARTHEST_MILLIMETRES).orElse(new double[2]);
        double quarters = quarterTurns(row, "layout.layers").orElse(0);
        Optional<String> mirror = row.choice("mirror", List.of("x", "y"));
        // Up and down exchanged is left and right exchanged and half a turn.
        int half = mirror.filter("y"::equals).isPresent() ? 2 : 0;
        return new Pose(mirror.isPresent(), Math.floorMod((int) Math.rint(quarters) + half, 4), shift[0], shift[1]);
    }
}
