package org.evenstamp.analysis.process;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.DoubleStream;
import org.evenstamp.analysis.rheology.Caution;
import org.evenstamp.analysis.rheology.FilmLaw;
import org.evenstamp.analysis.rheology.TemperatureRange;
import org.evenstamp.analysis.rheology.Viscosity;
import org.evenstamp.shared.problem.Problems;

/**
 * A process as one film lives through it: temperature, pressure and viscosity against time, and the one interval in which
 * the film flows. It starts to flow when it gets warmer than its glass temperature and sets when it gets colder, when its
 * solvent leaves, or when it is cured. Immutable.
 */
public final class ProcessHistory {
    /** Halvings that take any interval to the spacing of doubles. */
    private static final int HALVINGS = 64;

    private static final int PIECES = 200;
    private static final double GAUSS = 0.5 / Math.sqrt(3);

    private final List<ProcessStep> steps;
    private final FilmLaw film;
    private final double[] ends;
    private final double flowStart;
    private final double flowEnd;

    /**
     * Checks the steps against the film and finds when it flows.
     *
     * @throws org.evenstamp.shared.problem.InputException when a step has no length, a number is not one, a temperature is
     *     not above absolute zero or above decomposition, the film never softens, is pressed while still solid, softens
     *     twice or never sets; all problems that can be told at once
     */
    public static ProcessHistory of(List<ProcessStep> steps, FilmLaw film) {
        Problems problems = new Problems();
        if (steps.isEmpty()) {
            problems.add("process.no-steps", "", "the process has no steps", "give at least one");
        }
        for (int i = 0; i < steps.size(); i++) {
            checkStep(place(steps, i), steps.get(i), problems);
        }
        checkFilm(steps, film, problems);
        problems.throwIfAny();
        double[] ends = steps.stream().mapToDouble(ProcessStep::seconds).toArray();
        Arrays.parallelPrefix(ends, Double::sum);
        List<double[]> flows = flows(steps, film, ends);
        checkFlow(steps, film, ends, flows, problems);
        problems.throwIfAny();
        return new ProcessHistory(List.copyOf(steps), film, ends, flows.get(0));
    }

    private ProcessHistory(List<ProcessStep> steps, FilmLaw film, double[] ends, double[] flow) {
        this.steps = steps;
        this.film = film;
        this.ends = ends;
        this.flowStart = flow[0];
        this.flowEnd = flow[1];
    }

    private static String place(List<ProcessStep> steps, int i) {
        return "step " + (i + 1) + " \"" + steps.get(i).name() + "\"";
    }

    private static void checkStep(String place, ProcessStep step, Problems problems) {
        if (!(step.seconds() > 0 && step.seconds() < Double.POSITIVE_INFINITY)) {
            problems.add("process.step-length", place, number("it lasts %.6g s", step.seconds()), "give more than 0 s");
        }
        StepProfile kelvin = step.kelvin();
        if (!(kelvin.least() > 0 && kelvin.most() < Double.POSITIVE_INFINITY)) {
            problems.add(
                    "process.temperature",
                    place,
                    number("the temperature is %.6g K", kelvin.least() > 0 ? kelvin.most() : kelvin.least()),
                    "give a temperature above absolute zero, -273.15 degC");
        }
        if (!(step.pascals().least() >= 0 && step.pascals().most() < Double.POSITIVE_INFINITY)) {
            problems.add(
                    "process.pressure",
                    place,
                    number("the pressure is %.6g Pa", step.pascals().least()),
                    "give 0 Pa or more");
        }
        StepProfile solvent = step.solvent();
        if (!(solvent.least() >= 0 && solvent.most() < 1)) {
            problems.add(
                    "process.solvent",
                    place,
                    number("the solvent share is %.6g", solvent.least() >= 0 ? solvent.most() : solvent.least()),
                    "give at least 0 and less than 1");
        }
        if (kelvin.most() > kelvin.least() && solvent.most() > solvent.least()) {
            problems.add(
                    "process.two-ramps",
                    place,
                    "temperature and solvent change in one step",
                    "split it into a step for each");
        }
    }

