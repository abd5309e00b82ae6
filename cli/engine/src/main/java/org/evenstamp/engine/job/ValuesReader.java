package org.evenstamp.engine.job;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.problem.Problem;

/**
 * Reads a job's text against a vocabulary: sections, keys, fields to limit. A mistyped name is told and then taken for the
 * nearest one that the job does not set, so that one mistake is one problem. One object reads one text.
 */
final class ValuesReader {
    /** So many keys in a row that belong to another section are no mistyped keys: its heading is missing. */
    private static final int HEADLESS = 2;

    /** Problems of a number that is of the right kind. */
    private static final Set<String> OF_ANY_NUMBER = Set.of("job.no-unit", "job.range");

    private final JobText text;
    private final JobVocabulary vocabulary;
    private final JobProblems problems;
    private final LimitReader bounds;
    private final Map<String, JobValues.Setting> settings = new LinkedHashMap<>();
    private final List<Limit> limits = new ArrayList<>();
    private final Map<String, Double> chances = new LinkedHashMap<>();
    private final Set<String> doubtful = new HashSet<>();

    /** Sections whose name is wrong or missing in the text. */
    private final Set<String> found = new HashSet<>();

    private ValuesReader(JobText text, JobVocabulary vocabulary, JobProblems problems) {
        this.text = text;
        this.vocabulary = vocabulary;
        this.problems = problems;
        this.bounds = new LimitReader(text, problems);
    }

    /** One key of a group, in the order of the file. */
    private record Line(String key, JobNode.Entry entry, boolean again) {}

    /**
     * Reads a text.
     *
     * @param problems takes what is wrong
     */
    static JobValues read(JobText text, JobVocabulary vocabulary, JobProblems problems) {
        ValuesReader reader = new ValuesReader(text, vocabulary, problems);
        for (Line line : lines(text.root())) {
            if (line.again()) {
                reader.twice(text.root(), line);
            } else {
                reader.section(line.key(), line.entry());
            }
        }
        if (text.whole()) {
            reader.checkRequired();
        }
        return new JobValues(reader.settings, reader.limits, reader.bounds.unread(), reader.chances, reader.doubtful);
    }

    private static List<Line> lines(JobNode.Mapping mapping) {
        List<Line> lines = new ArrayList<>();
        mapping.entries().forEach((key, entry) -> lines.add(new Line(key, entry, false)));
        mapping.repeated().forEach(again -> lines.add(new Line(again.key(), again.entry(), true)));
        if (!mapping.repeated().isEmpty()) {
            lines.sort(Comparator.comparingInt(
                            (Line line) -> line.entry().keyMark().line())
                    .thenComparingInt(line -> line.entry().keyMark().column()));
        }
        return lines;
    }

    private void checkRequired() {
        for (JobKey key : vocabulary.keys()) {
            boolean elsewhere = key == JobVocabulary.LAYOUT_FILE
                    && (settings.containsKey(JobVocabulary.LAYOUT_LAYERS.id())
                            || settings.containsKey(JobVocabulary.LAYOUT_TABLE.id()));
            if (key.required() && !elsewhere && !settings.containsKey(key.id()) && !doubtful.contains(key.id())) {
                problems.add(
                        null,
                        "job.missing-key",
                        key.id(),
                        "the job does not set " + key.id() + ": " + key.meaning(),
                        "add it to the section " + key.section());
                doubtful.add(key.id());
            }
        }
    }

    private void twice(JobNode.Mapping mapping, Line line) {
        JobNode.Entry first = mapping.entries().get(line.key());
        problems.add(
                line.entry().keyMark(),
                "job.duplicate-key",
                "",
                "\"" + line.key() + "\" is set twice",
                first == null ? "" : "the first is on line " + first.keyMark().line());
    }

    private void twiceWithin(JobNode node) {
        if (node instanceof JobNode.Mapping mapping) {
            mapping.repeated().forEach(again -> twice(mapping, new Line(again.key(), again.entry(), true)));
            mapping.entries().values().forEach(entry -> twiceWithin(entry.value()));
        } else if (node instanceof JobNode.Sequence sequence) {
            sequence.items().forEach(this::twiceWithin);
        }
    }

