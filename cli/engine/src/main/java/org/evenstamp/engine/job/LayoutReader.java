package org.evenstamp.engine.job;

import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.evenstamp.geometry.read.ReadOptions;
import org.evenstamp.geometry.tile.DieArray;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.geometry.tile.RegionRule;
import org.evenstamp.shared.unit.UnitException;
import org.jspecify.annotations.Nullable;

/** Puts together which files a layout has, how they are read and what the job says of its regions. */
final class LayoutReader {
    private final JobText text;
    private final JobValues values;
    private final JobFiles files;
    private final JobProblems problems;
    private final @Nullable Path single;

    LayoutReader(JobText text, JobValues values, JobFiles files, JobProblems problems) {
        this.text = text;
        this.values = values;
        this.files = files;
        this.problems = problems;
        String name = values.word(JobVocabulary.LAYOUT_FILE.id());
        single = name == null
                ? null
                : file(JobVocabulary.LAYOUT_FILE, name, values.mark(JobVocabulary.LAYOUT_FILE.id()));
    }

    /** Returns the layout; some of it is made up where there were problems. */
    LayoutChoice layout(Resolution resolved) {
        Double unit = unit();
        List<LayerChoice> layers = new ArrayList<>();
        String name = values.word(JobVocabulary.LAYOUT_FILE.id());
        if (single != null && name != null) {
            layers.add(new LayerChoice(
                    single,
                    name,
                    JobVocabulary.format(resolved.word(JobVocabulary.LAYOUT_FORMAT)),
                    unit,
                    ReadOptions.Assigned.NOTHING,
                    true));
        }
        layers.addAll(layers());
        return new LayoutChoice(
                layers,
                MapOptions.Drawn.valueOf(
                        resolved.word(JobVocabulary.LAYOUT_DRAWN).toUpperCase(Locale.ROOT)),
                values.rectangle(JobVocabulary.LAYOUT_OUTLINE.id()),
                resolved.word(JobVocabulary.BAD_FEATURES).equals("repair"),
                regions(),
                array(layers),
                table(resolved));
    }

    private @Nullable TileTable table(Resolution resolved) {
        String key = JobVocabulary.LAYOUT_TABLE.id();
        String name = values.word(key);
        if (name == null) {
            return null;
        }
        for (JobKey other : List.of(
                JobVocabulary.LAYOUT_FILE,
                JobVocabulary.LAYOUT_LAYERS,
                JobVocabulary.LAYOUT_ARRAY,
                JobVocabulary.LAYOUT_OUTLINE,
                JobVocabulary.LAYOUT_UNIT,
                new JobKey.Value(JobVocabulary.TILE_SIDE, false))) {
            if (values.sets(other.id())) {
                problems.add(
                        values.mark(key),
                        "job.value",
                        key,
                        key + " and " + other.id() + " are both given, and a table says all that there is of the stamp",
                        "leave one of them out");
            }
        }
        try {
            JobFiles.Tiles tiles =
                    files.tiles(text.beside(name), name, resolved.number(JobVocabulary.STAMP_DEPTH.id()));
            problems.addAll(tiles.problems());
            return tiles.table();
        } catch (InvalidPathException e) {
            problems.add(values.mark(key), "job.value", key, "\"" + name + "\" is not a file name", "");
            return null;
        }
    }

    private @Nullable DieArray array(List<LayerChoice> layers) {
        JobNode node = values.node(JobVocabulary.LAYOUT_ARRAY.id());
        if (node == null || isNothing(node)) {
            return null;
        }
        if (!layers.isEmpty() && layers.stream().noneMatch(LayerChoice::stepped)) {
            problems.add(
                    node.mark(),
                    "job.value",
                    JobVocabulary.LAYOUT_ARRAY.id(),
                    JobVocabulary.LAYOUT_ARRAY.id() + " has nothing to step: all layers have stepped: off",
                    "leave stepped out of the layers of the die");
        }
        return new ArrayReader(node, problems).array().orElse(null);
    }

