package org.evenstamp.analysis.completion;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.material.Datum;
import org.evenstamp.analysis.material.FilmLaws;
import org.evenstamp.analysis.material.Material;
import org.evenstamp.analysis.material.Property;
import org.evenstamp.analysis.process.ProcessKind;
import org.evenstamp.analysis.process.ProcessParameters;
import org.evenstamp.analysis.process.Roller;
import org.evenstamp.analysis.process.SpinCoating;
import org.evenstamp.analysis.process.StatedSteps;
import org.evenstamp.analysis.rheology.FilmLaw;
import org.evenstamp.analysis.rheology.FilmParameters;
import org.evenstamp.analysis.rheology.MolarMass;
import org.evenstamp.analysis.rheology.TemperatureRange;
import org.evenstamp.analysis.rheology.ViscosityConstants.Point;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.spi.Parameter.Quantity;
import org.evenstamp.shared.spi.Parameters;

/**
 * Completes the values of a job: what the job gives stands; what it leaves out its materials answer; and what a process says in
 * its own words (a roller's force and speed, a table of steps) is put into the words that every analysis reads: viscosity while
 * the film fills, pressure and time.
 */
public final class JobCompletion {
    /** Molar mass that a film's viscosity is scaled to. */
    public static final Quantity MOLAR_MASS = Quantity.optional(
            "film.molar-mass",
            "kg/mol",
            0.1,
            1e5,
            "weight-average molar mass of the film, where it differs from that of film.material: its viscosity is scaled");
    /** Speed of spin coating. */
    public static final Quantity SPIN_SPEED = Quantity.optional(
            "film.spin-speed", "rpm", 1, 1e5, "speed of spin coating, to find film.thickness from one measured film");
    /** Speed at which a film was measured. */
    public static final Quantity SPIN_MEASURED_SPEED =
            Quantity.optional("film.spin-measured-speed", "rpm", 1, 1e5, "speed of spin coating of the measured film");
    /** Thickness measured at it. */
    public static final Quantity SPIN_MEASURED_THICKNESS = Quantity.optional(
            "film.spin-measured-thickness", "nm", 0.1, 1e6, "thickness of the measured film, of the same solution");

    private static final Map<Property, List<String>> FILM = Map.ofEntries(
            Map.entry(Property.GLASS_TEMPERATURE, List.of(FilmParameters.GLASS.id())),
            Map.entry(Property.DECOMPOSITION_TEMPERATURE, List.of(FilmParameters.DECOMPOSITION.id())),
            Map.entry(Property.WLF_C1, List.of(FilmParameters.WLF_C1.id())),
            Map.entry(Property.WLF_C2, List.of(FilmParameters.WLF_C2.id())),
            Map.entry(Property.WLF_REFERENCE, List.of(FilmParameters.WLF_REFERENCE.id())),
            Map.entry(Property.ARRHENIUS_TEMPERATURE, List.of(FilmParameters.ARRHENIUS.id())),
            Map.entry(Property.THINNING_STRESS, List.of(FilmParameters.THINNING_STRESS.id())),
            Map.entry(Property.THINNING_EXPONENT, List.of(FilmParameters.THINNING_EXPONENT.id())),
            Map.entry(Property.THINNING_SHARPNESS, List.of(FilmParameters.THINNING_SHARPNESS.id())),
            Map.entry(Property.DOSE, List.of(ProcessParameters.DOSE.id())),
            Map.entry(Property.CURE_SHRINKAGE, List.of("film.cure-shrinkage")),
            Map.entry(Property.PLATEAU_MODULUS, List.of("film.plateau-modulus")),
            Map.entry(Property.YOUNG_MODULUS, List.of("film.modulus")),
            Map.entry(Property.POISSON, List.of("film.poisson")),
            Map.entry(Property.EXPANSION, List.of("film.expansion")),
            Map.entry(Property.BULK_MODULUS, List.of("film.bulk-modulus")),
            Map.entry(Property.STRENGTH, List.of("film.strength")),
            Map.entry(Property.SURFACE_ENERGY, List.of("film.surface-energy")));
    private static final Map<Property, List<String>> SOLVENT =
            Map.of(Property.GLASS_TEMPERATURE, List.of(FilmParameters.SOLVENT_GLASS.id()));
    private static final Map<Property, List<String>> STAMP = Map.of(
            Property.YOUNG_MODULUS, List.of("stamp.modulus"),
            Property.POISSON, List.of("stamp.poisson"),
            Property.EXPANSION, List.of("stamp.expansion"),
            Property.STRENGTH, List.of("stamp.strength"),
            Property.SURFACE_ENERGY, List.of("release.stamp-energy"));
    private static final Map<Property, List<String>> LAYER = Map.of(
            Property.YOUNG_MODULUS, List.of("stamp.layer.modulus"), Property.POISSON, List.of("stamp.layer.poisson"));
    private static final Map<Property, List<String>> COATING =
            Map.of(Property.SURFACE_ENERGY, List.of("release.stamp-energy"));
    private static final Map<Property, List<String>> SUBSTRATE =
            Map.of(Property.EXPANSION, List.of("release.substrate-expansion"));