    private void section(String name, JobNode.Entry entry) {
        Optional<String> section = Optional.of(name);
        if (!vocabulary.sections().contains(name)) {
            section = meantSection(name, entry.value());
            problems.add(
                    entry.keyMark(),
                    "job.unknown-key",
                    "",
                    "there is no section \"" + name + "\"",
                    section.map(word -> "did you mean " + word + "?")
                            .orElse("sections are " + String.join(", ", vocabulary.sections())));
            section = section.filter(unwritten()::contains);
            section.ifPresent(found::add);
        }
        section.ifPresent(known -> content(known, entry.value()));
    }

    private Optional<String> meantSection(String name, JobNode content) {
        Optional<String> near = NearestWord.of(name, vocabulary.sections());
        return near.isPresent() || !(content instanceof JobNode.Mapping mapping)
                ? near
                : owner(mapping.entries().keySet());
    }

    private void content(String section, JobNode node) {
        if (node instanceof JobNode.Scalar scalar && scalar.type() == JobNode.Scalar.Type.NOTHING) {
            return; // a section of which everything is commented out
        }
        if (!(node instanceof JobNode.Mapping mapping)) {
            problems.add(
                    node.mark(),
                    "job.type",
                    section,
                    "the section " + section + " must be a group of keys, is " + node.kind(),
                    "");
            keysOf(section).forEach(key -> doubtful.add(key.id()));
            return;
        }
        List<Line> lines = lines(mapping);
        String current = section;
        Set<String> seen = new HashSet<>();
        for (int i = 0; i < lines.size(); i++) {
            Line line = lines.get(i);
            boolean fits = knows(current, line.key()) && !seen.contains(line.key());
            Optional<String> next = fits ? Optional.empty() : headless(current, lines, i);
            if (next.isPresent()) {
                current = next.get();
                seen.clear();
            }
            if (seen.add(line.key())) {
                entry(current, line);
            } else {
                twice(mapping, line);
            }
        }
    }

    /** Returns the section whose heading is missing above a line, and tells that; nothing when the line stands there alone. */
    private Optional<String> headless(String section, List<Line> lines, int from) {
        Set<String> names = new HashSet<>();
        lines.subList(from, lines.size()).forEach(line -> names.add(line.key()));
        String first = lines.get(from).key();
        Optional<String> owner = unwritten().stream()
                .filter(other -> !other.equals(section) && knows(other, first) && known(other, names) >= HEADLESS)
                .max(Comparator.comparingLong(other -> known(other, names)));
        owner.ifPresent(other -> {
            JobNode.Mark mark = lines.get(from).entry().keyMark();
            problems.add(
                    mark,
                    "job.missing-section",
                    other,
                    "from " + first + " on these keys are not of the section " + section + " but of " + other,
                    "write " + other + ": above line " + mark.line());
            found.add(other);
            // A key before them may be of either section: that is not known before the heading is there.
            for (int i = from - 1; i >= 0 && knows(other, lines.get(i).key()); i--) {
                doubtful.add(section + "." + lines.get(i).key());
                doubtful.add(other + "." + lines.get(i).key());
            }
        });
        return owner;
    }

    /** Returns the sections that are not in the text, as far as it has been understood. */
    private List<String> unwritten() {
        return vocabulary.sections().stream()
                .filter(section -> !text.root().entries().containsKey(section) && !found.contains(section))
                .toList();
    }

    private long known(String section, Collection<String> names) {
        return names.stream().filter(name -> knows(section, name)).count();
    }

    /** Returns the section that knows all these keys and is not in the text. */
    private Optional<String> owner(Collection<String> names) {
        return unwritten().stream()
                .filter(section -> known(section, names) == names.size())
                .findFirst();
    }

    private boolean knows(String section, String name) {
        return section.equals(JobVocabulary.LIMITS)
                ? vocabulary.limitable(LimitReader.field(name)) != null
                : vocabulary.key(section + "." + name) != null;
    }

    private void entry(String section, Line line) {
        twiceWithin(line.entry().value());
        if (section.equals(JobVocabulary.LIMITS)) {
            limit(line.key(), line.entry());
        } else {
            key(section, line.key(), line.entry());
        }
    }

