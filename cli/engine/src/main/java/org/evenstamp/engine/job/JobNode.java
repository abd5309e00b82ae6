package org.evenstamp.engine.job;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** A piece of a job file that knows where it stands. */
public sealed interface JobNode {
    /** Returns where it begins. */
    Mark mark();

    /** Returns what it is, in words for a person. */
    String kind();

    /** Returns the same that stands nowhere. */
    JobNode withoutMarks();

    /**
     * A place in the file.
     *
     * @param line from 1
     * @param column from 1
     */
    record Mark(int line, int column) {
        /** Where a value stands that is in no file. */
        public static final Mark NOWHERE = new Mark(0, 0);
    }

    /**
     * Keys and values in the order of the file.
     *
     * @param mark where it begins
     * @param entries value by key
     * @param repeated what stands there for a key a second time
     */
    record Mapping(Mark mark, Map<String, Entry> entries, List<Repeated> repeated) implements JobNode {
        /** Copies the entries. */
        public Mapping {
            entries = Collections.unmodifiableMap(new LinkedHashMap<>(entries));
            repeated = List.copyOf(repeated);
        }

        /** A group in which nothing is repeated. */
        public Mapping(Mark mark, Map<String, Entry> entries) {
            this(mark, entries, List.of());
        }

        @Override
        public String kind() {
            return "a group of keys";
        }

        @Override
        public Mapping withoutMarks() {
            Map<String, Entry> bare = new LinkedHashMap<>();
            entries.forEach((key, entry) ->
                    bare.put(key, new Entry(Mark.NOWHERE, entry.value().withoutMarks())));
            return new Mapping(Mark.NOWHERE, bare);
        }

        /** Returns this group with one key set otherwise, in its place where it is set already, at the end else. */
        public Mapping with(String key, Entry entry) {
            Map<String, Entry> changed = new LinkedHashMap<>(entries);
            changed.put(key, entry);
            return new Mapping(mark, changed, repeated);
        }

        /** Returns this group without one key. */
        public Mapping without(String key) {
            Map<String, Entry> changed = new LinkedHashMap<>(entries);
            changed.remove(key);
            return new Mapping(mark, changed, repeated);
        }
    }

    /**
     * One key's value.
     *
     * @param keyMark where the key stands
     * @param value what it is set to
     */
    record Entry(Mark keyMark, JobNode value) {}

    /**
     * A key that is set again.
     *
     * @param key the key
     * @param entry what stands there
     */
    record Repeated(String key, Entry entry) {}

    /**
     * A list.
     *
     * @param mark where it begins
     * @param items what is in it
     */
    record Sequence(Mark mark, List<JobNode> items) implements JobNode {
        /** Copies the items. */
        public Sequence {
            items = List.copyOf(items);
        }

        @Override
        public String kind() {
            return "a list";
        }

        @Override
        public Sequence withoutMarks() {
            return new Sequence(
                    Mark.NOWHERE, items.stream().map(JobNode::withoutMarks).toList());
        }
    }

    /**
     * A single value as written.
     *
     * @param mark where it stands
     * @param text the value, without quotes
     * @param type what the syntax makes of it
     */
    record Scalar(Mark mark, String text, Type type) implements JobNode {
        /** What the syntax makes of a value. */
        public enum Type {
            /** Text. */
            TEXT,
            /** A number without quotes. */
            NUMBER,
            /** true or false. */
            TRUTH,
            /** No value. */
            NOTHING
        }

        @Override
        public String kind() {
            return switch (type) {
                case TEXT -> "\"" + text + "\"";
                case NUMBER -> "the bare number " + text;
                case TRUTH -> text;
                case NOTHING -> "nothing";
            };
        }

        @Override
        public Scalar withoutMarks() {
            return new Scalar(Mark.NOWHERE, text, type);
        }
    }
}
