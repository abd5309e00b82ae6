package org.evenstamp.analysis.rheology;

import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
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
     * Returns the flow law through the job's {@code film.viscosity}: WLF, Arrhenius or constant, as the constants given say; or
     * the job's table.
     *
     * @param p the job's values
     * @param pressKelvin temperature while the film is pressed, that of {@code film.viscosity}
     * @param solventFraction share of solvent in the film then
     * @throws InputException when numbers contradict each other, are missing, or the film does not flow when it is pressed
     */
    public static FilmLaw law(Parameters p, double pressKelvin, double solventFraction) {
        double glass = p.find(GLASS.id()).orElse(0);
        OptionalDouble solventGlass = p.find(SOLVENT_GLASS.id());
        Optional<Plasticizer> plasticizer = glass > 0 && solventGlass.isPresent()
                ? Optional.of(new Plasticizer.Fox(glass, solventGlass.getAsDouble()))
                : Optional.empty();
        Optional<Double> decomposition = optional(p.find(DECOMPOSITION.id()));
        double asDry = pressKelvin;
        if (solventFraction > 0) {
            asDry += glass
                    - plasticizer.orElseThrow(FilmParameters::solventUnknown).glassKelvin(solventFraction);
        }
        return new FilmLaw(viscosity(p, glass, asDry), plasticizer, decomposition);
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

    private static Optional<Double> optional(OptionalDouble value) {
        return value.isPresent() ? Optional.of(value.getAsDouble()) : Optional.empty();
    }

    private static ViscosityLaw viscosity(Parameters p, double glass, double kelvin) {
        double value = p.quantity(CommonParameters.FILM_VISCOSITY.id());
        ViscosityLaw.requireFlow(kelvin, glass);
        if (!p.table(VISCOSITIES.id()).isEmpty()) {
            ViscosityLaw table = table(p.table(VISCOSITIES.id()), glass);
            double stated = table.pascalSeconds(kelvin);
            if (Math.abs(value / stated - 1) > 1e-6) {
                throw new InputException(
                        "film.viscosity-twice",
                        CommonParameters.FILM_VISCOSITY.id(),
                        String.format(
                                Locale.ROOT,
                                "it is %.6g Pa s, but the table of film.viscosities says %.6g Pa s at %s",
                                value,
                                stated,
                                TemperatureRange.celsius(kelvin)),
                        "leave out one of the two");
            }
            return table;
        }
        OptionalDouble c1 = p.find(WLF_C1.id());
        if (c1.isPresent()) {
            Wlf law = Wlf.of(
                            1,
                            need(p, WLF_REFERENCE, "a WLF law"),
                            c1.getAsDouble(),
                            need(p, WLF_C2, "a WLF law"),
                            need(p, GLASS, "a WLF law"))
                    .through(value, kelvin);
            return new Wlf(
                    law.referencePascalSeconds(),
                    law.referenceKelvin(),
                    law.c1(),
                    law.c2Kelvin(),
                    glass,
                    valid(p, law.valid()));
        }
        OptionalDouble activation = p.find(ARRHENIUS.id());
        TemperatureRange here = valid(p, new TemperatureRange(kelvin, kelvin));
        return activation.isPresent()
                ? new Arrhenius(value, kelvin, activation.getAsDouble(), glass, here)
                : new Newtonian(value, glass, here);
    }

    /**
     * Returns the law of the rows of {@link #VISCOSITIES}, in any order.
     *
     * @throws InputException when it is not monotone
     */
    public static ViscosityLaw table(List<Map<String, Double>> rows, double glassKelvin) {
        List<Map<String, Double>> sorted = rows.stream()
                .sorted(Comparator.comparingDouble(row -> row.getOrDefault("temperature", 0.0)))
                .toList();
        return new TabulatedViscosity(
                sorted.stream()
                        .mapToDouble(row -> row.getOrDefault("temperature", 0.0))
                        .toArray(),
                sorted.stream()
                        .mapToDouble(row -> row.getOrDefault("viscosity", 0.0))
                        .toArray(),
                glassKelvin);
    }

    private static double need(Parameters p, Quantity quantity, String what) {
        return p.find(quantity.id())
                .orElseThrow(() -> new InputException(
                        "film.law-incomplete", quantity.id(), what + " needs it", "give it, or name a film.material"));
    }

    private static TemperatureRange valid(Parameters p, TemperatureRange otherwise) {
        double from = p.find(VALID_FROM.id()).orElse(otherwise.leastKelvin());
        double to = p.find(VALID_TO.id()).orElse(otherwise.mostKelvin());
        if (from > to) {
            throw new InputException(
                    "film.valid-range",
                    VALID_FROM.id(),
                    "it is " + TemperatureRange.celsius(from) + ", above film.valid-to, "
                            + TemperatureRange.celsius(to),
                    "write the lower temperature first");
        }
        return new TemperatureRange(from, to);
    }
}
