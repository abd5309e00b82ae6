package org.evenstamp.engine.job;

import java.util.List;
import org.evenstamp.shared.spi.Parameter;

/** The section {@code sweep} of a job: which of its keys vary, and how many runs are made of that. */
public final class SweepChoice {
    /** How the points are chosen. */
    public static final Parameter.Choice DESIGN = new Parameter.Choice(
            "sweep.design",
            List.of("sobol", "latin", "grid", "indices"),
            "how the runs are chosen: scrambled Sobol points, a Latin hypercube, every combination of the levels, or the runs"
                    + " that Sobol indices need");

    /** Number of samples. */
    public static final Parameter.Quantity SAMPLES = Parameter.Quantity.standard(
            "sweep.samples", "1", 64, 1, 1e6, "number of samples; a grid has as many as it has combinations");

    /** Seed of the samples. */
    public static final Parameter.Quantity SEED = Parameter.Quantity.standard(
            "sweep.seed", "1", 1, 0, 1e9, "seed of the samples; another seed gives other ones");

    /** What may be exceeded. */
    public static final Parameter.Quantity CHANCE = Parameter.Quantity.optional(
            "sweep.chance",
            "%",
            0,
            100,
            "chance of a run out of limits that is still allowed; not held against it without");

    /** When a sweep may stop early. */
    public static final Parameter.Quantity UNTIL = Parameter.Quantity.optional(
            "sweep.until",
            "%",
            0.01,
            100,
            "width of the 95 % interval of the chance of a run out of limits at which a sweep of Sobol points stops before all"
                    + " its samples have run; looked at after every 32 of them");

    /** Which keys vary. */
    public static final JobKey.Nested VARY = new JobKey.Nested(
            "sweep.vary",
            "[{key: film.viscosity, median: 1e4 Pa s, factor: 3}]",
            "the keys that vary, a row each: {key, values}, {key, from, to, steps, scale}, {key, mean, deviation}, {key,"
                    + " median, factor}, {key, factor} of what the job then has, {key, least, likely, most}, or {key} alone for"
                    + " the spread that its material states");

    /** How they go together. */
    public static final JobKey.Nested CORRELATE = new JobKey.Nested(
            "sweep.correlate",
            "[{keys: [film.viscosity, film.thickness], by: 0.5}]",
            "keys that go together: pairs of them and the correlation of their normal scores");

    /** What is kept. */
    public static final JobKey.Nested KEEP = new JobKey.Nested(
            "sweep.keep",
            "[residual.final]",
            "fields of which every run's values are kept, for maps of their mean, quantiles and chances");

    static final List<Parameter> PARAMETERS = List.of(DESIGN, SAMPLES, SEED, CHANCE, UNTIL);

    static final List<JobKey> NESTED = List.of(VARY, CORRELATE, KEEP);

    private SweepChoice() {}
}
