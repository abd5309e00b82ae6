package org.evenstamp.engine.job;

import org.evenstamp.shared.spi.Parameter;

/** A key that a job may set. Its id is {@code section.key}, everything after the first dot being the key. */
public sealed interface JobKey {
    /** Returns the id. */
    String id();

    /** Returns whether every job must set it. */
    boolean required();

    /** Returns one sentence for a person. */
    String meaning();

    /** Returns the section. */
    default String section() {
        return id().substring(0, id().indexOf('.'));
    }

    /** Returns the key within its section. */
    default String key() {
        return id().substring(id().indexOf('.') + 1);
    }

    /**
     * A quantity, a choice or a table.
     *
     * @param parameter what it may be
     * @param required whether every job must set it; a parameter required by an analysis is not
     */
    record Value(Parameter parameter, boolean required) implements JobKey {
        @Override
        public String id() {
            return parameter.id();
        }

        @Override
        public String meaning() {
            return parameter.meaning();
        }
    }

    /**
     * Free text.
     *
     * @param id the id
     * @param required whether every job must set it
     * @param example what it may look like
     * @param meaning one sentence
     */
    record Text(String id, boolean required, String example, String meaning) implements JobKey {}

    /**
     * A rectangle: {@code {min: [x, y], max: [x, y]}}.
     *
     * @param id the id
     * @param meaning one sentence
     */
    record Rectangle(String id, String meaning) implements JobKey {
        @Override
        public boolean required() {
            return false;
        }
    }

    /**
     * A group or a list with a form of its own, read by whoever needs it.
     *
     * @param id the id
     * @param example what it may look like
     * @param meaning one sentence
     */
    record Nested(String id, String example, String meaning) implements JobKey {
        /** Returns whether it is a group, not a list. */
        public boolean isGroup() {
            return example.startsWith("{");
        }

        @Override
        public boolean required() {
            return false;
        }
    }
}
