package org.evenstamp.engine.sweep;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.List;
import org.evenstamp.analysis.statistics.Distribution;
import org.evenstamp.shared.unit.Unit;

/** One key of the job that varies, and how. */
public sealed interface SweepAxis {
    /** Returns the key, such as {@code film.viscosity}. */
    String key();

    /** Returns its values in a full grid, as a job writes them. */
    List<String> levels();

    /** Returns what is known of it: of a number in SI, or of the number of a level. */
    Distribution law();

    /** Returns a value of the law as a job writes it. */
    String text(double value);

    /**
     * Some values, equally likely.
     *
     * @param key the key
     * @param levels the values as a job writes them, at least one
     */
    record Levels(String key, List<String> levels) implements SweepAxis {
        /** Copies the values. */
        public Levels {
            levels = List.copyOf(levels);
        }

        @Override
        public Distribution law() {
            return new Distribution.Discrete(levels.size());
        }

        @Override
        public String text(double value) {
            return levels.get((int) value);
        }
    }

    /**
     * A number with a distribution.
     *
     * @param key the key
     * @param law what is known of it, SI
     * @param unit the unit in which it is written
     * @param steps how many values it takes in a grid, at least 1: the middles of as many equally likely parts, for a range its
     *     ends and what lies evenly between
     */
    record Spread(String key, Distribution law, Unit unit, int steps) implements SweepAxis {
        @Override
        public List<String> levels() {
            boolean range = law instanceof Distribution.Uniform || law instanceof Distribution.LogUniform;
            List<String> levels = new ArrayList<>();
            for (int i = 0; i < steps; i++) {
                levels.add(text(law.quantile(range && steps > 1 ? (double) i / (steps - 1) : (i + 0.5) / steps)));
            }
            return levels;
        }

        @Override
        public String text(double value) {
            // Twelve digits: 3.9999999999999996 MPa is 4 MPa, and no film knows the difference.
            BigDecimal number = new BigDecimal(unit.fromSi(value))
                    .round(new MathContext(12))
                    .stripTrailingZeros();
            boolean handy = number.precision() - number.scale() <= 7 && number.scale() <= 15;
            return (handy ? number.toPlainString() : number.toString()) + " " + unit.symbol();
        }
    }

    /**
     * A number known to a factor of what the job has with all its other values, such as the viscosity of a melt at the
     * temperature of a point.
     *
     * @param key the key
     * @param factor 95 % lie between the number over the factor and the number times it, above 1
     * @param unit the unit in which it is written
     * @param steps how many values it takes in a grid, at least 1: the middles of as many equally likely parts
     */
    record Times(String key, double factor, Unit unit, int steps) implements SweepAxis {
        @Override
        public Distribution law() {
            return new Distribution.LogNormal(1, factor);
        }

        /** Returns the factors, which stand for values here. */
        @Override
        public List<String> levels() {
            List<String> levels = new ArrayList<>();
            for (int i = 0; i < steps; i++) {
                levels.add(new BigDecimal(level(i)).round(new MathContext(4)).toPlainString() + " x");
            }
            return levels;
        }

        double level(int index) {
            return law().quantile((index + 0.5) / steps);
        }

        @Override
        public String text(double value) {
            return new Spread(key, law(), unit, 1).text(value);
        }
    }
}
