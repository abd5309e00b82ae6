package org.evenstamp.analysis.rheology;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameter.Quantity;
import org.evenstamp.shared.spi.Parameter.Table;
import org.evenstamp.shared.spi.Parameters;

/**
 * The flow of a film as a job states it: one viscosity, that of the film while it is pressed, and what shape the viscosity has
 * against temperature around it. A film material answers all of them that the job leaves out.
 */
public final class FilmParameters {
    /** Glass temperature. */
    public static final Quantity GLASS = Quantity.optional(
            "film.glass-temperature",
            "degC",
            -200,
            500,
            "glass temperature of the dry film, below which it does not flow; without it the film is a liquid");
    /** Decomposition. */
    public static final Quantity DECOMPOSITION = Quantity.optional(
            "film.decomposition-temperature", "degC", 0, 1000, "temperature above which the film breaks down");
    /** First WLF constant. */
    public static final Quantity WLF_C1 = Quantity.optional(
            "film.wlf-c1", "1", 1e-3, 1e3, "first constant of the WLF law, for the logarithm to base 10");
    /** Second WLF constant. */
    public static final Quantity WLF_C2 =
            Quantity.optional("film.wlf-c2", "K", 1e-3, 1e4, "second constant of the WLF law");
    /** Reference of the WLF constants. */
    public static final Quantity WLF_REFERENCE = Quantity.optional(
            "film.wlf-reference", "degC", -200, 500, "temperature that the constants of the WLF law refer to");
    /** Exponential law. */
    public static final Quantity ARRHENIUS = Quantity.optional(
            "film.arrhenius-temperature", "K", 1, 1e6, "activation energy of the viscosity over the gas constant");
    /** Tabulated viscosity. */
    public static final Table VISCOSITIES = new Table(
            "film.viscosities",
            List.of(
                    Quantity.required("temperature", "degC", -200, 500, "temperature of the dry film"),
                    Quantity.required("viscosity", "Pa s", 1e-5, 1e13, "zero-shear viscosity")),
            "measured viscosities against temperature, in place of a law");
    /** Least temperature of the law. */
    public static final Quantity VALID_FROM = Quantity.optional(
            "film.valid-from", "degC", -273.15, 1000, "lowest temperature for which the viscosity law holds");
    /** Highest temperature of the law. */
    public static final Quantity VALID_TO = Quantity.optional(
            "film.valid-to", "degC", -273.15, 1000, "highest temperature for which the viscosity law holds");
    /** Glass temperature of a solvent. */
    public static final Quantity SOLVENT_GLASS = Quantity.optional(
            "film.solvent-glass-temperature",
            "K",
            1,
            500,
            "glass temperature of the solvent that swells the film (Fox)");
    /** Critical stress of shear thinning. */
    public static final Quantity THINNING_STRESS = Quantity.optional(
            "film.thinning-stress",
            "kPa",
            1e-6,
            1e9,
            "critical stress of shear thinning; without an exponent beside it the solve is without thinning and warns where"
                    + " this is reached");

    /** Exponent of shear thinning. */
    public static final Quantity THINNING_EXPONENT = Quantity.optional(
            "film.thinning-exponent",
            "1",
            0.05,
            1,
            "exponent of the stress over the shear rate at high rates, after Cross: with the critical stress it thins the film"
                    + " that is squeezed out from under protrusions");

    /** Sharpness of shear thinning. */
    public static final Quantity THINNING_SHARPNESS = Quantity.optional(
            "film.thinning-sharpness",
            "1",
            0.1,
            10,
            "how sharply thinning sets in, after Carreau and Yasuda (2 is Carreau's law); without it thinning is after Cross");

    private static final List<Parameter> ALL = List.of(
            GLASS,
            DECOMPOSITION,
            WLF_C1,
            WLF_C2,
            WLF_REFERENCE,
            ARRHENIUS,
            VISCOSITIES,
            VALID_FROM,
            VALID_TO,
            SOLVENT_GLASS,
            THINNING_STRESS,
            THINNING_EXPONENT,
            THINNING_SHARPNESS);

    private FilmParameters() {}

    /** Returns all of them. */
    public static List<Parameter> all() {
        return ALL;
    }

