package org.evenstamp.analysis.process;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.rheology.FilmParameters;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameter.Choice;
import org.evenstamp.shared.spi.Parameter.Quantity;
import org.evenstamp.shared.spi.Parameter.Table;
import org.evenstamp.shared.spi.Parameters;

/** The process as a job states it: its kind, and the inputs that the users of each kind know. */
public final class ProcessParameters {
    /** Kind of process. */
    public static final Choice KIND = new Choice(
            "process.kind",
            List.of("hold", "hot-press", "uv-press", "solvent-press", "roller"),
            "way of imprinting; hold is one viscosity and one pressure for a time");
    /** Temperature while pressing. */
    public static final Quantity TEMPERATURE =
            Quantity.optional("process.temperature", "degC", -200, 600, "temperature of the film while it is pressed");
    /** Temperature before heating. */
    public static final Quantity START = Quantity.standard(
            "process.start-temperature", "degC", 25, -200, 600, "temperature before heating (assumption: a warm room)");
    /** Rate of heating. */
    public static final Quantity HEATING = Quantity.standard(
            "process.heating-rate",
            "K/min",
            30,
            1e-3,
            1e6,
            "rate of heating in a hot press; nothing presses meanwhile, so it matters for the time alone (assumption)");
    /** Rate of cooling. */
    public static final Quantity COOLING = Quantity.required(
            "process.cooling-rate", "K/min", 1e-3, 1e6, "rate of cooling under pressure in a hot press");
    /** Time to build up the pressure. */
    public static final Quantity RAMP = Quantity.standard(
            "process.ramp", "s", 1, 1e-6, 1e5, "time to build up the pressure, and to take it off (assumption)");
    /** Steps stated one by one. */
    public static final Table STEPS = new Table(
            "process.steps",
            List.of(
                    Quantity.required("time", "s", 0, 1e7, "how long the step lasts"),
                    Quantity.required("temperature", "degC", -300, 1000, "temperature at the end of the step"),
                    Quantity.required("pressure", "MPa", 0, 1000, "pressure at the end of the step")),
            "steps of a hot press, each going straight from where the one before ended; the first starts without pressure at"
                    + " process.start-temperature");
    /** UV irradiance. */
    public static final Quantity IRRADIANCE = Quantity.required(
            "process.irradiance",
            "mW/cm^2",
            1e-6,
            1e6,
            "UV irradiance of the lamp in the middle of the stamp, before stamp or substrate take their share");
    /** UV dose. */
    public static final Quantity DOSE =
            Quantity.required("film.dose", "mJ/cm^2", 1e-6, 1e9, "UV dose that the film needs");
    /** Time of exposure. */
    public static final Quantity EXPOSURE = Quantity.optional(
            "process.exposure",
            "s",
            1e-6,
            1e6,
            "time of exposure; when left out, as long as the darkest place of the film needs for its dose");
    /** Solvent in the swollen film. */
    public static final Quantity SOLVENT_SHARE =
            Quantity.optional("process.solvent-share", "%", 0, 99, "share of solvent in the swollen film");
    /** Volume of the chamber of a solvent press. */
    public static final Quantity CHAMBER = Quantity.optional(
            "process.chamber-volume",
            "L",
            1e-6,
            1e6,
            "volume of the chamber in which the film swells: cautions then hold its vapour against the lower explosive limit");
    /** Lower explosive limit. */
    public static final Quantity SOLVENT_LIMIT = Quantity.optional(
            "film.solvent-explosive-limit", "%", 1e-3, 100, "lower explosive limit of the solvent, by volume of air");
    /** Vapour pressure. */
    public static final Quantity SOLVENT_VAPOUR = Quantity.optional(
            "film.solvent-vapour-pressure",
            "kPa",
            1e-6,
            1e5,
            "vapour pressure of the solvent at process.temperature; that of a named solvent is of 20 degC");
    /** Molar mass. */
    public static final Quantity SOLVENT_MASS =
            Quantity.optional("film.solvent-molar-mass", "g/mol", 1, 1e4, "molar mass of the solvent");
    /** Density. */
    public static final Quantity SOLVENT_DENSITY =
            Quantity.optional("film.solvent-density", "kg/m^3", 1, 1e5, "density of the liquid solvent");
    /** Time of swelling. */
    public static final Quantity SWELL = Quantity.optional(
            "process.swell-time", "s", 1e-3, 1e7, "time in which the film swells before it is pressed");
    /** Time of drying. */
    public static final Quantity DRY =
            Quantity.required("process.dry-time", "s", 1e-3, 1e7, "time in which the solvent leaves under pressure");
    /** Diameter of the roller. */
    public static final Quantity DIAMETER =
            Quantity.optional("process.roller-diameter", "mm", 1e-2, 1e5, "diameter of the roller over its cover");
    /** Modulus of its cover. */
    public static final Quantity COVER = Quantity.optional(
            "process.cover-modulus",
            "MPa",
            1e-3,
            1e7,
            "Young's modulus of the roller's cover, thick beside the contact");
    /** Poisson's ratio of its cover. */
    public static final Quantity COVER_POISSON = Quantity.standard(
            "process.cover-poisson",
            "1",
            0.49,
            0,
            0.5,
            "Poisson's ratio of the roller's cover; the default is rubber (common practice, no source)");
    /** Line force. */
    public static final Quantity LINE_FORCE =
            Quantity.optional("process.line-force", "N/mm", 1e-6, 1e6, "force on the roller per length");
    /** Web speed. */
    public static final Quantity WEB_SPEED =
            Quantity.required("process.web-speed", "mm/s", 1e-6, 1e6, "speed of web and roller");
    /** Web tension. */
    public static final Quantity TENSION = Quantity.standard(
            "process.web-tension",
            "N/mm",
            0,
            0,
            1e3,
            "tension of the web where it stays wrapped around the roller until the film has set; presses with tension over"
                    + " radius");
    /** Time of cooling behind the nip. */
    public static final Quantity COOL_TIME = Quantity.optional(
            "process.cool-time", "s", 1e-6, 1e6, "time in which a film with a glass temperature cools behind the nip");
    /** Way on which it cools. */
    public static final Quantity COOL_DISTANCE = Quantity.optional(
            "process.cool-distance",
            "mm",
            1e-3,
            1e7,
            "distance along the web from the middle of the nip to where a film with a glass temperature has cooled, in place of"
                    + " process.cool-time");
    /** Time from the nip to the lamp. */
    public static final Quantity LAMP_DELAY = Quantity.optional(
            "process.lamp-delay",
            "s",
            1e-6,
            1e6,
            "time from the nip to the lamp, for a liquid film; 1 s where process.lamp-distance is left out too (assumption)");
    /** Way from the nip to the lamp. */
    public static final Quantity LAMP_DISTANCE = Quantity.optional(
            "process.lamp-distance",
            "mm",
            1e-3,
            1e7,
            "distance along the web from the middle of the nip to the lamp, for a liquid film, in place of process.lamp-delay");

