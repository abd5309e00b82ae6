package org.evenstamp.analysis.film;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import org.evenstamp.analysis.film.load.PressSchedule;
import org.evenstamp.analysis.film.record.FilmHistory;
import org.evenstamp.analysis.imprint.Materials;
import org.evenstamp.analysis.process.ExpansionMismatch;
import org.evenstamp.analysis.process.ProcessHistory;
import org.evenstamp.analysis.process.Roller;
import org.evenstamp.analysis.rheology.Caution;
import org.evenstamp.analysis.rheology.FilmParameters;
import org.evenstamp.analysis.rheology.Viscosity;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.spi.Curve;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Parameters;

/** What a process has to tell beside the maps: its window, its course with the filling over it, and its cautions. */
final class ProcessReport {
    private static final int VISCOSITY_POINTS = 60;
    private static final double SHOWN_ABOVE_KELVIN = 20;

    private final Parameters parameters;
    private final PressSchedule schedule;
    private final ProcessHistory history;
    private final FilmMaps maps;
    private final FilmHistory solved;
    private final Viscosity most;
    private final Viscosity least;

    ProcessReport(
            Parameters parameters, PressSchedule schedule, ProcessHistory history, FilmMaps maps, FilmHistory solved) {
        this.maps = maps;
        this.solved = solved;
        this.parameters = parameters;
        this.schedule = schedule;
        this.history = history;
        List<Viscosity> seen = Arrays.stream(history.breakSeconds())
                .filter(t -> history.flows(t) && (history.pressurePascals(t) > 0 || t == history.flowStartSeconds()))
                .mapToObj(history::viscosity)
                .toList();
        least = seen.stream()
                .min((a, b) -> Double.compare(a.pascalSeconds(), b.pascalSeconds()))
                .orElseThrow();
        most = seen.stream()
                .max((a, b) -> Double.compare(a.pascalSeconds(), b.pascalSeconds()))
                .orElseThrow();
    }

    /** Returns the figures of the process. */
    List<Figure> figures() {
        double set = history.temperatureKelvin(history.flowEndSeconds());
        double released = history.temperatureKelvin(history.durationSeconds());
        double pressed = history.steps().stream()
                .mapToDouble(step -> step.pascals().most())
                .max()
                .orElse(0);
        List<Figure> figures = new ArrayList<>(List.of(
                Figure.of("process.duration", history.durationSeconds(), "s", "whole process"),
                Figure.of("process.flow-start", history.flowStartSeconds(), "s", "when the film starts to flow"),
                Figure.of("process.flow-end", history.flowEndSeconds(), "s", "when the film sets"),
                Figure.of("process.set-temperature", set, "degC", "temperature at which the film sets"),
                Figure.of("process.pressure-peak", pressed, "MPa", "highest mean pressure on the stamp's back"),
                Figure.of("process.viscosity-least", least.pascalSeconds(), "Pa s", "lowest viscosity while it flows"),
                Figure.of(
                        "process.shrinkage",
                        1 - schedule.keeping(),
                        "%",
                        "loss of thickness by drying or curing after the film is shaped")));
        OptionalDouble stamp = Materials.expansionInPlane(parameters);
        OptionalDouble substrate = parameters.find(Materials.SUBSTRATE_EXPANSION.id());
        if (stamp.isPresent() && substrate.isPresent()) {
            figures.add(Figure.of(
                    "process.mismatch",
                    new ExpansionMismatch(stamp.getAsDouble(), substrate.getAsDouble()).strain(set, released),
                    "%",
                    "strain of the substrate less that of the stamp between setting and release"));
        }
        if (schedule.kind().orElseThrow() instanceof Roller roller) {
            figures.add(Figure.of(
                    "process.nip-fill",
                    slowestBehindFront(roller, solved.fillTime(), maps.grid),
                    "s",
                    "longest time from when the nip's front reaches a tile until it is full"));
            figures.add(Figure.of("process.nip-dwell", roller.dwellSeconds(), "s", "time that a place is in the nip"));
        }
        return figures;
    }

    private static double slowestBehindFront(Roller roller, double[] fillTime, TileGrid grid) {
        double slowest = 0;
        for (int i = 0; i < fillTime.length; i++) {
            double entry = grid.column(i) * grid.pitchMetres() / roller.webMetresPerSecond();
            slowest = Math.max(slowest, Double.isFinite(fillTime[i]) ? fillTime[i] - entry : 0);
        }
        return slowest;
    }

