package org.evenstamp.analysis.material;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.evenstamp.analysis.rheology.Arrhenius;
import org.evenstamp.analysis.rheology.FilmLaw;
import org.evenstamp.analysis.rheology.Newtonian;
import org.evenstamp.analysis.rheology.Plasticizer;
import org.evenstamp.analysis.rheology.ShearThinning;
import org.evenstamp.analysis.rheology.TabulatedViscosity;
import org.evenstamp.analysis.rheology.TemperatureRange;
import org.evenstamp.analysis.rheology.ViscosityLaw;
import org.evenstamp.analysis.rheology.Wlf;
import org.evenstamp.shared.problem.InputException;

/** The flow laws of a film from its numbers. */
public final class FilmLaws {
    private FilmLaws() {}

    /**
     * Returns the flow law of a dry film.
     *
     * @throws InputException as {@link #viscosity}
     */
    public static FilmLaw of(Material film) {
        return new FilmLaw(
                viscosity(film),
                Optional.empty(),
                film.find(Property.DECOMPOSITION_TEMPERATURE).map(Datum::si));
    }

    /**
     * Returns the flow law of a film that takes up a solvent, with Fox's rule for its glass temperature.
     *
     * @throws InputException as {@link #viscosity}, or when a glass temperature is missing
     */
    public static FilmLaw of(Material film, Material solvent) {
        FilmLaw dry = of(film);
        return new FilmLaw(
                dry.viscosity(),
                Optional.of(new Plasticizer.Fox(
                        film.si(Property.GLASS_TEMPERATURE), solvent.si(Property.GLASS_TEMPERATURE))),
                dry.decompositionKelvin());
    }

    /**
     * Returns the viscosity: WLF when the film has its constants, through the film's one viscosity; else Arrhenius when it
     * has an activation temperature; else the table its viscosities make; else its one viscosity. A film without a glass
     * temperature is a liquid.
     *
     * @throws InputException when numbers are missing or do not fit together
     */
    public static ViscosityLaw viscosity(Material film) {
        List<Datum> points = film.all(Property.VISCOSITY).stream()
                .sorted(Comparator.comparingDouble(datum -> temperature(film, datum)))
                .toList();
        if (points.isEmpty()) {
            film.si(Property.VISCOSITY); // throws, naming what is missing
        }
        Datum first = points.get(0);
        double value = first.si();
        double at = temperature(film, first);
        double glass = film.find(Property.GLASS_TEMPERATURE).map(Datum::si).orElse(0.0);
        TemperatureRange point = new TemperatureRange(at, at);
        Optional<Datum> c1 = film.find(Property.WLF_C1);
        if (c1.isPresent()) {
            requireOne(film, points);
            glass = film.si(Property.GLASS_TEMPERATURE);
            Wlf shape = Wlf.of(1, film.si(Property.WLF_REFERENCE), c1.get().si(), film.si(Property.WLF_C2), glass);
            Wlf law = shape.through(value, at);
            return new Wlf(
                    law.referencePascalSeconds(),
                    law.referenceKelvin(),
                    law.c1(),
                    law.c2Kelvin(),
                    glass,
                    c1.get().valid().orElse(law.valid()));
        }
        Optional<Datum> activation = film.find(Property.ARRHENIUS_TEMPERATURE);
        if (activation.isPresent()) {
            requireOne(film, points);
            return new Arrhenius(
                    value,
                    at,
                    activation.get().si(),
                    glass,
                    activation.get().valid().orElse(point));
        }
        if (points.size() > 1) {
            return new TabulatedViscosity(
                    points.stream()
                            .mapToDouble(datum -> temperature(film, datum))
                            .toArray(),
                    points.stream().mapToDouble(Datum::si).toArray(),
                    glass);
        }
        return new Newtonian(value, glass, first.valid().orElse(point));
    }

    private static double temperature(Material film, Datum viscosity) {
        return viscosity
                .atKelvin()
                .orElseThrow(() -> new InputException(
                        "material.viscosity-temperature",
                        film.kind().word() + " " + film.id(),
                        "a viscosity has no temperature",
                        "fill in its column \"at\""));
    }

    private static void requireOne(Material film, List<Datum> points) {
        if (points.size() > 1) {
            throw new InputException(
                    "material.viscosities",
                    film.kind().word() + " " + film.id(),
                    "it has " + points.size() + " viscosities beside the constants of a law",
                    "leave one, or leave out the constants to have them as a table");
        }
    }

    /** Returns how the film thins: after Carreau and Yasuda, after Cross, or not at all when nothing is known. */
    public static ShearThinning thinning(Material film) {
        Optional<Datum> stress = film.find(Property.THINNING_STRESS);
        if (stress.isEmpty()) {
            return new ShearThinning.None();
        }
        double exponent = film.si(Property.THINNING_EXPONENT);
        return film.find(Property.THINNING_SHARPNESS)
                .<ShearThinning>map(
                        sharp -> new ShearThinning.CarreauYasuda(stress.get().si(), sharp.si(), exponent))
                .orElseGet(() -> new ShearThinning.Cross(stress.get().si(), exponent));
    }
}
