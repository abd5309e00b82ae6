package org.evenstamp.analysis.film;

import java.util.Locale;
import java.util.function.IntPredicate;
import java.util.function.IntToDoubleFunction;
import org.evenstamp.analysis.feature.Unfilled;
import org.evenstamp.analysis.film.load.PressSchedule;
import org.evenstamp.analysis.film.record.FilmHistory;
import org.evenstamp.analysis.film.stamp.Stamp;
import org.evenstamp.analysis.process.ProcessHistory;
import org.evenstamp.analysis.process.StefanSqueeze;
import org.evenstamp.shared.finding.Place;

/**
 * Why tiles are not full: their own film is too short, or the time, or they would have had both and the stamp did not come down.
 *
 * <p>The time is that of the tile alone, {@code T/2 (1/(h0-v)² - 1/h0²)} against {@code integral of p/eta dt} over the process
 * (Stefan; without thinning and capillarity, so the factor is at most that). A stamp that is held up by its
 * surroundings has sagged by {@code s} under its pressure {@code p} and has {@code r} to go; an elastic body whose
 * surroundings stand still sags in proportion, so {@code p (s + r)/s} brings it there (derived; an estimate, as the surroundings sink
 * too).
 *
 * <p>A tile has one gap under all of its land. Where the stamp bends within a tile, under a wave of pressure of twice its width, by more than
 * its cavities lack, the map does not say whether they fill.
 */
final class UnfilledReason {
    private final FilmMaps maps;
    private final double[] filled;
    private final double[] deflection;
    private final double reached;
    private final double pressure;
    private final double bending;

    /**
     * Takes a finished solve.
     *
     * @param stamp the stamp's body
     * @param reached integral of pressure over viscosity at a place of the map, a pure number
     * @param pressure mean pressure of the process, Pa
     */
    UnfilledReason(FilmMaps maps, FilmHistory history, Stamp stamp, double reached, double pressure) {
        this.maps = maps;
        this.filled = history.filled();
        this.deflection = history.deflection();
        this.reached = reached;
        this.pressure = pressure;
        bending = pressure * stamp.compliance(Math.PI / maps.grid.pitchMetres());
    }

    /** Returns the integral of pressure over viscosity that a place lives through. */
    static double reached(PressSchedule schedule, double pressure, double viscosity, double hold) {
        return schedule.history()
                .map(whole -> {
                    // a roller passes over the map, so its steps are taken as one place sees them
                    ProcessHistory here = schedule.kind().orElseThrow().history(whole.film());
                    return StefanSqueeze.pressureOverViscosity(here, here.flowEndSeconds());
                })
                .orElse(pressure * hold / viscosity);
    }

    private enum Reason {
        FULL,
        SHORT,
        TIME,
        STIFF
    }

    private Reason of(int tile) {
        double v = maps.volume[tile];
        if (v == 0 || filled[tile] >= v * Unfilled.FULL_SHARE) {
            return Reason.FULL;
        }
        if (v >= maps.coated[tile] * (1 - 1e-9)) {
            return Reason.SHORT;
        }
        return timeFactor(tile) > 1 ? Reason.TIME : Reason.STIFF;
    }

    private double timeFactor(int tile) {
        double before = maps.coated[tile];
        double after = before - maps.volume[tile];
        double needed = maps.moment[tile] / 2 * (1 / (after * after) - 1 / (before * before));
        return needed / reached;
    }

    /** Tells the reasons that there are. */
    void tell(FilmWarnings warnings) {
        Reason[] reason = new Reason[filled.length];
        for (int i = 0; i < reason.length; i++) {
            reason[i] = of(i);
        }
        Worst starving = Worst.of(reason.length, i -> reason[i] == Reason.SHORT, i -> maps.volume[i] / maps.coated[i]);
        if (starving.count > 0) {
            String message = format(
                    "film too short: the cavities of %d unfilled tiles hold more than the film over them, up to %.4g nm for"
                            + " %.4g nm; what lacks must flow in from around",
                    starving.count, maps.volume[starving.tile] * 1e9, maps.coated[starving.tile] * 1e9);
            warnings.add("film.unfilled-short", message, place(starving));
        }
        Worst slow = Worst.of(reason.length, i -> reason[i] == Reason.TIME, this::timeFactor);
        if (slow.count > 0 && reached > 0) {
            String message = format(
                    "time too short: %d unfilled tiles need up to %.4g times the pressing that they get; that many times the"
                            + " time or the pressure, or a viscosity lower by as much",
                    slow.count, slow.value);
            warnings.add("film.unfilled-time", message, place(slow));
        }
        Worst stiff = Worst.of(reason.length, i -> reason[i] == Reason.STIFF, i -> maps.volume[i] - filled[i]);
        if (stiff.count > 0) {
            String message = format(
                    "the stamp is too stiff to reach the cavities of %d unfilled tiles at this pressure, held up by what lies"
                            + " around them, up to %.4g nm short: %s",
                    stiff.count, stiff.value * 1e9, helpIfStiff(reason, stiff));
            warnings.add("film.unfilled-stiff", message, place(stiff));
        }
        Worst undecided = Worst.of(reason.length, i -> isUndecided(i, reason[i]), i -> maps.volume[i] - filled[i]);
        if (undecided.count > 0) {
            String message = format(
                    "%d of the unfilled tiles hold land and cavities, and lack at most %.3g nm: within a tile of %.4g um this"
                            + " stamp bends by %.3g nm, so only smaller tiles (tiles.side) tell whether they fill",
                    undecided.count, undecided.value * 1e9, maps.grid.pitchMetres() * 1e6, bending * 1e9);
            warnings.add(Unfilled.UNDECIDED, message, place(undecided));
        }
    }

    /** A tile is as stiff as its land, on which the stamp does not bend down to cavities beside it. */
    private boolean isUndecided(int tile, Reason reason) {
        boolean mixed = maps.fraction[tile] > 0 && maps.fraction[tile] < 1;
        return mixed && (reason == Reason.TIME || reason == Reason.STIFF) && maps.volume[tile] - filled[tile] < bending;
    }

    private String helpIfStiff(Reason[] reason, Worst stiff) {
        double sag = deflectionOfFullTiles(reason) - deflection[stiff.tile];
        return sag > 0
                ? format(
                        "about %.3g MPa would bend it down there, or a softer or thinner stamp",
                        pressure * (sag + stiff.value) / sag * 1e-6)
                : "it does not bend down there at all: a softer stamp, or surroundings that sink faster";
    }

    private double deflectionOfFullTiles(Reason[] reason) {
        double sum = 0;
        int count = 0;
        for (int i = 0; i < reason.length; i++) {
            if (reason[i] == Reason.FULL) {
                sum += deflection[i];
                count++;
            }
        }
        return count == 0 ? 0 : sum / count;
    }

    private Place place(Worst worst) {
        return Place.Tile.of(maps.grid, worst.tile);
    }

    private static String format(String pattern, Object... values) {
        return String.format(Locale.ROOT, pattern, values);
    }

    /** How many tiles are of a kind, and the one of them with the largest value. */
    private record Worst(int count, int tile, double value) {
        static Worst of(int tiles, IntPredicate wanted, IntToDoubleFunction value) {
            int count = 0;
            int worst = -1;
            double most = 0;
            for (int i = 0; i < tiles; i++) {
                if (wanted.test(i)) {
                    count++;
                    double here = value.applyAsDouble(i);
                    if (worst < 0 || here > most) {
                        worst = i;
                        most = here;
                    }
                }
            }
            return new Worst(count, worst, most);
        }
    }
}
