package org.evenstamp.analysis.material;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.analysis.rheology.FilmLaw;
import org.evenstamp.analysis.rheology.ShearThinning;
import org.evenstamp.analysis.rheology.TemperatureRange;
import org.evenstamp.analysis.rheology.ViscosityConstants;
import org.evenstamp.analysis.rheology.ViscosityConstants.Point;
import org.evenstamp.analysis.rheology.ViscosityConstants.WlfShape;
import org.evenstamp.shared.problem.InputException;

/** The flow law of a film material from its numbers. */
public final class FilmLaws {
    private FilmLaws() {}

    /**
     * Returns the flow law of a dry film: WLF or Arrhenius through its one viscosity when it has their constants; else the table
     * that its viscosities make; else its one viscosity. A film without a glass temperature is a liquid.
     *
     * @throws InputException when numbers are missing or do not fit together
     */
    public static FilmLaw of(Material film) {
        List<Point> points = points(film);
        return new FilmLaw(
                constants(film, points).through(points.get(0)),
                Optional.empty(),
                film.find(Property.DECOMPOSITION_TEMPERATURE).map(Datum::si),
                thinning(film));
    }

    private static ViscosityConstants constants(Material film, List<Point> points) {
        Optional<Datum> c1 = film.find(Property.WLF_C1);
        Optional<Datum> activation = film.find(Property.ARRHENIUS_TEMPERATURE);
        Optional<Datum> shape = c1.or(() -> activation);
        if (shape.isPresent() && points.size() > 1) {
            throw new InputException(
                    "material.viscosities",
                    film.kind().word() + " " + film.id(),
                    "it has " + points.size() + " viscosities beside the constants of a law",
                    "leave one, or leave out the constants to have them as a table");
        }
        Optional<TemperatureRange> valid =
                shape.or(() -> film.find(Property.VISCOSITY)).flatMap(Datum::valid);
        return new ViscosityConstants(
                c1.isPresent()
                        ? film.si(Property.GLASS_TEMPERATURE)
                        : film.find(Property.GLASS_TEMPERATURE).map(Datum::si).orElse(0.0),
                c1.map(first -> new WlfShape(first.si(), film.si(Property.WLF_C2), film.si(Property.WLF_REFERENCE))),
                activation.isPresent() ? OptionalDouble.of(activation.get().si()) : OptionalDouble.empty(),
                points.size() > 1 ? points : List.of(),
                valid.isPresent() ? OptionalDouble.of(valid.get().leastKelvin()) : OptionalDouble.empty(),
                valid.isPresent() ? OptionalDouble.of(valid.get().mostKelvin()) : OptionalDouble.empty());
    }

    /**
     * Returns the viscosities of a film with their temperatures, in the order its material lists them.
     *
     * @throws InputException when there is none, or one lacks its temperature
     */
    public static List<Point> points(Material film) {
        List<Datum> viscosities = film.all(Property.VISCOSITY);
        if (viscosities.isEmpty()) {
            film.si(Property.VISCOSITY); // throws, naming what is missing
        }
        return viscosities.stream()
                .map(datum -> new Point(temperature(film, datum), datum.si()))
                .toList();
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

    private static ShearThinning thinning(Material film) {
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
