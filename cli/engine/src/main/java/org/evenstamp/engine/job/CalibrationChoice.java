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

    /** The free keys. */
    public static final JobKey.Nested FREE = new JobKey.Nested(
            "calibrate.free",
            "[{key: film.viscosity, factor: 3}, {key: film.thickness, deviation: 3 nm}]",
            "the keys that a fit may change, a row each: the factor or the deviation within which the job's value is known"
                    + " beforehand, or neither");

    static final List<Parameter> PARAMETERS = List.of(DEVIATION);

    static final List<JobKey> NESTED = List.of(FREE);

    private CalibrationChoice() {}
}