    /** Finds the first step with solvent that the film does not know, and the hottest one if the film breaks down in it. */
    private static void checkFilm(List<ProcessStep> steps, FilmLaw film, Problems problems) {
        double limit = film.decompositionKelvin().orElse(Double.POSITIVE_INFINITY);
        boolean known = film.plasticizer().isPresent();
        double hottest = limit;
        String where = "";
        for (int i = 0; i < steps.size(); i++) {
            ProcessStep step = steps.get(i);
            if (step.kelvin().most() > hottest) {
                hottest = step.kelvin().most();
                where = place(steps, i);
            }
            if (step.solvent().most() > 0 && !known) {
                problems.add(
                        "process.solvent-unknown",
                        place(steps, i),
                        "there is solvent in the film, but nothing says what it does to the glass temperature",
                        "name the solvent");
                known = true; // the same holds of the steps that follow
            }
        }
        if (hottest > limit) {
            problems.add(
                    "process.decomposition",
                    where,
                    "it reaches " + TemperatureRange.celsius(hottest) + ", where the film breaks down",
                    "stay below " + TemperatureRange.celsius(limit));
        }
    }

    private static String number(String format, double value) {
        return String.format(Locale.ROOT, format, value);
    }

    /** Returns the intervals {start, end} in which the film is liquid, neighbours merged. */
    private static List<double[]> flows(List<ProcessStep> steps, FilmLaw film, double[] ends) {
        List<double[]> flows = new ArrayList<>();
        for (int i = 0; i < ends.length; i++) {
            ProcessStep step = steps.get(i);
            if (step.cures()) {
                break;
            }
            double start = i == 0 ? 0 : ends[i - 1];
            boolean liquidFirst = aboveGlass(step, film, 0) > 0;
            boolean liquidLast = aboveGlass(step, film, 1) > 0;
            if (liquidFirst || liquidLast) {
                double turn = liquidFirst == liquidLast ? 1 : crossing(step, film);
                double from = liquidFirst ? start : start + turn * step.seconds();
                double to = liquidLast ? ends[i] : start + turn * step.seconds();
                double[] before = flows.isEmpty() ? new double[] {-1, -1} : flows.get(flows.size() - 1);
                if (from == before[1]) {
                    before[1] = to;
                } else {
                    flows.add(new double[] {from, to});
                }
            }
        }
        return flows;
    }

    private static double aboveGlass(ProcessStep step, FilmLaw film, double share) {
        return step.kelvin().at(share) - film.glassKelvin(step.solvent().at(share));
    }

