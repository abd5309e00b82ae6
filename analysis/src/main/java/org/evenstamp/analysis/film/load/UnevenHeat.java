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
final class UnevenHeat implements PressLoad {
    private static final int LEVELS = 129;
    private static final double[] GAUSS_AT = {-0.7745966692414834, 0, 0.7745966692414834};
    private static final double[] GAUSS_WEIGHT = {5 / 18.0, 8 / 18.0, 5 / 18.0};

    private final ProcessLoad hottest;
    private final ProcessLoad middle;
    private final ProcessHistory[] levels;
    private final double[] place; // of each tile among the levels
    private final double[] fluidity = new double[LEVELS];
    private final double[] logarithm = new double[LEVELS];

    /** Takes the process of the middle; refuses one that some place cannot live through. */
    UnevenHeat(UnevenTemperature uneven, ProcessHistory history, TileGrid grid) {
        double span = Math.abs(uneven.right()) + Math.abs(uneven.top());
        levels = new ProcessHistory[LEVELS];
        for (int k = 0; k < LEVELS; k++) {
            double difference = span * (2.0 * k / (LEVELS - 1) - 1);
            levels[k] = ProcessHistory.of(UnevenTemperature.at(difference, history.steps()), history.film());
        }
        hottest = new ProcessLoad(levels[LEVELS - 1]);
        middle = new ProcessLoad(history);
        place = new double[grid.size()];
        for (int i = 0; i < place.length; i++) {
            double x = grid.across(i);
            double y = grid.upward(i);
            place[i] = (uneven.difference(x, y) / span + 1) / 2 * (LEVELS - 1);
        }
    }

    @Override
    public double endSeconds() {
        return hottest.endSeconds();
    }

    @Override
    public double viscosityPascalSeconds(double seconds) {
        return hottest.viscosityPascalSeconds(seconds);
    }

    @Override
    public boolean differsByTile() {
        return true;
    }

    @Override
    public void fluidity(double from, double to, double[] into) {
        for (int k = 0; k < LEVELS; k++) {
            fluidity[k] = 0;
            for (int g = 0; g < GAUSS_AT.length; g++) {
                double seconds = (from + to) / 2 + GAUSS_AT[g] * (to - from) / 2;
                fluidity[k] += GAUSS_WEIGHT[g] * at(levels[k], seconds);
            }
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

    @Override
    public void pressurePascal(double seconds, double[] into) {
        hottest.pressurePascal(seconds, into);
    }

    /** That of the middle. */
    @Override
    public OptionalDouble temperatureKelvin(double seconds) {
        return middle.temperatureKelvin(seconds);
    }

    @Override
    public double[] breaks() {
        return Arrays.stream(hottest.breaks())
                .filter(time -> time <= endSeconds())
                .toArray();
    }
}
