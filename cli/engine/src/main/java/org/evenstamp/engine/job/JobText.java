package org.evenstamp.engine.job;

import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.problem.Source;
import org.jspecify.annotations.Nullable;

/**
 * A job as it is written: groups of keys, each with its place in the file, and nothing looked up or checked yet. Immutable; a
 * text that differs in a value is made from it without reading the file again.
 */
public final class JobText {
    /** A value that begins like this is a group or a list, as YAML and JSON write them on one line. */
    private static final Set<Character> NESTED = Set.of('{', '[');

    private final Path file;
    private final String place;
    private final boolean whole;
    private final JobNode.Mapping root;
    private final List<Problem> problems;

    private JobText(Path file, String place, boolean whole, JobNode.Mapping root, List<Problem> problems) {
        this.file = file;
        this.place = place;
        this.whole = whole;
        this.root = root;
        this.problems = List.copyOf(problems);
    }

    /**
     * Reads a job file.
     *
     * @throws InputException when it cannot be read or its syntax is wrong
     */
    public static JobText read(Path file) {
        Problems problems = new Problems();
        JobNode.Mapping root = JobParser.parse(file, problems);
        return new JobText(file, file.toString(), true, root, problems.all());
    }

    /**
     * Makes a text from options of a command line that measures a layout; it need not be a whole job.
     *
     * @param layout the layout file
     * @param options value by key of a job file
     */
    public static JobText ofOptions(Path layout, Map<String, String> options) {
        Map<String, String> all = new LinkedHashMap<>();
        all.put(JobVocabulary.LAYOUT_FILE.id(), fileName(layout));
        all.putAll(options);
        JobNode.Mapping nothing = new JobNode.Mapping(JobNode.Mark.NOWHERE, Map.of());
        return new JobText(layout, "command line", false, nothing, List.of()).with(all);
    }

    /**
     * Returns this text with values set otherwise.
     *
     * @param values by key, {@code section.key} or {@code limits.FIELD.MEASURE}: what a job file has behind that key. A text that
     *     begins with a bracket is a group or a list, any other is one value.
     * @throws InputException when a group or a list is not valid
     */
    public JobText with(Map<String, String> values) {
        JobNode.Mapping changed = root;
        for (var value : values.entrySet()) {
            changed = with(changed, path(value.getKey()), node(value.getKey(), value.getValue()));
        }
        return new JobText(file, place, whole, changed, problems);
    }

    /** Returns this text without a key, or without a section when the key names one; the same where it is not set. */
    public JobText without(String key) {
        return new JobText(file, place, whole, without(root, path(key)), problems);
    }

    /** Returns this text with only some of a section's keys. */
    JobText keeping(String section, Set<String> keys) {
        JobNode.Entry entry = root.entries().get(section);
        JobText kept = this;
        if (entry != null && entry.value() instanceof JobNode.Mapping mapping) {
            for (String key : mapping.entries().keySet()) {
                String id = section + "." + key;
                kept = keys.contains(id) ? kept : kept.without(id);
            }
        }
        return kept;
    }

    /** Returns the files that the job names, there or not, as far as it can be understood. */
    public List<Path> namedFiles() {
        List<Path> named = new ArrayList<>();
        LayerReader.files(root).forEach(name -> add(name, named));
        for (JobKey key : List.of(
                JobVocabulary.LAYOUT_FILE,
                JobVocabulary.LAYOUT_TABLE,
                JobVocabulary.FILM_MATERIALS,
                JobVocabulary.THICKNESS_MAP,
                JobVocabulary.DROP_MAP,
                JobVocabulary.LAMP_MAP)) {
            JobNode.Entry section = root.entries().get(key.section());
            JobNode.Entry entry = section != null && section.value() instanceof JobNode.Mapping keys
                    ? keys.entries().get(key.key())
                    : null;
            if (entry != null && entry.value() instanceof JobNode.Scalar name) {
                add(name.text(), named);
            }
        }
        return named;
    }

    /** Returns the names of the files that the layers of a job name. */
    public static List<String> layerFiles(JobNode.Mapping job) {
        return LayerReader.files(job);
    }

    private void add(String name, List<Path> named) {
        if (!name.isBlank()) {
            try {
                named.add(beside(name));
            } catch (InvalidPathException e) {
                // Reading the job says so.
            }
        }
    }

    /** Returns a path of the job, which is relative to its file. */
    Path beside(String relative) {
        return file.resolveSibling(relative);
    }

    Path file() {
        return file;
    }

    /** Returns what the job of a file is called: the file's name without extension. */
    public static String name(Path file) {
        return fileName(file).replaceFirst("(?<=.)\\.[^.]+$", "");
    }

    /** Returns the job's name: that of its file, without extension. */
    String name() {
        return name(file);
    }

    /** Returns the name of its file, without the directory. */
    String fileName() {
        return fileName(file);
    }

    /** Returns whether it stands for a whole job, of which nothing that every job needs may be missing. */
    boolean whole() {
        return whole;
    }

    JobNode.Mapping root() {
        return root;
    }

    /** Returns what was wrong with the text itself, such as a key set twice. */
    List<Problem> problems() {
        return problems;
    }

    /** Returns where a mark lies; the text as a whole where there is none. */
    Source source(JobNode.@Nullable Mark mark) {
        return mark == null ? Source.of(place) : new Source(place, mark.line(), mark.column());
    }

    private static String fileName(Path path) {
        return Objects.requireNonNullElse(path.getFileName(), path).toString();
    }

    /** Section, key, and for a limit the measure too: fields and keys have dots in them. */
    private static List<String> path(String key) {
        int dot = key.indexOf('.');
        if (dot < 0) {
            return List.of(key);
        }
        String section = key.substring(0, dot);
        String rest = key.substring(dot + 1);
        int last = rest.lastIndexOf('.');
        boolean measure = section.equals(JobVocabulary.LIMITS)
                && last > 0
                && LimitReader.MEASURES.contains(rest.substring(last + 1));
        return measure ? List.of(section, rest.substring(0, last), rest.substring(last + 1)) : List.of(section, rest);
    }

    private JobNode node(String key, String text) {
        String stripped = text.strip();
        if (!stripped.isEmpty() && NESTED.contains(stripped.charAt(0))) {
            return JobParser.value(place + ": " + key, stripped);
        }
        return new JobNode.Scalar(
                JobNode.Mark.NOWHERE,
                text,
                stripped.isEmpty() ? JobNode.Scalar.Type.NOTHING : JobNode.Scalar.Type.TEXT);
    }

    private static JobNode.Mapping with(JobNode.Mapping mapping, List<String> path, JobNode value) {
        String key = path.get(0);
        JobNode.Entry before = mapping.entries().get(key);
        JobNode set = value;
        if (path.size() > 1) {
            JobNode.Mapping inner = before != null && before.value() instanceof JobNode.Mapping group
                    ? group
                    : new JobNode.Mapping(JobNode.Mark.NOWHERE, Map.of());
            set = with(inner, path.subList(1, path.size()), value);
        }
        return mapping.with(key, new JobNode.Entry(before == null ? JobNode.Mark.NOWHERE : before.keyMark(), set));
    }

    private static JobNode.Mapping without(JobNode.Mapping mapping, List<String> path) {
        String key = path.get(0);
        if (path.size() == 1) {
            return mapping.without(key);
        }
        JobNode.Entry entry = mapping.entries().get(key);
        return entry != null && entry.value() instanceof JobNode.Mapping inner
                ? mapping.with(key, new JobNode.Entry(entry.keyMark(), without(inner, path.subList(1, path.size()))))
                : mapping;
    }
}