    /**
     * Returns the film of a job: its flow law through the job's {@code film.viscosity}, or of the job's table, and what it does
     * under shear, with solvent and when it is hot.
     *
     * @param p the job's values
     * @param pressKelvin temperature while the film is pressed, that of {@code film.viscosity}
     * @param solventFraction share of solvent in the film then
     * @throws InputException when numbers contradict each other, are missing, or the film does not flow when it is pressed
     */
    public static FilmLaw law(Parameters p, double pressKelvin, double solventFraction) {
        double asDry = pressKelvin;
        if (solventFraction > 0) {
            asDry += p.find(GLASS.id()).orElse(0)
                    - plasticizer(p).orElseThrow(FilmParameters::solventUnknown).glassKelvin(solventFraction);
        }
        ViscosityLaw.requireFlow(asDry, p.find(GLASS.id()).orElse(0));
        return law(p, new ViscosityConstants.Point(asDry, p.quantity(CommonParameters.FILM_VISCOSITY.id())));
    }

    /**
     * Returns the film of a job, its viscosity known dry at one temperature; a table makes that idle.
     *
     * @throws InputException when numbers contradict each other or are missing, or the film is a solid at that temperature
     */
    public static FilmLaw law(Parameters p, ViscosityConstants.Point dry) {
        OptionalDouble decomposition = p.find(DECOMPOSITION.id());
        return new FilmLaw(
                constants(p).through(dry),
                plasticizer(p),
                decomposition.isPresent() ? Optional.of(decomposition.getAsDouble()) : Optional.empty(),
                thinning(p));
    }

    private static Optional<Plasticizer> plasticizer(Parameters p) {
        OptionalDouble glass = p.find(GLASS.id());
        OptionalDouble solvent = p.find(SOLVENT_GLASS.id());
        return glass.isPresent() && solvent.isPresent()
                ? Optional.of(new Plasticizer.Fox(glass.getAsDouble(), solvent.getAsDouble()))
                : Optional.empty();
    }

    private static ViscosityConstants constants(Parameters p) {
        OptionalDouble c1 = p.find(WLF_C1.id());
        boolean wlf = c1.isPresent() && p.table(VISCOSITIES.id()).isEmpty();
        return new ViscosityConstants(
                wlf ? need(p, GLASS, "a WLF law") : p.find(GLASS.id()).orElse(0),
                wlf
                        ? Optional.of(new ViscosityConstants.WlfShape(
                                c1.getAsDouble(), need(p, WLF_C2, "a WLF law"), need(p, WLF_REFERENCE, "a WLF law")))
                        : Optional.empty(),
                p.find(ARRHENIUS.id()),
                p.table(VISCOSITIES.id()).stream()
                        .map(row -> new ViscosityConstants.Point(
                                row.getOrDefault("temperature", 0.0), row.getOrDefault("viscosity", 0.0)))
                        .toList(),
                p.find(VALID_FROM.id()),
                p.find(VALID_TO.id()));
    }

    /** Returns how the film thins with shear; none unless both stress and exponent are given. */
    public static ShearThinning thinning(Parameters p) {
        OptionalDouble stress = p.find(THINNING_STRESS.id());
        OptionalDouble exponent = p.find(THINNING_EXPONENT.id());
        if (stress.isEmpty() || exponent.isEmpty()) {
            return new ShearThinning.None();
        }
        OptionalDouble sharpness = p.find(THINNING_SHARPNESS.id());
        return sharpness.isEmpty()
                ? new ShearThinning.Cross(stress.getAsDouble(), exponent.getAsDouble())
                : new ShearThinning.CarreauYasuda(
                        stress.getAsDouble(), sharpness.getAsDouble(), exponent.getAsDouble());
    }

    /** Returns what to say of solvent in a film of which nothing says how it softens. */
    public static InputException solventUnknown() {
        return new InputException(
                "process.solvent-unknown",
                SOLVENT_GLASS.id(),
                "there is solvent in the film, but nothing says what it does to the glass temperature",
                "name film.solvent, or give film.glass-temperature and " + SOLVENT_GLASS.id());
    }

    private static double need(Parameters p, Quantity quantity, String what) {
        return p.find(quantity.id())
                .orElseThrow(() -> new InputException(
                        "film.law-incomplete", quantity.id(), what + " needs it", "give it, or name a film.material"));
    }
}