    private static final double USUAL_DELAY = 1; // s, assumption
    /** Unevenness along x. */
    public static final Quantity UNEVEN_X = Quantity.standard(
            "process.uneven-x",
            "1",
            0,
            -1,
            1,
            "share of the mean pressure by which the right edge gets more than the middle, and the left edge less");
    /** Unevenness along y. */
    public static final Quantity UNEVEN_Y = Quantity.standard(
            "process.uneven-y",
            "1",
            0,
            -1,
            1,
            "share of the mean pressure by which the upper edge gets more than the middle, and the lower edge less");

    /** Code of the problem that the kind of process needs a key. */
    public static final String MISSING = "process.missing";

    private static final List<Parameter> ALL = List.of(
            KIND,
            TEMPERATURE,
            START,
            HEATING,
            COOLING.asOptional(),
            RAMP,
            CommonParameters.RELEASE_TEMPERATURE.asOptional(),
            STEPS,
            IRRADIANCE.asOptional(),
            DOSE.asOptional(),
            EXPOSURE,
            LightPath.SIDE,
            LightPath.STAMP_TRANSMISSION,
            LightPath.SUBSTRATE_TRANSMISSION,
            Lamp.UNEVEN_X,
            Lamp.UNEVEN_Y,
            Lamp.FALLOFF,
            SOLVENT_SHARE,
            CHAMBER,
            SOLVENT_LIMIT,
            SOLVENT_VAPOUR,
            SOLVENT_MASS,
            SOLVENT_DENSITY,
            SWELL,
            DRY.asOptional(),
            DIAMETER,
            COVER,
            COVER_POISSON,
            LINE_FORCE,
            WEB_SPEED.asOptional(),
            TENSION,
            COOL_TIME,
            COOL_DISTANCE,
            LAMP_DELAY,
            LAMP_DISTANCE,
            UNEVEN_X,
            UNEVEN_Y,
            UnevenTemperature.UNEVEN_X,
            UnevenTemperature.UNEVEN_Y);