    private List<JobNode> rows(JobKey.Nested key) {
        JobNode node = values.node(key.id());
        if (node == null || isNothing(node)) {
            return List.of();
        }
        if (node instanceof JobNode.Sequence rows) {
            return rows.items();
        }
        problems.add(
                node.mark(),
                "job.type",
                key.id(),
                key.id() + " must be a list, is " + node.kind(),
                "such as " + key.example());
        return List.of();
    }

    private static boolean isNothing(JobNode node) {
        return node instanceof JobNode.Scalar scalar && scalar.type() == JobNode.Scalar.Type.NOTHING;
    }

    private List<LayerChoice> layers() {
        String key = JobVocabulary.LAYOUT_LAYERS.id();
        JobNode node = values.node(key);
        List<LayerChoice> layers = new ArrayList<>();
        for (JobNode row : rows(JobVocabulary.LAYOUT_LAYERS)) {
            if (values.node(JobVocabulary.LAYOUT_REGIONS.id()) == null && RegionReader.looksLikeOne(row)) {
                problems.add(
                        row.mark(),
                        "job.missing-key",
                        JobVocabulary.LAYOUT_REGIONS.id(),
                        "from here on the rows of " + key + " are no layers but regions",
                        "write regions: above line " + row.mark().line());
                break;
            }
            new LayerReader(row, problems)
                    .layer((name, mark) -> file(JobVocabulary.LAYOUT_LAYERS, name, mark))
                    .ifPresent(layers::add);
        }
        if (node != null
                && single == null
                && (isNothing(node)
                        || (node instanceof JobNode.Sequence rows
                                && rows.items().isEmpty()))) {
            problems.add(
                    node.mark(),
                    "job.missing-key",
                    key,
                    key + " names no file, nor does the job set layout.file",
                    "such as " + JobVocabulary.LAYOUT_LAYERS.example());
        }
        return layers;
    }

    private List<RegionRule> regions() {
        List<RegionRule> rules = new ArrayList<>();
        for (JobNode row : rows(JobVocabulary.LAYOUT_REGIONS)) {
            Optional<RegionRule> rule = new RegionReader(row, problems).rule();
            if (rule.isPresent()
                    && rules.stream()
                            .anyMatch(before -> before.name().equals(rule.get().name()))) {
                problems.add(
                        row.mark(),
                        "job.duplicate-key",
                        JobVocabulary.LAYOUT_REGIONS.id(),
                        "the region " + rule.get().name() + " is described twice",
                        "give one of the two another name");
            }
            rule.ifPresent(rules::add);
        }
        return rules;
    }

    private Path file(JobKey key, String name, JobNode.@Nullable Mark mark) {
        try {
            Path path = text.beside(name);
            JobFiles.Presence presence = text.whole() ? files.layout(path) : JobFiles.Presence.FILE;
            if (presence == JobFiles.Presence.NOTHING) {
                problems.add(
                        mark,
                        "job.layout-missing",
                        key.id(),
                        "there is no layout file " + path,
                        key == JobVocabulary.LAYOUT_FILE
                                ? "layout.file is relative to the job"
                                : "the files of layout.layers are relative to the job");
            } else if (presence == JobFiles.Presence.DIRECTORY) {
                problems.add(
                        mark,
                        "job.layout-directory",
                        key.id(),
                        "the layout " + path + " is a directory",
                        "name the file in it");
            }
            return path;
        } catch (InvalidPathException e) {
            problems.add(mark, "job.value", key.id(), "\"" + name + "\" is not a file name", "");
            return text.file();
        }
    }

    private @Nullable Double unit() {
        String key = JobVocabulary.LAYOUT_UNIT.id();
        String unit = values.word(key);
        if (unit == null) {
            return null;
        }
        try {
            return LengthUnit.metres(unit);
        } catch (UnitException e) {
            problems.add(values.mark(key), "job.value", key, key + ": " + e.getMessage(), "");
            return null;
        }
    }
}
