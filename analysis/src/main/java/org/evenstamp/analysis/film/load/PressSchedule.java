package org.evenstamp.analysis.film.load;

import java.util.Optional;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.imprint.Materials;
import org.evenstamp.analysis.process.NipPass;
import org.evenstamp.analysis.process.ProcessHistory;
import org.evenstamp.analysis.process.ProcessKind;
import org.evenstamp.analysis.process.ProcessParameters;
import org.evenstamp.analysis.process.Roller;
import org.evenstamp.analysis.process.UnevenPressure;
import org.evenstamp.analysis.process.UnevenTemperature;
import org.evenstamp.analysis.rheology.FilmLaw;
import org.evenstamp.analysis.rheology.FilmParameters;
import org.evenstamp.analysis.rheology.Newtonian;
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
 * @param heat how the temperature of a hot press differs over the stamp
 * @param swelling thickness of the film while it is pressed over that before, at least 1
 * @param keeping thickness after drying or curing over that while it is pressed, at most 1
 */
public record PressSchedule(
        Optional<ProcessKind> kind,
        Optional<ProcessHistory> history,
        FilmLaw film,
        PressLoad load,
        UnevenPressure uneven,
        UnevenTemperature heat,
        double swelling,
        double keeping) {

    private static final UnevenTemperature NO_HEAT = new UnevenTemperature(0, 0);

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
                    kind, Optional.empty(), film, constant, uneven, NO_HEAT, 1, Materials.keptHeight(p));
        }
        double solvent = ProcessParameters.solventShare(p);
        double kelvin = ProcessParameters.pressKelvin(p).orElseThrow();
        FilmLaw film = FilmParameters.law(p, kelvin, solvent);
        ProcessHistory history = kind.get().history(film);
        boolean hot = kind.get().id().equals("hot-press");
        // Fox takes shares of mass and the thickness those of volume: alike where film and solvent are equally dense.
        return new PressSchedule(
                kind,
                Optional.of(history),
                film,
                new ProcessLoad(history),
                uneven,
                hot ? UnevenTemperature.of(p) : NO_HEAT,
                Materials.swelling(p),
                Materials.keptHeight(p));
    }

    /** Returns this schedule as a map lives through it: a roller passes over it, and no press need be even. */
    public PressSchedule over(TileGrid grid) {
        if (kind.isPresent() && kind.get() instanceof Roller roller) {
            NipPass pass = roller.pass(grid.columns() * grid.pitchMetres());
            ProcessHistory lived = ProcessHistory.of(roller.steps(pass), film);
            PressLoad moving = unevenly(new NipLoad(pass, grid, roller.history(film)), grid);
            return new PressSchedule(kind, Optional.of(lived), film, moving, uneven, heat, swelling, keeping);
        }
        PressLoad everywhere = heat.none() || history.isEmpty() ? load : new UnevenHeat(heat, history.get(), grid);
        return new PressSchedule(kind, history, film, unevenly(everywhere, grid), uneven, heat, swelling, keeping);
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