    /** Returns the process over time, and the viscosity of a film that softens against temperature. */
    List<Curve> curves() {
        double[] time = solved.column(FilmHistory.Column.TIME);
        double[] temperature =
                Arrays.stream(time).map(history::temperatureKelvin).toArray();
        double[] pressure = Arrays.stream(time).map(history::pressurePascals).toArray();
        Curve process = new Curve(
                "process",
                "the process until the film sets, with the filling over it",
                List.of(
                        new Curve.Column("time", "s", time),
                        new Curve.Column("temperature", "degC", temperature),
                        new Curve.Column("pressure on the stamp's back", "MPa", pressure),
                        new Curve.Column("viscosity", "Pa s", solved.column(FilmHistory.Column.VISCOSITY)),
                        new Curve.Column(
                                "share of full tiles among those with cavities",
                                "1",
                                solved.column(FilmHistory.Column.FULL)),
                        new Curve.Column(
                                "mean residual layer before it dries or cures",
                                "nm",
                                solved.column(FilmHistory.Column.MEAN))));
        return history.film().viscosity().glassKelvin() > 0 ? List.of(process, viscosityCurve()) : List.of(process);
    }

    /** Viscosity of the dry film from its glass temperature to above the hottest it gets, with the temperatures it is pressed at. */
    private Curve viscosityCurve() {
        double glass = history.film().viscosity().glassKelvin();
        double top = least.kelvin() + SHOWN_ABOVE_KELVIN;
        double[] kelvin = new double[VISCOSITY_POINTS + 1];
        double[] viscosity = new double[kelvin.length];
        double[] inside = new double[kelvin.length];
        double[] valid = new double[kelvin.length];
        for (int i = 0; i < kelvin.length; i++) {
            kelvin[i] = glass + (top - glass) * i / VISCOSITY_POINTS;
            Viscosity here = history.film().at(kelvin[i], 0);
            viscosity[i] = here.pascalSeconds();
            inside[i] = kelvin[i] >= most.kelvin() && kelvin[i] <= least.kelvin() ? 1 : 0;
            valid[i] = here.isInsideValidity() ? 1 : 0;
        }
        return new Curve(
                "viscosity",
                "viscosity of the dry film against temperature",
                List.of(
                        new Curve.Column("temperature", "degC", kelvin),
                        new Curve.Column("viscosity", "Pa s", viscosity),
                        new Curve.Column("pressed at this temperature, 1 for yes", "1", inside),
                        new Curve.Column("law holds, 1 for yes", "1", valid)));
    }

    /** Returns the cautions of the process. */
    List<Finding.Warning> cautions() {
        List<Caution> cautions = new ArrayList<>(history.cautions());
        if (schedule.kind().orElseThrow() instanceof Roller roller) {
            boolean filled = Arrays.stream(solved.fillTime()).allMatch(Double::isFinite);
            double fill = filled ? 0 : slowestFill(roller);
            cautions.addAll(roller.cautions(fill));
        }
        parameters.find(FilmParameters.THINNING_STRESS.id()).ifPresent(critical -> {
            double stress = wallStress(maps.moment, maps.coated, solved.peakPressure());
            if (stress > critical
                    && parameters.find(FilmParameters.THINNING_EXPONENT.id()).isEmpty()) {
                cautions.add(new Caution(
                        "film.thinning",
                        String.format(
                                Locale.ROOT,
                                "the shear stress reaches %.3g kPa at the walls, above %.3g kPa where this film thins: it"
                                        + " flows faster than computed",
                                stress * 1e-3,
                                critical * 1e-3)));
            }
        });
        return cautions.stream()
                .map(caution -> new Finding.Warning("film", caution.code(), caution.message(), new Place.WholeStamp()))
                .toList();
    }

    /** Longest time in which a tile alone would fill at the mean pressure of the nip; tiles that cannot are left out. */
    private double slowestFill(Roller roller) {
        double slowest = 0;
        for (int i = 0; i < maps.volume.length; i++) {
            double film = maps.coated[i];
            double h = film - maps.volume[i];
            if (maps.volume[i] > 0 && h > 0) {
                slowest = Math.max(slowest, 0.5 * maps.moment[i] * (1 / (h * h) - 1 / (film * film)));
            }
        }
        return slowest * least.pascalSeconds() / roller.contact().meanPascals();
    }

    /** Stress at the rim of a strip of land of width √T that carries the pressure: {@code 3 q h/w}, the largest of all tiles. */
    private static double wallStress(double[] moment, double[] film, double[] pressure) {
        double most = 0;
        for (int i = 0; i < moment.length; i++) {
            if (moment[i] > 0) {
                most = Math.max(most, 3 * pressure[i] * film[i] / Math.sqrt(moment[i]));
            }
        }
        return most;
    }
}
