package org.evenstamp.analysis.film.load;

import java.util.Arrays;
import java.util.OptionalDouble;
import org.evenstamp.analysis.process.ProcessHistory;
import org.evenstamp.analysis.process.UnevenTemperature;
import org.evenstamp.shared.grid.TileGrid;

/**
 * A press that is hotter in one place than in another: every tile has the fluidity of its own temperature, and sets at its own time. The process is followed until
 * the hottest place has set. Fluidities are those of {@value #LEVELS} temperatures between the coldest and the hottest, in between by their logarithms.
 */
final class UnevenHeat extends LoadLike {
    private static final int LEVELS = 129;

    private final ProcessLoad middle;
    private final ProcessHistory[] levels;
    private final double[] place; // of each tile among the levels
    private final double[] fluidity = new double[LEVELS];
    private final double[] logarithm = new double[LEVELS];

    /** Takes the process of the middle; refuses one that some place cannot live through. */
    UnevenHeat(UnevenTemperature uneven, ProcessHistory history, TileGrid grid) {
        this(uneven, history, grid, levels(uneven, history));
    }

    private UnevenHeat(UnevenTemperature uneven, ProcessHistory history, TileGrid grid, ProcessHistory[] levels) {
        super(new ProcessLoad(levels[LEVELS - 1]));
        this.levels = levels;
        double span = span(uneven);
        middle = new ProcessLoad(history);
        place = new double[grid.size()];
        for (int i = 0; i < place.length; i++) {
            double x = grid.across(i);
            double y = grid.upward(i);
            place[i] = (uneven.difference(x, y) / span + 1) / 2 * (LEVELS - 1);
        }
    }

    private static double span(UnevenTemperature uneven) {
        return Math.abs(uneven.right()) + Math.abs(uneven.top());
    }

    private static ProcessHistory[] levels(UnevenTemperature uneven, ProcessHistory history) {
        ProcessHistory[] levels = new ProcessHistory[LEVELS];
        for (int k = 0; k < LEVELS; k++) {
            double difference = span(uneven) * (2.0 * k / (LEVELS - 1) - 1);
            levels[k] = ProcessHistory.of(UnevenTemperature.at(difference, history.steps()), history.film());
        }
        return levels;
    }

    @Override
    public boolean differsByTile() {
        return true;
    }

    @Override
    public void fluidity(double from, double to, double[] into) {
        for (int k = 0; k < LEVELS; k++) {
            ProcessHistory level = levels[k];
            fluidity[k] = GaussMean.of(seconds -> at(level, seconds), from, to);
            logarithm[k] = Math.log(fluidity[k]);
        }
        for (int i = 0; i < into.length; i++) {
            int low = Math.min(LEVELS - 2, (int) place[i]);
            double share = place[i] - low;
            double colder = fluidity[low];
            double hotter = fluidity[low + 1];
            into[i] = colder == 0 || hotter == 0
                    ? share < 0.5 ? colder : hotter
                    : Math.exp((1 - share) * logarithm[low] + share * logarithm[low + 1]);
        }
    }

    /** Before a place flows nothing presses on it: it has the fluidity with which it softens. */
    private static double at(ProcessHistory level, double seconds) {
        return seconds >= level.flowEndSeconds() ? 0 : level.fluidity(Math.max(seconds, level.flowStartSeconds()));
    }

    /** That of the middle. */
    @Override
    public OptionalDouble temperatureKelvin(double seconds) {
        return middle.temperatureKelvin(seconds);
    }

    @Override
    public double[] breaks() {
        return Arrays.stream(super.breaks())
                .filter(time -> time <= endSeconds())
                .toArray();
    }
}
