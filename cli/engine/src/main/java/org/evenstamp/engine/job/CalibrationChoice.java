package org.evenstamp.engine.job;

import java.util.List;
import org.evenstamp.shared.spi.Parameter;

/** The section {@code calibrate} of a job: which of its keys a fit to readings may change. */
public final class CalibrationChoice {
    /** Deviation of readings that bring none. */
    public static final Parameter.Quantity DEVIATION = Parameter.Quantity.standard(
            "calibrate.deviation",
            "nm",
            2,
            1e-6,
            1e6,
            "standard deviation of a reading that brings none of its own (assumption)");

    /** What becomes of readings that the job cannot explain. */
    public static final Parameter.Choice MODEL_ERROR = new Parameter.Choice(
            "calibrate.model-error",
            List.of("none", "estimated"),
            "whether the deviations of the readings stand for all that they may differ from the job by, or the job's own error"
                    + " is estimated from the readings and added");

    /** How many places are proposed. */
    public static final Parameter.Quantity NEXT = Parameter.Quantity.standard(
            "calibrate.next", "1", 5, 0, 1000, "number of further places that are proposed for measuring");

    /** Where nothing can be measured. */
    public static final JobKey.Nested KEEP_OUT = new JobKey.Nested(
            "calibrate.keep-out",
            "[{min: [-6 mm, -6 mm], max: [6 mm, -5 mm]}]",
            "rectangles in which no further place is proposed");

    /** The free keys. */
    public static final JobKey.Nested FREE = new JobKey.Nested(
            "calibrate.free",
            "[{key: film.viscosity, factor: 3}, {key: film.thickness, deviation: 3 nm}]",
            "the keys that a fit may change, a row each: the factor or the deviation within which the job's value is known"
                    + " beforehand, or neither; least and most where it may not leave a range");

    static final List<Parameter> PARAMETERS = List.of(DEVIATION, MODEL_ERROR, NEXT);

    static final List<JobKey> NESTED = List.of(FREE, KEEP_OUT);

    private CalibrationChoice() {}
}
