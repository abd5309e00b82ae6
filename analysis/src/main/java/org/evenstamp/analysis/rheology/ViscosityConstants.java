package org.evenstamp.analysis.rheology;

import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.shared.problem.InputException;

/**
 * The numbers that shape a film's viscosity against temperature, whoever knows them: a material or a job. Which law they make
 * is decided here and nowhere else: the table where there is one; else WLF where its constants are known; else Arrhenius where
 * an activation is known; else one viscosity.
 *
 * @param glassKelvin glass temperature; 0 for a liquid
 * @param wlf constants of the WLF law; empty where not known
 * @param activationKelvin activation energy over the gas constant; empty where not known
 * @param table measured viscosities in any order; empty where there is none
 * @param validFromKelvin lowest temperature at which the law holds; without it that of the law itself
 * @param validToKelvin highest temperature at which the law holds; without it that of the law itself
 */
public record ViscosityConstants(
        double glassKelvin,
        Optional<WlfShape> wlf,
        OptionalDouble activationKelvin,
        List<Point> table,
        OptionalDouble validFromKelvin,
        OptionalDouble validToKelvin) {

    /**
     * The temperature dependence of a WLF law.
     *
     * @param c1 first constant, base 10
     * @param c2Kelvin second constant
     * @param referenceKelvin temperature they refer to
     */
    public record WlfShape(double c1, double c2Kelvin, double referenceKelvin) {}

    /** A viscosity at a temperature. */
    public record Point(double kelvin, double pascalSeconds) {}

    /** Copies the table. */
    public ViscosityConstants {
        table = List.copyOf(table);
    }

    /** Returns whether one viscosity has to be known beside these constants: a table says all by itself. */
    public boolean needsPoint() {
        return table.isEmpty();
    }

    /**
     * Returns the law of the table.
     *
     * @throws InputException when it is not monotone, or starts below the glass temperature
     */
    public ViscosityLaw ofTable() {
        List<Point> sorted =
                table.stream().sorted(Comparator.comparingDouble(Point::kelvin)).toList();
        return new TabulatedViscosity(
                sorted.stream().mapToDouble(Point::kelvin).toArray(),
                sorted.stream().mapToDouble(Point::pascalSeconds).toArray(),
                glassKelvin);
    }

    /**
     * Returns the law through a point; that of the table where there is one, which needs no point.
     *
     * @throws InputException when numbers do not fit together, or the film is a solid at the point
     */
    public ViscosityLaw through(Point point) {
        if (!needsPoint()) {
            return ofTable();
        }
        ViscosityLaw.requireFlow(point.kelvin, glassKelvin);
        TemperatureRange here = new TemperatureRange(point.kelvin, point.kelvin);
        if (wlf.isPresent()) {
            WlfShape shape = wlf.get();
            Wlf law = Wlf.of(1, shape.referenceKelvin, shape.c1, shape.c2Kelvin, glassKelvin)
                    .through(point.pascalSeconds, point.kelvin);
            return new Wlf(
                    law.referencePascalSeconds(),
                    law.referenceKelvin(),
                    law.c1(),
                    law.c2Kelvin(),
                    glassKelvin,
                    valid(law.valid()));
        }
        return activationKelvin.isPresent()
                ? new Arrhenius(
                        point.pascalSeconds, point.kelvin, activationKelvin.getAsDouble(), glassKelvin, valid(here))
                : new Newtonian(point.pascalSeconds, glassKelvin, valid(here));
    }

    private TemperatureRange valid(TemperatureRange otherwise) {
        double from = validFromKelvin.orElse(otherwise.leastKelvin());
        double to = validToKelvin.orElse(otherwise.mostKelvin());
        if (from > to) {
            throw new InputException(
                    "film.valid-range",
                    FilmParameters.VALID_FROM.id(),
                    String.format(
                            Locale.ROOT,
                            "it is %s, above film.valid-to, %s",
                            TemperatureRange.celsius(from),
                            TemperatureRange.celsius(to)),
                    "write the lower temperature first");
        }
        return new TemperatureRange(from, to);
    }
}
