package org.evenstamp.shared.spi;

import java.util.Arrays;
import java.util.List;
import org.evenstamp.shared.unit.Unit;

/**
 * Columns of equal length, the first the abscissa, such as time against film thickness.
 *
 * @param id dotted lower-case words, unique within the analysis
 * @param meaning a few words for a person
 * @param columns the columns, the abscissa first
 */
public record Curve(String id, String meaning, List<Column> columns) {
    /** Checks that the columns are of one length. */
    public Curve {
        columns = List.copyOf(columns);
        if (columns.isEmpty()) {
            throw new IllegalArgumentException("the curve " + id + " has no column");
        }
        int length = columns.get(0).valuesSi.length;
        for (Column column : columns) {
            if (column.valuesSi.length != length) {
                throw new IllegalArgumentException("the columns of the curve " + id + " differ in length");
            }
        }
    }

    /** One column of finite SI values. */
    public static final class Column {
        private final String name;
        private final Unit unit;
        private final double[] valuesSi;

        /**
         * Copies the values.
         *
         * @param name a few words for a person
         * @param unit symbol of the unit to show them in
         * @param valuesSi SI values, finite
         */
        public Column(String name, String unit, double[] valuesSi) {
            this.name = name;
            this.unit = Unit.parse(unit);
            this.valuesSi = valuesSi.clone();
            if (!Arrays.stream(valuesSi).allMatch(Double::isFinite)) {
                throw new IllegalArgumentException("the column " + name + " has a value that is not finite");
            }
        }

        /** Returns the name. */
        public String name() {
            return name;
        }

        /** Returns the unit to show the values in. */
        public Unit unit() {
            return unit;
        }

        /** Returns the number of values. */
        public int length() {
            return valuesSi.length;
        }

        /** Returns one value in SI. */
        public double at(int index) {
            return valuesSi[index];
        }
    }
}