    /** Least pressure of a press, Pa: menisci of 30 mN/m over 60 um pull as much (estimate). */
    private static final double LEAST_PRESSURE = 1000;

    private final Parameters p;
    private final Problems problems = new Problems();

    private ProcessParameters(Parameters p) {
        this.p = p;
    }

    /** Returns all of them. */
    public static List<Parameter> all() {
        return ALL;
    }

    /**
     * Returns the process of a job; nothing for the kind {@code hold}.
     *
     * @throws InputException with everything that the kind needs and the job lacks, or what contradicts itself
     */
    public static Optional<ProcessKind> kind(Parameters p) {
        ProcessParameters reader = new ProcessParameters(p);
        return switch (p.choice(KIND.id())) {
            case "hot-press" -> Optional.of(reader.hotPress());
            case "uv-press" -> Optional.of(reader.uvPress());
            case "solvent-press" -> Optional.of(reader.solventPress());
            case "roller" -> Optional.of(reader.roller());
            default -> Optional.empty();
        };
    }

    /** Returns the share of solvent while the film is pressed: 0 but for a solvent press. */
    public static double solventShare(Parameters p) {
        return p.choice(KIND.id()).equals("solvent-press")
                ? p.find(SOLVENT_SHARE.id()).orElse(0)
                : 0;
    }

    /** Returns the hottest of the stated steps, or the temperature of pressing, K. */
    public static Optional<Double> pressKelvin(Parameters p) {
        if (p.choice(KIND.id()).equals("hot-press") && !p.table(STEPS.id()).isEmpty()) {
            return p.table(STEPS.id()).stream()
                    .map(row -> row.getOrDefault("temperature", 0.0))
                    .max(Double::compare);
        }
        var stated = p.find(TEMPERATURE.id());
        return stated.isPresent() ? Optional.of(stated.getAsDouble()) : Optional.empty();
    }

    /** Returns the pressure of a press that has to press: at least a hundredth of the weight of the air. */
    private double pressing() {
        double pascals = need(CommonParameters.PRESSURE);
        if (p.find(CommonParameters.PRESSURE.id()).isPresent()) {
            tooLittle(CommonParameters.PRESSURE.id(), pascals).ifPresent(problems::add);
        }
        return pascals;
    }

    /** Returns the problem of a pressure that presses nothing. */
    public static Optional<Problem> tooLittle(String key, double pascals) {
        return pascals >= LEAST_PRESSURE
                ? Optional.empty()
                : Optional.of(new Problem(
                        "process.no-pressure",
                        key,
                        String.format(
                                Locale.ROOT,
                                "it is %.4g Pa, too little to press anything (mPa is a thousandth of a pascal, MPa a million)",
                                pascals),
                        String.format(Locale.ROOT, "give at least %.4g Pa", LEAST_PRESSURE)));
    }

    private double need(Quantity quantity) {
        var value = p.find(quantity.id());
        if (value.isEmpty()) {
            problems.add(
                    MISSING,
                    quantity.id(),
                    "a process of the kind " + p.choice(KIND.id()) + " needs it: " + quantity.meaning(),
                    "give it in " + quantity.unit().symbol());
        }
        return value.orElse(1); // never used: the problem is thrown before
    }

    private double value(Quantity quantity) {
        return p.quantity(quantity.id());
    }

    private ProcessKind hotPress() {
        if (!p.table(STEPS.id()).isEmpty()) {
            return stated(p.table(STEPS.id()));
        }
        double press = need(TEMPERATURE);
        double release = need(CommonParameters.RELEASE_TEMPERATURE);
        double cooling = need(COOLING);
        double pascals = pressing();
        double hold = need(CommonParameters.HOLD);
        need(FilmParameters.GLASS);
        problems.throwIfAny();
        return new HotPress(value(START), press, release, value(HEATING), cooling, pascals, value(RAMP), hold);
    }