    private final Map<String, Double> quantities;
    private final Map<String, String> words;
    private final Map<String, List<Map<String, Double>>> tables;
    private final Problems problems;

    private JobCompletion(
            Map<String, Double> quantities,
            Map<String, String> words,
            Map<String, List<Map<String, Double>>> tables,
            Problems problems) {
        this.quantities = quantities;
        this.words = words;
        this.tables = tables;
        this.problems = problems;
    }

    /**
     * Adds to the values of a job what follows from its materials and its process.
     *
     * @param quantities numbers in SI by key; completed in place
     * @param words chosen words by key
     * @param tables rows by key; completed in place
     * @param materials what the job names
     * @param problems takes what contradicts itself, is missing for the kind of process, or cannot flow
     */
    public static void complete(
            Map<String, Double> quantities,
            Map<String, String> words,
            Map<String, List<Map<String, Double>>> tables,
            NamedMaterials materials,
            Problems problems) {
        JobCompletion values = new JobCompletion(quantities, words, tables, problems);
        materials.solvent().ifPresent(solvent -> values.take(solvent, SOLVENT));
        materials.coating().ifPresent(coating -> values.take(coating, COATING));
        materials.stamp().ifPresent(stamp -> {
            values.take(stamp, STAMP);
            if ("bonded-layer".equals(words.get("stamp.kind"))) {
                values.take(stamp, LAYER);
            }
        });
        materials.substrate().ifPresent(substrate -> values.take(substrate, SUBSTRATE));
        materials.film().ifPresent(film -> values.take(film, FILM));
        materials.film().ifPresent(values::takePoints);
        values.spinThickness();
        values.process();
        values.setTemperature();
        values.viscosity(materials.film());
    }

    private void take(Material material, Map<Property, List<String>> keys) {
        keys.forEach((property, ids) ->
                material.find(property).ifPresent(datum -> ids.forEach(id -> quantities.putIfAbsent(id, datum.si()))));
    }

    private boolean givesLaw() {
        return quantities.containsKey(FilmParameters.WLF_C1.id())
                || quantities.containsKey(FilmParameters.ARRHENIUS.id());
    }

    /** Several viscosities make a table; where the law holds goes along. */
    private void takePoints(Material film) {
        if (film.all(Property.VISCOSITY).size() > 1 && !givesLaw()) {
            List<Map<String, Double>> rows = FilmLaws.points(film).stream()
                    .map(point -> Map.of("temperature", point.kelvin(), "viscosity", point.pascalSeconds()))
                    .toList();
            tables.putIfAbsent(FilmParameters.VISCOSITIES.id(), rows);
        }
        film.find(Property.WLF_C1)
                .or(() -> film.find(Property.ARRHENIUS_TEMPERATURE))
                .or(() -> film.find(Property.VISCOSITY))
                .flatMap(Datum::valid)
                .ifPresent(valid -> {
                    quantities.putIfAbsent(FilmParameters.VALID_FROM.id(), valid.leastKelvin());
                    quantities.putIfAbsent(FilmParameters.VALID_TO.id(), valid.mostKelvin());
                });
    }

    private Parameters parameters(Map<String, Double> numbers) {
        Parameters.Builder builder = Parameters.builder();
        numbers.forEach(builder::quantity);
        words.forEach(builder::choice);
        tables.forEach(builder::table);
        return builder.defaults(ProcessParameters.all())
                .defaults(FilmParameters.all())
                .build();
    }

    private void spinThickness() {
        Double speed = quantities.get(SPIN_SPEED.id());
        if (speed == null) {
            return;
        }
        Double measuredSpeed = quantities.get(SPIN_MEASURED_SPEED.id());
        Double measured = quantities.get(SPIN_MEASURED_THICKNESS.id());
        if (measuredSpeed == null || measured == null) {
            problems.add(
                    "film.spin-incomplete",
                    SPIN_SPEED.id(),
                    "a spin speed alone says no thickness",
                    "give " + SPIN_MEASURED_SPEED.id() + " and " + SPIN_MEASURED_THICKNESS.id()
                            + ", one measured film");
        } else if (quantities.containsKey(CommonParameters.FILM_THICKNESS.id())) {
            problems.add(
                    "film.thickness-twice",
                    CommonParameters.FILM_THICKNESS.id(),
                    "it is given beside " + SPIN_SPEED.id() + ", which says it too",
                    "leave out one of the two");
        } else {
            quantities.put(
                    CommonParameters.FILM_THICKNESS.id(), SpinCoating.scaledMetres(measured, speed / measuredSpeed, 1));
        }
    }

