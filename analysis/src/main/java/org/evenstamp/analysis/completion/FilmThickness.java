package org.evenstamp.analysis.completion;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.material.Datum;
import org.evenstamp.analysis.material.Material;
import org.evenstamp.analysis.material.Property;
import org.evenstamp.analysis.process.SpinCoating;
import org.evenstamp.analysis.rheology.MolarMass;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.spi.Parameter.Quantity;

/** The thickness of a film: from the speed of spin coating where a job gives that instead, and not below the size of its chains. */
public final class FilmThickness {
    /** Speed of spin coating. */
    public static final Quantity SPIN_SPEED = Quantity.optional(
            "film.spin-speed", "rpm", 1, 1e5, "speed of spin coating, to find film.thickness from one measured film");
    /** Speed at which a film was measured. */
    public static final Quantity SPIN_MEASURED_SPEED =
            Quantity.optional("film.spin-measured-speed", "rpm", 1, 1e5, "speed of spin coating of the measured film");
    /** Thickness measured at it. */
    public static final Quantity SPIN_MEASURED_THICKNESS = Quantity.optional(
            "film.spin-measured-thickness", "nm", 0.1, 1e6, "thickness of the measured film, of the same solution");

    private static final List<Quantity> KEYS = List.of(SPIN_SPEED, SPIN_MEASURED_SPEED, SPIN_MEASURED_THICKNESS);

    private FilmThickness() {}

    /** Adds the thickness of a spun film, or tells what is missing, given twice or too thin. */
    static void complete(
            Map<String, Double> numbers, Set<String> doubtful, Optional<Material> film, Problems problems) {
        spun(numbers, doubtful, problems);
        coil(numbers, doubtful, film, problems);
    }

    private static void doubt(Map<String, Double> numbers, Set<String> doubtful) {
        if (!numbers.containsKey(CommonParameters.FILM_THICKNESS.id())) {
            doubtful.add(CommonParameters.FILM_THICKNESS.id());
        }
    }

    private static void spun(Map<String, Double> numbers, Set<String> doubtful, Problems problems) {
        Double speed = numbers.get(SPIN_SPEED.id());
        if (KEYS.stream().anyMatch(key -> doubtful.contains(key.id()))) {
            doubt(numbers, doubtful);
            return;
        }
        if (speed == null) {
            return;
        }
        Double measuredSpeed = numbers.get(SPIN_MEASURED_SPEED.id());
        Double measured = numbers.get(SPIN_MEASURED_THICKNESS.id());
        if (measuredSpeed == null || measured == null) {
            problems.add(
                    "film.spin-incomplete",
                    SPIN_SPEED.id(),
                    "a spin speed alone says no thickness",
                    "give " + SPIN_MEASURED_SPEED.id() + " and " + SPIN_MEASURED_THICKNESS.id()
                            + ", one measured film");
            doubt(numbers, doubtful);
        } else if (numbers.containsKey(CommonParameters.FILM_THICKNESS.id())) {
            problems.add(
                    "film.thickness-twice",
                    CommonParameters.FILM_THICKNESS.id(),
                    "it is given beside " + SPIN_SPEED.id() + ", which says it too",
                    "leave out one of the two");
        } else {
            numbers.put(
                    CommonParameters.FILM_THICKNESS.id(), SpinCoating.scaledMetres(measured, speed / measuredSpeed, 1));
        }
    }

    /** A film thinner than its chains are wide is no melt of them. Without a molar mass the least film thickness stands alone. */
    private static void coil(
            Map<String, Double> numbers, Set<String> doubtful, Optional<Material> film, Problems problems) {
        Double thickness = numbers.get(CommonParameters.FILM_THICKNESS.id());
        Double stated = numbers.get(JobCompletion.MOLAR_MASS.id());
        Optional<Double> mass = stated != null
                ? Optional.of(stated)
                : film.flatMap(one -> one.find(Property.MOLAR_MASS)).map(Datum::si);
        if (thickness == null || mass.isEmpty() || doubtful.contains(JobCompletion.MOLAR_MASS.id())) {
            return;
        }
        double coil = MolarMass.coilMetres(mass.get());
        if (thickness < coil) {
            problems.add(
                    "film.thinner-than-chains",
                    CommonParameters.FILM_THICKNESS.id(),
                    String.format(
                            Locale.ROOT,
                            "it is %.3g nm, and chains of %.4g kg/mol have a radius of gyration of %.3g nm: such a film is no melt of"
                                    + " them",
                            thickness * 1e9,
                            mass.get(),
                            coil * 1e9),
                    "a thicker film, or shorter chains");
        }
    }
}
