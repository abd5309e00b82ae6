package org.evenstamp.engine.sensitivity;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.film.FilmProvider;
import org.evenstamp.analysis.film.FilmSensitivity.Variant;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.spi.Parameter;

/**
 * Something that can be turned a little.
 *
 * @param key of the job
 * @param step what one turn is, such as {@code +1 %}
 * @param meaning a few words for a person
 * @param fromNothing whether the job says 0
 * @param turned makes the job turned so many times, a part of one too
 */
record Knob(String key, String step, String meaning, boolean fromNothing, Turn turned) {
    private static final double PERCENT = 0.01;
    private static final double FACTOR = 1.1;
    private static final double NANOMETRE = 1e-9;

    /** How well the solve computes is no knob. */
    private static final Set<String> NONE = Set.of("film.step-error", "film.bulk-modulus");

    /** Makes variants of a job. */
    @FunctionalInterface
    interface Turn {
        /**
         * Returns the job turned so many times.
         *
         * @throws InputException when there is no such job
         */
        Variant by(double turns);
    }

    /** Returns all knobs of a job that its film solve knows. */
    static List<Knob> of(Job job, FieldSet fields) {
        List<Knob> knobs = new ArrayList<>();
        for (Parameter parameter : new FilmProvider().description().parameters()) {
            if (parameter instanceof Parameter.Quantity quantity && !NONE.contains(quantity.id())) {
                job.settings().find(quantity.id()).ifPresent(si -> knobs.add(of(job, fields, quantity, si)));
            }
        }
        knobs.add(new Knob(
                "stamp.depth-scale",
                "+1 %",
                "all cavities deeper",
                false,
                turns -> FilmVariant.of(job, Simulation.deeper(fields, 1 + PERCENT * turns))));
        if (fields.find(TileFields.FILM_COATED.id()).isPresent()) {
            knobs.add(new Knob(
                    "film", "+1 nm", "a thicker film everywhere", false, turns -> thicker(job, fields, turns)));
        }
        return knobs;
    }

    private static Knob of(Job job, FieldSet fields, Parameter.Quantity quantity, double si) {
        String key = quantity.id();
        if (key.equals(CommonParameters.FILM_VISCOSITY.id())) {
            return new Knob(
                    key,
                    "x 1.1",
                    quantity.meaning(),
                    false,
                    t -> variant(job.with(key, si * Math.pow(FACTOR, t)), fields));
        }
        if (key.equals(CommonParameters.FILM_THICKNESS.id())) {
            return new Knob(
                    key, "+1 nm", quantity.meaning(), false, t -> variant(job.with(key, si + NANOMETRE * t), fields));
        }
        if (quantity.unit().offset() != 0 || si == 0) {
            boolean pure = quantity.unit().symbol().equals("1");
            double one = pure ? PERCENT : quantity.unit().scale();
            String unit = quantity.unit().offset() != 0
                    ? "K"
                    : pure ? "%" : quantity.unit().symbol();
            String step = "+1 " + unit;
            return new Knob(key, step, quantity.meaning(), si == 0, t -> variant(job.with(key, si + one * t), fields));
        }
        return new Knob(
                key, "+1 %", quantity.meaning(), false, t -> variant(job.with(key, si * (1 + PERCENT * t)), fields));
    }

    private static Variant variant(Job job, FieldSet fields) {
        return FilmVariant.of(job, fields);
    }

    private static Variant thicker(Job job, FieldSet fields, double nanometres) {
        List<Field> changed = new ArrayList<>();
        for (Field field : fields.all()) {
            double[] values = field.toArray();
            if (field.name().equals(TileFields.FILM_COATED)) {
                for (int i = 0; i < values.length; i++) {
                    values[i] += NANOMETRE * nanometres;
                }
                changed.add(Field.of(field.name(), fields.grid(), values));
            } else {
                changed.add(field);
            }
        }
        FieldSet plain = FieldSet.empty(fields.grid()).with(changed).withRegions(fields.regions());
        FieldSet thick = fields.links().map(plain::with).orElse(plain);
        return FilmVariant.of(job, thick);
    }
}
