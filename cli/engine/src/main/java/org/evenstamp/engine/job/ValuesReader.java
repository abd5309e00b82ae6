package org.evenstamp.engine.job;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.evenstamp.shared.field.FieldName;

/** Reads a job's text against a vocabulary: sections, keys, fields to limit. One object reads one text. */
final class ValuesReader {
    private final JobVocabulary vocabulary;
    private final boolean tolerant;
    private final JobProblems problems;
    private final ValueReader values;
    private final LimitReader bounds;
    private final Map<String, JobValues.Setting> settings = new LinkedHashMap<>();
    private final List<JobValues.PlacedLimit> limits = new ArrayList<>();

    private ValuesReader(JobVocabulary vocabulary, boolean tolerant, JobProblems problems) {
        this.vocabulary = vocabulary;
        this.tolerant = tolerant;
        this.problems = problems;
        this.values = new ValueReader(problems);
        this.bounds = new LimitReader(problems);
    }

    /**
     * Reads a text.
     *
     * @param tolerant whether to pass over keys and fields that the vocabulary does not know
     * @param problems takes what is wrong
     */
    static JobValues read(JobText text, JobVocabulary vocabulary, boolean tolerant, JobProblems problems) {
        ValuesReader reader = new ValuesReader(vocabulary, tolerant, problems);
        text.root().entries().forEach(reader::section);
        if (text.whole()) {
            reader.checkRequired();
        }
        return new JobValues(reader.settings, reader.limits);
    }

    private void checkRequired() {
        for (JobKey key : vocabulary.keys()) {
            if (key.required() && !settings.containsKey(key.id())) {
                problems.add(
                        null,
                        "job.missing-key",
                        "the job does not set " + key.id() + ": " + key.meaning(),
                        "add it to the section " + key.section());
            }
        }
    }

    private void section(String section, JobNode.Entry entry) {
        if (!vocabulary.sections().contains(section)) {
            if (tolerant) {
                return;
            }
            String nearest = NearestWord.of(section, vocabulary.sections())
                    .map(word -> "did you mean " + word + "?")
                    .orElse("sections are " + String.join(", ", vocabulary.sections()));
            problems.add(entry.keyMark(), "job.unknown-key", "there is no section \"" + section + "\"", nearest);
            return;
        }
        if (entry.value() instanceof JobNode.Scalar scalar && scalar.type() == JobNode.Scalar.Type.NOTHING) {
            return; // a section of which everything is commented out
        }
        if (!(entry.value() instanceof JobNode.Mapping mapping)) {
            problems.add(
                    entry.value().mark(),
                    "job.type",
                    "the section " + section + " must be a group of keys, is "
                            + entry.value().kind(),
                    "");
            return;
        }
        mapping.entries().forEach((key, value) -> {
            if (section.equals(JobVocabulary.LIMITS)) {
                limit(key, value);
            } else {
                key(section, key, value);
            }
        });
    }

    private void key(String section, String name, JobNode.Entry entry) {
        String id = section + "." + name;
        JobKey key = vocabulary.key(id);
        if (key == null) {
            if (!tolerant) {
                problems.add(entry.keyMark(), "job.unknown-key", "there is no key " + id, nearestKey(section, name));
            }
            return;
        }
        JobNode node = entry.value();
        settings.put(
                id, new JobValues.Setting(node.mark(), values.read(key, node).orElse(null)));
    }

    private void limit(String fieldId, JobNode.Entry entry) {
        FieldName field = vocabulary.field(fieldId);
        if (field != null) {
            limits.addAll(bounds.limits(field, entry.value()));
        } else if (!tolerant) {
            String nearest = NearestWord.of(
                            fieldId,
                            vocabulary.fields().stream().map(FieldName::id).toList())
                    .map(word -> "did you mean " + word + "?")
                    .orElse("evenstamp list fields shows all fields");
            problems.add(entry.keyMark(), "job.unknown-field", "there is no field " + fieldId + " to limit", nearest);
        }
    }

    private String nearestKey(String section, String name) {
        for (JobKey key : vocabulary.keys()) {
            if (key.key().equals(name)) {
                return "did you mean " + key.id() + "?";
            }
        }
        List<String> inSection = vocabulary.keys().stream()
                .filter(key -> key.section().equals(section))
                .map(JobKey::key)
                .toList();
        Optional<String> near = NearestWord.of(name, inSection).map(word -> section + "." + word);
        if (near.isEmpty()) {
            near = NearestWord.of(
                    section + "." + name,
                    vocabulary.keys().stream().map(JobKey::id).toList());
        }
        return near.map(word -> "did you mean " + word + "?").orElse("evenstamp list parameters shows all keys");
    }
}