    private ProcessKind stated(List<Map<String, Double>> rows) {
        need(FilmParameters.GLASS);
        problems.throwIfAny();
        double kelvin = value(START);
        double pascals = 0;
        double most = 0;
        List<ProcessStep> steps = new ArrayList<>();
        for (Map<String, Double> row : rows) {
            double nextKelvin = row.getOrDefault("temperature", kelvin);
            double nextPascals = row.getOrDefault("pressure", pascals);
            String name = nextKelvin > kelvin
                    ? "heat"
                    : nextKelvin < kelvin
                            ? "cool"
                            : nextPascals > pascals ? "press" : nextPascals < pascals ? "release" : "hold";
            steps.add(ProcessStep.of(
                    name,
                    row.getOrDefault("time", 0.0),
                    new StepProfile.Ramp(kelvin, nextKelvin),
                    new StepProfile.Ramp(pascals, nextPascals)));
            kelvin = nextKelvin;
            pascals = nextPascals;
            most = Math.max(most, pascals);
        }
        tooLittle(STEPS.id(), most).ifPresent(problems::add);
        problems.throwIfAny();
        return new StatedSteps(steps);
    }

    private ProcessKind uvPress() {
        double kelvin = need(TEMPERATURE);
        double pascals = pressing();
        double hold = need(CommonParameters.HOLD);
        double irradiance = need(IRRADIANCE);
        double dose = need(DOSE);
        problems.throwIfAny();
        double atFilm = irradiance * LightPath.of(p).transmission();
        double darkest = atFilm * Lamp.of(p).least();
        double exposure = p.find(EXPOSURE.id()).orElse(dose / darkest * (1 + 1e-12));
        return new UvPress(kelvin, pascals, value(RAMP), hold, exposure, atFilm, dose);
    }

    private ProcessKind solventPress() {
        double kelvin = need(TEMPERATURE);
        double pascals = pressing();
        double hold = need(CommonParameters.HOLD);
        double share = need(SOLVENT_SHARE);
        double swell = need(SWELL);
        double dry = need(DRY);
        need(FilmParameters.GLASS);
        problems.throwIfAny();
        return new SolventPress(kelvin, pascals, share, swell, value(RAMP), hold, dry);
    }

    private ProcessKind roller() {
        double kelvin = need(TEMPERATURE);
        double diameter = need(DIAMETER);
        double cover = need(COVER);
        double force = need(LINE_FORCE);
        double speed = need(WEB_SPEED);
        boolean melt = p.find(FilmParameters.GLASS.id()).isPresent();
        double release = melt ? need(CommonParameters.RELEASE_TEMPERATURE) : 0;
        double exposure = melt ? 0 : need(EXPOSURE);
        Quantity time = melt ? COOL_TIME : LAMP_DELAY;
        Quantity distance = melt ? COOL_DISTANCE : LAMP_DISTANCE;
        if (melt && p.find(distance.id()).isEmpty()) {
            need(time);
        }
        problems.throwIfAny();
        if (!melt) {
            LightPath.of(p); // refuses what no light reaches
        }
        LineContact contact = Roller.contact(diameter, cover, value(COVER_POISSON), force);
        double behind = behind(time, distance, contact, speed);
        problems.throwIfAny();
        Roller.Setting setting =
                melt ? new Roller.Setting.Cooling(behind, release) : new Roller.Setting.Exposure(behind, exposure);
        return new Roller(contact, speed, kelvin, 0, setting).wrapped(value(TENSION));
    }

    /** Returns the time from the end of the nip that a time tells, or before it a distance from the middle of the nip, s. */
    private double behind(Quantity time, Quantity distance, LineContact contact, double speed) {
        OptionalDouble metres = p.find(distance.id());
        if (metres.isEmpty()) {
            return p.find(time.id()).orElse(USUAL_DELAY);
        }
        double half = contact.halfWidthMetres();
        if (metres.getAsDouble() <= half) {
            problems.add(
                    "process.sets-in-nip",
                    distance.id(),
                    String.format(
                            Locale.ROOT,
                            "it is %.4g mm from the middle of the nip, which reaches %.4g mm behind its middle: the film would set"
                                    + " in the nip",
                            metres.getAsDouble() * 1e3,
                            half * 1e3),
                    String.format(Locale.ROOT, "give more than %.4g mm", half * 1e3));
        }
        return (metres.getAsDouble() - half) / speed;
    }
}