    /** Returns the share of the step at which the film softens or sets, by halving; there is one, as one quantity ramps. */
    private static double crossing(ProcessStep step, FilmLaw film) {
        boolean liquidFirst = aboveGlass(step, film, 0) > 0;
        double low = 0;
        double high = 1;
        for (int i = 0; i < HALVINGS; i++) {
            double middle = 0.5 * (low + high);
            if (aboveGlass(step, film, middle) > 0 == liquidFirst) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return high;
    }

    private static void checkFlow(
            List<ProcessStep> steps, FilmLaw film, double[] ends, List<double[]> flows, Problems problems) {
        double glass = film.viscosity().glassKelvin();
        double hottest =
                steps.stream().mapToDouble(step -> step.kelvin().most()).max().orElseThrow();
        if (flows.isEmpty() && steps.get(0).cures()) {
            problems.add(
                    "process.cured-first",
                    place(steps, 0),
                    "the film is cured before it can flow",
                    "press before curing");
            return;
        }
        if (flows.isEmpty()) {
            problems.add(
                    "process.never-softens",
                    "",
                    "the film never flows: it gets no warmer than " + TemperatureRange.celsius(hottest),
                    "go above its glass temperature, " + TemperatureRange.celsius(lowestGlass(steps, film)));
            return;
        }
        for (int i = 0; i < ends.length && ends[i] <= flows.get(0)[0]; i++) {
            if (steps.get(i).pascals().most() > 0) {
                problems.add(
                        "process.pressed-below-glass-temperature",
                        place(steps, i),
                        number(
                                        "%.6g MPa press on a film that is solid at ",
                                        steps.get(i).pascals().most() * 1e-6)
                                + TemperatureRange.celsius(steps.get(i).kelvin().most()),
                        "press above "
                                + TemperatureRange.celsius(
                                        film.glassKelvin(steps.get(i).solvent().most())));
                break; // the steps that follow press on the same solid
            }
        }
        if (flows.size() > 1) {
            problems.add(
                    "process.softens-again",
                    "",
                    number("the film sets and softens again at %.6g s", flows.get(1)[0]),
                    "keep it below " + TemperatureRange.celsius(glass) + " once it has set");
        }
        ProcessStep step = steps.get(steps.size() - 1);
        if (flows.get(flows.size() - 1)[1] == ends[ends.length - 1] && aboveGlass(step, film, 1) > 0) {
            problems.add(
                    "process.never-solidifies",
                    place(steps, steps.size() - 1),
                    "the film is still liquid at the end, at "
                            + TemperatureRange.celsius(step.kelvin().at(1)),
                    glass > 0
                            ? "end below "
                                    + TemperatureRange.celsius(
                                            film.glassKelvin(step.solvent().at(1)))
                            : "only curing makes this film solid: add a step that cures");
        }
    }

    private static double lowestGlass(List<ProcessStep> steps, FilmLaw film) {
        return steps.stream()
                .mapToDouble(step -> film.glassKelvin(step.solvent().most()))
                .min()
                .orElseThrow();
    }

    /** Returns the steps. */
    public List<ProcessStep> steps() {
        return steps;
    }

    /** Returns the film it was made for. */
    public FilmLaw film() {
        return film;
    }

    /** Returns when the last step ends, s. */
    public double durationSeconds() {
        return ends[ends.length - 1];
    }

    /** Returns when the film starts to flow, s. */
    public double flowStartSeconds() {
        return flowStart;
    }

    /** Returns when the film sets, s. */
    public double flowEndSeconds() {
        return flowEnd;
    }

    /** Returns when the pressure is off for good, s; 0 when nothing ever presses. */
    public double lastPressedSeconds() {
        for (int i = ends.length - 1; i >= 0; i--) {
            if (steps.get(i).pascals().most() > 0) {
                return ends[i];
            }
        }
        return 0;
    }

    /**
     * Returns the times at which a course has a corner or a jump and the film starts to flow or sets: rising, from 0 to the
     * end. A time stepper should land on them.
     */
    public double[] breakSeconds() {
        DoubleStream.Builder corners = DoubleStream.builder();
        for (int i = 0; i < ends.length; i++) {
            double start = i == 0 ? 0 : ends[i - 1];
            for (double share : steps.get(i).pascals().corners()) {
                corners.add(start + share * steps.get(i).seconds());
            }
        }
        return DoubleStream.concat(
                        DoubleStream.of(0, flowStart, flowEnd),
                        DoubleStream.concat(Arrays.stream(ends), corners.build()))
                .sorted()
                .distinct()
                .toArray();
    }

    /** Returns the temperature in K. At a jump between two steps this and its likes give the value after it. */
    public double temperatureKelvin(double seconds) {
        int i = stepAt(seconds);
        return steps.get(i).kelvin().at(share(i, seconds));
    }

    /** Returns the pressure on the back of the stamp in Pa. */
    public double pressurePascals(double seconds) {
        int i = stepAt(seconds);
        return steps.get(i).pascals().at(share(i, seconds));
    }

    /** Returns the share of solvent in the film. */
    public double solventFraction(double seconds) {
        int i = stepAt(seconds);
        return steps.get(i).solvent().at(share(i, seconds));
    }

    /** Returns whether the film flows: from {@link #flowStartSeconds} to {@link #flowEndSeconds}, ends included. */
    public boolean flows(double seconds) {
        return seconds >= flowStart && seconds <= flowEnd;
    }

    /**
     * Returns the zero-shear viscosity with its validity.
     *
     * @throws IllegalStateException when the film does not flow then: ask {@link #flows} first
     */
    public Viscosity viscosity(double seconds) {
        if (!flows(seconds)) {
            throw new IllegalStateException(
                    "the film flows from " + flowStart + " s to " + flowEnd + " s, not at " + seconds + " s");
        }
        double solvent = solventFraction(seconds);
        // At the crossing itself rounding, or a jump, may leave the film below its glass temperature.
        return film.at(Math.max(temperatureKelvin(seconds), film.glassKelvin(solvent)), solvent);
    }

    /** Returns the reciprocal of the zero-shear viscosity in 1/(Pa s); 0 whenever the film is solid. */
    public double fluidity(double seconds) {
        return flows(seconds) ? 1 / viscosity(seconds).pascalSeconds() : 0;
    }

    /** Returns the integral of the fluidity over a time, in 1/Pa: to a relative 1e-6 by Gauss's rule on short pieces. */
    public double fluiditySeconds(double from, double to) {
        double[] breaks = DoubleStream.concat(DoubleStream.of(from, to), Arrays.stream(breakSeconds()))
                .filter(t -> t >= from && t <= to)
                .sorted()
                .distinct()
                .toArray();
        double sum = 0;
        for (int n = 0; n + 1 < breaks.length; n++) {
            double piece = (breaks[n + 1] - breaks[n]) / PIECES;
            for (int k = 0; k < PIECES; k++) {
                double middle = breaks[n] + (k + 0.5) * piece;
                sum += piece / 2 * (fluidity(middle - piece * GAUSS) + fluidity(middle + piece * GAUSS));
            }
        }
        return sum;
    }

    /** Returns what the user should be told: viscosities outside their validity, pressure that ends before the film sets. */
    public List<Caution> cautions() {
        List<Caution> cautions = new ArrayList<>();
        // Within a piece the courses are monotone, so the extremes stand at its ends.
        List<Viscosity> seen = Arrays.stream(breakSeconds())
                .filter(this::flows)
                .mapToObj(this::viscosity)
                .toList();
        Optional<Viscosity> hottest = seen.stream()
                .filter(v -> v.kelvin() > v.valid().mostKelvin())
                .max((a, b) -> Double.compare(a.kelvin(), b.kelvin()));
        Optional<Viscosity> coldest = seen.stream()
                .filter(v -> v.kelvin() < v.valid().leastKelvin())
                .min((a, b) -> Double.compare(a.kelvin(), b.kelvin()));
        hottest.flatMap(Viscosity::caution).ifPresent(cautions::add);
        coldest.flatMap(Viscosity::caution).ifPresent(cautions::add);
        if (pressurePascals(flowEnd) == 0) {
            cautions.add(new Caution(
                    "process.released-liquid",
                    number("the pressure is off when the film sets at %.6g s", flowEnd)
                            + ": it can spring back unless the stamp stays on"));
        }
        return List.copyOf(cautions);
    }

    private int stepAt(double seconds) {
        if (!(seconds >= 0 && seconds <= durationSeconds())) {
            throw new IllegalArgumentException(seconds + " s is not within the process of " + durationSeconds() + " s");
        }
        int found = Arrays.binarySearch(ends, seconds);
        return Math.min(found >= 0 ? found + 1 : -found - 1, ends.length - 1);
    }

    private double share(int i, double seconds) {
        double start = i == 0 ? 0 : ends[i - 1];
        return Math.min(1, (seconds - start) / steps.get(i).seconds());
    }
}
