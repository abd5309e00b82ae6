package org.evenstamp.shared.spi;

import java.util.List;
import java.util.OptionalDouble;
import org.evenstamp.shared.unit.Unit;

/** An input of an analysis. Its id is its path in the job file, {@code section.key}. */
public sealed interface Parameter {
    /** Returns the path in the job file, {@code section.key}. */
    String id();

    /** Returns one sentence for a person: what it is and where its default comes from. */
    String meaning();

    /** Returns whether the analysis cannot run without it. */
    boolean required();

    /**
     * A number with a unit.
     *
     * @param id path in the job file
     * @param unit unit in which default and range are stated, and shown to people
     * @param standard the value, in {@code unit}, when the job gives none; empty when there is none
     * @param least smallest allowed value, in {@code unit}
     * @param most largest allowed value, in {@code unit}
     * @param required whether the analysis cannot run without it
     * @param meaning one sentence, with the source of the default
     */
    record Quantity(
            String id, Unit unit, OptionalDouble standard, double least, double most, boolean required, String meaning)
            implements Parameter {
        /** Checks that a default lies in the range. */
        public Quantity {
            if (!(least <= most)
                    || (standard.isPresent() && !(standard.getAsDouble() >= least && standard.getAsDouble() <= most))) {
                throw new IllegalArgumentException(id + ": default or range is wrong");
            }
        }

        /** A number that the job must give. */
        public static Quantity required(String id, String unit, double least, double most, String meaning) {
            return new Quantity(id, Unit.parse(unit), OptionalDouble.empty(), least, most, true, meaning);
        }

        /** A number that the job may leave out, to be asked for with {@link Parameters#find}. */
        public static Quantity optional(String id, String unit, double least, double most, String meaning) {
            return new Quantity(id, Unit.parse(unit), OptionalDouble.empty(), least, most, false, meaning);
        }

        /** A number with a default. */
        public static Quantity standard(
                String id, String unit, double standard, double least, double most, String meaning) {
            return new Quantity(id, Unit.parse(unit), OptionalDouble.of(standard), least, most, false, meaning);
        }

        /** Returns the same number for an analysis that can do without it, to be asked for with {@link Parameters#find}. */
        public Quantity asOptional() {
            return new Quantity(id, unit, standard, least, most, false, meaning);
        }
    }

    /**
     * One word out of several.
     *
     * @param id path in the job file
     * @param options the words allowed; the first is the default
     * @param meaning one sentence
     */
    record Choice(String id, List<String> options, String meaning) implements Parameter {
        /** Copies the options. */
        public Choice {
            options = List.copyOf(options);
        }

        @Override
        public boolean required() {
            return false;
        }
    }

    /**
     * A list of rows of quantities, such as the steps of a process or the positions of particles. Empty by default.
     *
     * @param id path in the job file
     * @param columns the keys of a row, each with unit, range and default
     * @param meaning one sentence
     */
    record Table(String id, List<Quantity> columns, String meaning) implements Parameter {
        /** Copies the columns. */
        public Table {
            columns = List.copyOf(columns);
        }

        @Override
        public boolean required() {
            return false;
        }
    }
}
