package org.evenstamp.analysis.film.load;

import java.util.Optional;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.imprint.Materials;
import org.evenstamp.analysis.process.Drying;
import org.evenstamp.analysis.process.NipPass;
import org.evenstamp.analysis.process.ProcessHistory;
import org.evenstamp.analysis.process.ProcessKind;
import org.evenstamp.analysis.process.ProcessParameters;
import org.evenstamp.analysis.process.Roller;
import org.evenstamp.analysis.process.SolventPress;
import org.evenstamp.analysis.process.UnevenPressure;
import org.evenstamp.analysis.process.UnevenTemperature;
import org.evenstamp.analysis.process.UvPress;
import org.evenstamp.analysis.rheology.FilmLaw;
import org.evenstamp.analysis.rheology.FilmParameters;
import org.evenstamp.analysis.rheology.Newtonian;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.spi.Parameters;

/**
 * What a job does to its film: one viscosity and pressure for a time, or a process with its history.
 *
 * @param kind the process; empty for a plain hold
 * @param history what the film makes of it; empty for a plain hold
 * @param film the film's flow; for a plain hold one viscosity, whatever the temperature
 * @param load what drives the solve; evenly over the stamp, and for a roller at one place, until {@link #over}
 * @param uneven how the pressure differs over the stamp
 * @param places what differs from place to place, so that one sets before the other; empty where all of the film lives through the same
 * @param swelling thickness of the film while it is pressed over that before, at least 1
 * @param keeping thickness after drying or curing over that while it is pressed, at most 1
 */
public record PressSchedule(
        Optional<ProcessKind> kind,
        Optional<ProcessHistory> history,
        FilmLaw film,
        PressLoad load,
        UnevenPressure uneven,
        Optional<PlaceByPlace> places,
        double swelling,
        double keeping) {

    /**
     * Returns the schedule of a job.
     *
     * @throws org.evenstamp.shared.problem.InputException when the process lacks numbers, or the film cannot live through it
     */
    public static PressSchedule of(Parameters p) {
        UnevenPressure uneven = new UnevenPressure(
                p.quantity(ProcessParameters.UNEVEN_X.id()), p.quantity(ProcessParameters.UNEVEN_Y.id()));
        Optional<ProcessKind> kind = ProcessParameters.kind(p);
        if (kind.isEmpty()) {
            double viscosity = p.quantity(CommonParameters.FILM_VISCOSITY.id());
            PressLoad constant = PressLoad.constant(
                    viscosity, p.quantity(CommonParameters.PRESSURE.id()), p.quantity(CommonParameters.HOLD.id()));
            FilmLaw film = FilmLaw.of(Newtonian.always(viscosity)).withThinning(FilmParameters.thinning(p));
            return new PressSchedule(
                    kind, Optional.empty(), film, constant, uneven, Optional.empty(), 1, Materials.keptHeight(p));
        }
        double solvent = ProcessParameters.solventShare(p);
        double kelvin = ProcessParameters.pressKelvin(p).orElseThrow();
        FilmLaw film = FilmParameters.law(p, kelvin, solvent);
        ProcessHistory history = kind.get().history(film);
        // Fox takes shares of mass and the thickness those of volume: alike where film and solvent are equally dense.
        return new PressSchedule(
                kind,
                Optional.of(history),
                film,
                new ProcessLoad(history),
                uneven,
                places(p, kind.get(), history),
                Materials.swelling(p),
                Materials.keptHeight(p));
    }

    /** Returns what sets places apart in a process; empty where nothing does. */
    private static Optional<PlaceByPlace> places(Parameters p, ProcessKind kind, ProcessHistory history) {
        if (kind instanceof Roller roller) {
            return Optional.of(fields -> {
                TileGrid grid = fields.grid();
                NipPass pass = roller.pass(grid.columns() * grid.pitchMetres());
                return new PlaceByPlace.Lived(
                        ProcessHistory.of(roller.steps(pass), history.film()), new NipLoad(pass, grid, history));
            });
        }
        if (kind instanceof UvPress press) {
            return CuringPlaces.of(p, press, history);
        }
        if (kind instanceof SolventPress press) {
            return Drying.of(p).map(drying -> DryingPlaces.of(p, press, drying, history));
        }
        UnevenTemperature heat = UnevenTemperature.of(p);
        return heat.none() || !kind.id().equals("hot-press")
                ? Optional.empty()
                : Optional.of(fields -> new PlaceByPlace.Lived(history, new UnevenHeat(heat, history, fields.grid())));
    }

    /** Returns this schedule as a map lives through it: a roller passes over it, places set at their own times, and no press need be even. */
    public PressSchedule over(FieldSet fields) {
        PlaceByPlace.Lived lived = places.map(place -> place.over(fields)).orElse(null);
        return new PressSchedule(
                kind,
                lived == null ? history : Optional.of(lived.history()),
                film,
                unevenly(lived == null ? load : lived.load(), fields.grid()),
                uneven,
                places,
                swelling,
                keeping);
    }

    private PressLoad unevenly(PressLoad even, TileGrid grid) {
        if (uneven.right() == 0 && uneven.top() == 0) {
            return even;
        }
        double[] factor = new double[grid.size()];
        for (int i = 0; i < factor.length; i++) {
            double x = grid.across(i);
            double y = grid.upward(i);
            factor[i] = uneven.factor(x, y);
        }
        return new PressLoad.Scaled(even, factor);
    }
}
