package org.evenstamp.analysis.completion;

import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.imprint.Materials;
import org.evenstamp.analysis.imprint.Menisci;
import org.evenstamp.analysis.material.Datum;
import org.evenstamp.analysis.material.FilmLaws;
import org.evenstamp.analysis.material.Material;
import org.evenstamp.analysis.material.Property;
import org.evenstamp.analysis.process.ProcessKind;
import org.evenstamp.analysis.process.ProcessParameters;
import org.evenstamp.analysis.process.Roller;
import org.evenstamp.analysis.process.StatedSteps;
import org.evenstamp.analysis.rheology.FilmLaw;
import org.evenstamp.analysis.rheology.FilmParameters;
import org.evenstamp.analysis.rheology.MolarMass;
import org.evenstamp.analysis.rheology.TemperatureRange;
import org.evenstamp.analysis.rheology.ViscosityConstants.Point;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.spi.Parameter;
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

    private static final String SET_TEMPERATURE = Materials.SET_TEMPERATURE.id();

    private static final List<String> HOW_FILMS_SET = List.of(
            ProcessParameters.EXPOSURE.id(),
            ProcessParameters.COOL_TIME.id(),
            ProcessParameters.COOL_DISTANCE.id(),
            ProcessParameters.LAMP_DELAY.id(),
            ProcessParameters.LAMP_DISTANCE.id(),
            CommonParameters.RELEASE_TEMPERATURE.id());
    /** Further below the range of a viscosity, K, a liquid film is refused; this tool's choice. */
    private static final double FAR_BELOW = 30;

    private static final List<String> FROM_PROCESS = List.of(
            CommonParameters.PRESSURE.id(),
            CommonParameters.HOLD.id(),
            ProcessParameters.TEMPERATURE.id(),
            SET_TEMPERATURE);

    private final Map<String, Double> numbers;
    private final Map<String, String> words;
    private final Map<String, List<Map<String, Double>>> tables;
    private final Set<String> doubtful;
    private final Problems problems = new Problems();

    private JobCompletion(ValueSet given) {
        numbers = new HashMap<>(given.numbers());
        words = given.words();
        tables = new HashMap<>(given.tables());
        doubtful = new HashSet<>(given.doubtful());
    }

    /**
     * Values with what follows from them.
     *
     * @param values all values
     * @param problems what contradicts itself, is missing for the kind of process, or cannot flow. Each is about a key, or about
     *     something that knows none.
     */
    public record Completed(ValueSet values, List<Problem> problems) {
        /** Copies the problems. */
        public Completed {
            problems = List.copyOf(problems);
        }
    }

    /**
     * Adds to the values of a job what follows from its materials and its process.
     *
     * @param given what the job says
     * @param materials what it names
     */
    public static Completed complete(ValueSet given, NamedMaterials materials) {
        JobCompletion completion = new JobCompletion(given);
        completion.takeMaterials(materials);
        FilmThickness.complete(completion.numbers, completion.doubtful, materials.film(), completion.problems);
        VapourShare.complete(completion.numbers, completion.doubtful, completion.problems);
        Absorption.complete(completion.numbers, completion.words);
        completion.process();
        completion.setTemperature();
        completion.cold();
        completion.viscosity(materials.film());
        return new Completed(
                new ValueSet(completion.numbers, completion.words, completion.tables, completion.doubtful),
                completion.problems.all());
    }

    private void takeMaterials(NamedMaterials materials) {
        materials.solvent().ifPresent(solvent -> {
            take(solvent, MaterialAnswers.SOLVENT);
            MaterialAnswers.factor(solvent).ifPresent(f -> numbers.putIfAbsent(MaterialAnswers.SOLVENT_FACTOR, f));
        });
        materials.coating().ifPresent(coating -> take(coating, MaterialAnswers.COATING));
        materials.stamp().ifPresent(stamp -> {
            take(stamp, MaterialAnswers.STAMP);
            stamp.find(Property.YOUNG_MODULUS).flatMap(Datum::valid).ifPresent(valid -> {
                numbers.putIfAbsent(CommonParameters.STAMP_VALID_FROM.id(), valid.leastKelvin());
                numbers.putIfAbsent(CommonParameters.STAMP_VALID_TO.id(), valid.mostKelvin());
            });
            if ("bonded-layer".equals(words.get("stamp.kind"))) {
                take(stamp, MaterialAnswers.LAYER);
            }
        });
        materials.substrate().ifPresent(substrate -> take(substrate, MaterialAnswers.SUBSTRATE));
        materials.film().ifPresent(film -> {
            take(film, MaterialAnswers.FILM);
            takePoints(film);
        });
    }

    private void take(Material material, Map<Property, List<String>> keys) {
        keys.forEach((property, ids) ->
                material.find(property).ifPresent(datum -> ids.forEach(id -> numbers.putIfAbsent(id, datum.si()))));
    }

    private boolean givesLaw() {
        return numbers.containsKey(FilmParameters.WLF_C1.id()) || numbers.containsKey(FilmParameters.ARRHENIUS.id());
    }

    private boolean isDoubtful(Quantity quantity) {
        return doubtful.contains(quantity.id());
    }

    private boolean anyDoubtful(List<Parameter> parameters) {
        return parameters.stream().anyMatch(parameter -> doubtful.contains(parameter.id()));
    }

    /** Says that what would follow is not known. */
    private void doubt(String id) {
        if (!numbers.containsKey(id)) {
            doubtful.add(id);
        }
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
                    numbers.putIfAbsent(FilmParameters.VALID_FROM.id(), valid.leastKelvin());
                    numbers.putIfAbsent(FilmParameters.VALID_TO.id(), valid.mostKelvin());
                });
    }

    private Parameters parameters() {
        Parameters.Builder builder = Parameters.builder();
        numbers.forEach(builder::quantity);
        words.forEach(builder::choice);
        tables.forEach(builder::table);
        return builder.defaults(ProcessParameters.all())
                .defaults(FilmParameters.all())
                .build();
    }

    /** A resin far below the temperatures of its viscosity is stiff, or frozen; what has a glass temperature is refused by that. */
    private void cold() {
        Double pressed = numbers.get(ProcessParameters.TEMPERATURE.id());
        Double from = numbers.get(FilmParameters.VALID_FROM.id());
        if (pressed == null
                || from == null
                || numbers.containsKey(FilmParameters.GLASS.id())
                || isDoubtful(FilmParameters.GLASS)
                || isDoubtful(ProcessParameters.TEMPERATURE)
                || pressed >= from - FAR_BELOW) {
            return;
        }
        problems.add(
                "process.cold",
                ProcessParameters.TEMPERATURE.id(),
                "it is " + TemperatureRange.celsius(pressed) + ", and the film's viscosity is known from "
                        + TemperatureRange.celsius(from) + " up: so far below, a resin is stiff or frozen",
                "press it warmer, or give film.valid-from where you have measured it");
    }

    /** A hold without pressure is one of menisci alone, or a mistake. */
    private void heldWithNothing() {
        Double pressed = numbers.get(CommonParameters.PRESSURE.id());
        boolean menisci = numbers.getOrDefault(Menisci.SURFACE_TENSION.id(), 0.0) > 0;
        if (pressed != null
                && !menisci
                && !isDoubtful(CommonParameters.PRESSURE)
                && !isDoubtful(Menisci.SURFACE_TENSION)) {
            ProcessParameters.tooLittle(CommonParameters.PRESSURE.id(), pressed).ifPresent(problems::add);
        }
    }

    private void process() {
        String word = words.getOrDefault(ProcessParameters.KIND.id(), "hold");
        if (doubtful.contains(ProcessParameters.KIND.id()) || doubtful.contains(ProcessParameters.STEPS.id())) {
            FROM_PROCESS.forEach(this::doubt);
            return;
        }
        if (word.equals("hold")) {
            heldWithNothing();
            return;
        }
        ProcessKind kind;
        try {
            kind = ProcessParameters.kind(parameters()).orElseThrow();
        } catch (InputException e) {
            if (tell(e)) {
                doubt(CommonParameters.FILM_VISCOSITY.id()); // what the process lacks the film's material may lack too
            }
            FROM_PROCESS.forEach(this::doubt);
            return;
        }
        if (kind instanceof Roller roller) {
            say(CommonParameters.PRESSURE, roller.contact().meanPascals(), ProcessParameters.LINE_FORCE.id());
            say(CommonParameters.HOLD, roller.dwellSeconds(), ProcessParameters.WEB_SPEED.id());
            eitherOr(ProcessParameters.COOL_TIME, ProcessParameters.COOL_DISTANCE);
            eitherOr(ProcessParameters.LAMP_DELAY, ProcessParameters.LAMP_DISTANCE);
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
                    ProcessParameters.pressKelvin(parameters()).orElseThrow(),
                    ProcessParameters.STEPS.id());
        }
    }

    /** Tells what a process lacks or contradicts, unless that may come from what is doubtful; returns whether it told anything. */
    private boolean tell(InputException refused) {
        boolean told = false;
        boolean clear = !anyDoubtful(ProcessParameters.all())
                && !isDoubtful(CommonParameters.PRESSURE)
                && !isDoubtful(CommonParameters.HOLD)
                && !isDoubtful(FilmParameters.GLASS);
        if (isDoubtful(FilmParameters.GLASS) && "roller".equals(words.get(ProcessParameters.KIND.id()))) {
            // melts and liquids set in their own ways behind the nip
            HOW_FILMS_SET.forEach(this::doubt);
        }
        for (Problem problem : refused.problems()) {
            String key = problem.place();
            if (problem.code().equals(ProcessParameters.MISSING) ? !doubtful.contains(key) : clear) {
                problems.add(problem);
                told = true;
            }
            doubt(key);
        }
        return told;
    }

    /** Puts in what another key says; both together contradict each other. */
    private void say(Quantity quantity, double value, String because) {
        if (numbers.containsKey(quantity.id())) {
            twice(quantity.id(), because);
        }
        numbers.put(quantity.id(), value);
    }

    private void twice(String key, String because) {
        problems.add("process.twice", key, "it is given beside " + because + ", which says it too", "leave it out");
    }

    private void eitherOr(Quantity time, Quantity distance) {
        if (numbers.containsKey(time.id()) && numbers.containsKey(distance.id())) {
            twice(time.id(), distance.id());
        }
    }

    /** A melt sets at its glass temperature; a liquid, and a film that dries, at the temperature it is pressed at. */
    private void setTemperature() {
        if (isDoubtful(FilmParameters.GLASS)
                || isDoubtful(ProcessParameters.TEMPERATURE)
                || doubtful.contains(ProcessParameters.KIND.id())) {
            doubt(SET_TEMPERATURE);
            return;
        }
        String kind = words.getOrDefault(ProcessParameters.KIND.id(), "hold");
        Double glass = numbers.get(FilmParameters.GLASS.id());
        Double pressed = numbers.get(ProcessParameters.TEMPERATURE.id());
        boolean melt = glass != null && !kind.equals("solvent-press");
        Double set = melt ? glass : kind.equals("hold") ? null : pressed;
        if (set != null) {
            numbers.putIfAbsent(SET_TEMPERATURE, set);
        }
    }

    /** The viscosity at the temperature of pressing, from the material's one viscosity and the law's shape, or from a table. */
    private void viscosity(Optional<Material> film) {
        String id = CommonParameters.FILM_VISCOSITY.id();
        boolean given = numbers.containsKey(id);
        List<Map<String, Double>> table = tables.getOrDefault(FilmParameters.VISCOSITIES.id(), List.of());
        boolean known = film.isPresent() && !film.get().all(Property.VISCOSITY).isEmpty();
        if (table.isEmpty() && !known && !doubtful.contains(FilmParameters.VISCOSITIES.id())) {
            return; // nothing says it but the job itself, whatever else is doubtful
        }
        if (anyDoubtful(FilmParameters.all())
                || isDoubtful(CommonParameters.FILM_VISCOSITY)
                || isDoubtful(ProcessParameters.TEMPERATURE)
                || isDoubtful(ProcessParameters.SOLVENT_SHARE)
                || doubtful.contains(ProcessParameters.KIND.id())
                || doubtful.contains(ProcessParameters.STEPS.id())
                || isDoubtful(MOLAR_MASS)) {
            doubt(id);
            return;
        }
        Double pressed = numbers.get(ProcessParameters.TEMPERATURE.id());
        if (pressed == null || (table.isEmpty() && given)) {
            return;
        }
        try {
            Parameters p = parameters();
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
                                numbers.get(id),
                                value,
                                TemperatureRange.celsius(pressed)),
                        "leave out one of the two");
            }
            numbers.put(id, value);
        } catch (InputException e) {
            e.problems()
                    .forEach(problem -> problems.add(
                            problem.code(),
                            problem.place().isEmpty() ? ProcessParameters.TEMPERATURE.id() : problem.place(),
                            problem.message(),
                            problem.fix()));
            doubt(id);
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
        Double wanted = numbers.get(MOLAR_MASS.id());
        return wanted == null
                ? 1
                : MolarMass.viscosityRatio(film.si(Property.MOLAR_MASS), wanted, film.si(Property.CRITICAL_MOLAR_MASS));
    }
}