    private void key(String section, String name, JobNode.Entry entry) {
        JobKey key = vocabulary.key(section + "." + name);
        if (key == null) {
            Optional<JobKey> meant = meantKey(section, name);
            problems.add(
                    entry.keyMark(),
                    "job.unknown-key",
                    section + "." + name,
                    "there is no key " + section + "." + name,
                    meant.map(near -> "did you mean " + near.id() + "?")
                            .orElse("evenstamp list parameters shows all keys"));
            meant.filter(near -> !isWritten(near)).ifPresent(near -> {
                List<Problem> found = value(near, entry.value());
                if (found.stream().allMatch(problem -> OF_ANY_NUMBER.contains(problem.code()))) {
                    problems.addAll(found); // else the guess is wrong, and so would they be
                }
            });
        } else {
            problems.addAll(value(key, entry.value()));
        }
    }

    /** Reads a value; returns what is wrong with it. */
    private List<Problem> value(JobKey key, JobNode node) {
        JobProblems found = new JobProblems(text);
        JobValues.Value value = new ValueReader(found).read(key, node).orElse(null);
        settings.put(key.id(), new JobValues.Setting(node, value));
        if (!found.all().isEmpty() && !(value instanceof JobValues.Value.Word)) {
            doubtful.add(key.id());
        }
        return found.all();
    }

    private void limit(String subject, JobNode.Entry entry) {
        String fieldId = LimitReader.field(subject);
        String region = LimitReader.region(subject);
        if (subject.indexOf(Limit.AT) >= 0 && region.isEmpty()) {
            problems.add(
                    entry.keyMark(),
                    "job.value",
                    JobVocabulary.LIMITS + "." + subject,
                    "there is no name of a region behind " + fieldId + Limit.AT,
                    "such as " + fieldId + Limit.AT + "optics");
        }
        FieldName field = vocabulary.limitable(fieldId);
        if (field == null) {
            Optional<String> meant = NearestWord.of(
                    fieldId,
                    Stream.concat(vocabulary.fields().stream(), vocabulary.figures().stream())
                            .map(FieldName::id)
                            .toList());
            problems.add(
                    entry.keyMark(),
                    "job.unknown-field",
                    JobVocabulary.LIMITS + "." + fieldId,
                    "there is no field " + fieldId + " to limit",
                    meant.map(word -> "did you mean " + word + "?").orElse("evenstamp list fields shows all fields"));
            field = meant.map(vocabulary::limitable).orElse(null);
        }
        if (field != null) {
            List<String> measures =
                    vocabulary.isFigure(field) ? LimitReader.MEASURES_OF_FIGURES : LimitReader.MEASURES_OF_FIELDS;
            limits.addAll(bounds.limits(field, region, measures, entry.value()));
            String limited = region.isEmpty() ? field.id() : field.id() + Limit.AT + region;
            bounds.chance(field, entry.value()).ifPresent(chance -> chances.put(limited, chance));
        }
    }

    private boolean isWritten(JobKey key) {
        JobNode.Entry section = text.root().entries().get(key.section());
        return settings.containsKey(key.id())
                || (section != null
                        && section.value() instanceof JobNode.Mapping mapping
                        && mapping.entries().containsKey(key.key()));
    }

    private List<JobKey> keysOf(String section) {
        return vocabulary.keys().stream()
                .filter(key -> key.section().equals(section))
                .toList();
    }

    /** Returns the key that a mistyped one was meant to be, rather one that the job does not set. */
    private Optional<JobKey> meantKey(String section, String name) {
        List<JobKey> open =
                vocabulary.keys().stream().filter(key -> !isWritten(key)).toList();
        return meantKey(section, name, open).or(() -> meantKey(section, name, List.copyOf(vocabulary.keys())));
    }

    private Optional<JobKey> meantKey(String section, String name, List<JobKey> keys) {
        Optional<JobKey> elsewhere =
                keys.stream().filter(key -> key.key().equals(name)).findFirst();
        if (elsewhere.isPresent()) {
            return elsewhere;
        }
        List<String> inSection = keys.stream()
                .filter(key -> key.section().equals(section))
                .map(JobKey::key)
                .toList();
        return NearestWord.of(name, inSection)
                .map(word -> section + "." + word)
                .or(() -> NearestWord.of(
                        section + "." + name, keys.stream().map(JobKey::id).toList()))
                .map(vocabulary::key);
    }
}