    private void process() {
        if (words.getOrDefault(ProcessParameters.KIND.id(), "hold").equals("hold")) {
            return;
        }
        ProcessKind kind;
        try {
            kind = ProcessParameters.kind(parameters(quantities)).orElseThrow();
        } catch (InputException e) {
            problems.add(e);
            return;
        }
        if (kind instanceof Roller roller) {
            say(CommonParameters.PRESSURE, roller.contact().meanPascals(), ProcessParameters.LINE_FORCE.id());
            say(CommonParameters.HOLD, roller.dwellSeconds(), ProcessParameters.WEB_SPEED.id());
        } else if (kind instanceof StatedSteps stated) {
            double most = 0;
            double pressed = 0;
            for (var step : stated.steps()) {
                most = Math.max(most, step.pascals().most());
                pressed += step.pascals().most() > 0 ? step.seconds() : 0;
            }
            say(CommonParameters.PRESSURE, most, ProcessParameters.STEPS.id());
            say(CommonParameters.HOLD, pressed, ProcessParameters.STEPS.id());
            say(
                    ProcessParameters.TEMPERATURE,
                    ProcessParameters.pressKelvin(parameters(quantities)).orElseThrow(),
                    ProcessParameters.STEPS.id());
        }
    }

    /** Puts in what another key says; both together contradict each other. */
    private void say(Quantity quantity, double value, String because) {
        if (quantities.containsKey(quantity.id())) {
            problems.add(
                    "process.twice",
                    quantity.id(),
                    "it is given beside " + because + ", which says it too",
                    "leave it out");
        }
        quantities.put(quantity.id(), value);
    }

    /** A melt sets at its glass temperature; a liquid, and a film that dries, at the temperature it is pressed at. */
    private void setTemperature() {
        String kind = words.getOrDefault(ProcessParameters.KIND.id(), "hold");
        Double glass = quantities.get(FilmParameters.GLASS.id());
        Double pressed = quantities.get(ProcessParameters.TEMPERATURE.id());
        boolean melt = glass != null && !kind.equals("solvent-press");
        Double set = melt ? glass : kind.equals("hold") ? null : pressed;
        if (set != null) {
            quantities.putIfAbsent("film.set-temperature", set);
        }
    }

    /** The viscosity at the temperature of pressing, from the material's one viscosity and the law's shape, or from a table. */
    private void viscosity(Optional<Material> film) {
        String id = CommonParameters.FILM_VISCOSITY.id();
        boolean given = quantities.containsKey(id);
        Double pressed = quantities.get(ProcessParameters.TEMPERATURE.id());
        List<Map<String, Double>> table = tables.getOrDefault(FilmParameters.VISCOSITIES.id(), List.of());
        boolean known = film.isPresent() && !film.get().all(Property.VISCOSITY).isEmpty();
        if (pressed == null || (table.isEmpty() && (given || !known))) {
            return;
        }
        try {
            Parameters p = parameters(quantities);
            double solvent = ProcessParameters.solventShare(p);
            FilmLaw law = FilmParameters.law(p, table.isEmpty() ? scaledPoint(film.orElseThrow()) : row(table.get(0)));
            if (solvent > 0 && law.plasticizer().isEmpty()) {
                throw FilmParameters.solventUnknown();
            }
            double value = law.at(pressed, solvent).pascalSeconds();
            if (given) {
                throw new InputException(
                        "film.viscosity-twice",
                        id,
                        String.format(
                                Locale.ROOT,
                                "it is %.6g Pa s, but the table of film.viscosities says %.6g Pa s at %s",
                                quantities.get(id),
                                value,
                                TemperatureRange.celsius(pressed)),
                        "leave out one of the two");
            }
            quantities.put(id, value);
        } catch (InputException e) {
            e.problems()
                    .forEach(problem -> problems.add(
                            problem.code(),
                            problem.place().isEmpty() ? ProcessParameters.TEMPERATURE.id() : problem.place(),
                            problem.message(),
                            problem.fix()));
        }
    }

    private static Point row(Map<String, Double> row) {
        return new Point(row.getOrDefault("temperature", 0.0), row.getOrDefault("viscosity", 0.0));
    }

    /** The first of a film's viscosities, scaled to the molar mass that the job states. */
    private Point scaledPoint(Material film) {
        Point point = FilmLaws.points(film).get(0);
        return new Point(point.kelvin(), point.pascalSeconds() * massRatio(film));
    }

    private double massRatio(Material film) {
        Double wanted = quantities.get(MOLAR_MASS.id());
        return wanted == null
                ? 1
                : MolarMass.viscosityRatio(film.si(Property.MOLAR_MASS), wanted, film.si(Property.CRITICAL_MOLAR_MASS));
    }
}
