package org.evenstamp.analysis.film.load;

import java.util.Arrays;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import org.evenstamp.analysis.process.NipPass;
import org.evenstamp.analysis.process.ProcessHistory;
import org.evenstamp.shared.grid.TileGrid;

/**
 * A nip that passes over the map from left to right, and the film behind it, which sets in each place at its own time since the
 * nip came there. The pass is cut into pieces short beside the time that a tile spends in the nip; in each a tile bears the
 * exact mean of the pressure over its area and the piece, so it gets all of the impulse {@code force/speed} whatever the pieces. They
 * last a whole number of the times in which the nip advances by a tile, or one of these a whole number of pieces: every column
 * sees the same pieces. A tile's fluidity is likewise the mean over its area and the time asked for.
 */
final class NipLoad implements PressLoad {
    private static final int PIECES_IN_NIP = 16; // found by refinement

    private final NipPass pass;
    private final TileGrid grid;
    private final ProcessHistory place;
    private final PassingFluidity fluidity;
    private final double[] cuts;
    private final double end;
    private final double[] ofColumn;

    /**
     * Joins a pass and what a place lives through.
     *
     * @param pass over the map from its left rim to its right one
     * @param place from when the nip comes to it until it has set
     */
    NipLoad(NipPass pass, TileGrid grid, ProcessHistory place) {
        this(pass, grid, place, PIECES_IN_NIP);
    }

    NipLoad(NipPass pass, TileGrid grid, ProcessHistory place, int piecesInNip) {
        this.pass = pass;
        this.grid = grid;
        this.place = place;
        ofColumn = new double[grid.columns()];
        fluidity = new PassingFluidity(place, new ProcessLoad(place, place.flowEndSeconds()).breaks());
        double across = pass.entrySeconds(pass.lengthMetres());
        double advance = pass.entrySeconds(grid.pitchMetres());
        // Behind the nip the foil stays on the film until that has set.
        end = across + place.flowEndSeconds();
        double wanted = (advance + pass.dwellSeconds()) / piecesInNip;
        double piece =
                wanted < advance ? advance / Math.ceil(advance / wanted) : advance * Math.floor(wanted / advance);
        int count = (int) Math.ceil(pass.seconds() / piece * (1 - 1e-9));
        double[] inPass = new double[count + 1];
        Arrays.setAll(inPass, n -> n < count ? n * piece : pass.seconds());
        // Behind it the steps land where the first and the last tile begin and end to set.
        cuts = DoubleStream.concat(
                        Arrays.stream(inPass),
                        Arrays.stream(place.breakSeconds())
                                .flatMap(t -> DoubleStream.of(t, t + advance, t + across - advance, t + across))
                                .filter(t -> t > pass.seconds() * (1 + 1e-9) && t < end * (1 - 1e-9)))
                .sorted()
                .distinct()
                .toArray();
    }

    @Override
    public double endSeconds() {
        return end;
    }

    @Override
    public double viscosityPascalSeconds(double seconds) {
        columns(seconds, seconds);
        return 1 / Arrays.stream(ofColumn).max().orElseThrow();
    }

    @Override
    public boolean differsByTile() {
        return true;
    }

    @Override
    public void fluidity(double from, double to, double[] into) {
        columns(from, to);
        for (int i = 0; i < into.length; i++) {
            into[i] = ofColumn[grid.column(i)];
        }
    }

    private void columns(double from, double to) {
        double pitch = grid.pitchMetres();
        for (int column = 0; column < ofColumn.length; column++) {
            ofColumn[column] =
                    fluidity.mean(pass.entrySeconds(column * pitch), pass.entrySeconds((column + 1) * pitch), from, to);
        }
    }

    @Override
    public void pressurePascal(double seconds, double[] into) {
        if (seconds > pass.seconds()) {
            Arrays.fill(into, pass.wrapPascals());
            return;
        }
        int found = Arrays.binarySearch(cuts, seconds);
        int last = Math.max(1, found >= 0 ? found : -found - 1);
        double pitch = grid.pitchMetres();
        for (int column = 0; column < grid.columns(); column++) {
            double pascals = pass.meanPascals(column * pitch, (column + 1) * pitch, cuts[last - 1], cuts[last]);
            for (int row = 0; row < grid.rows(); row++) {
                into[row * grid.columns() + column] = pascals;
            }
        }
    }

    @Override
    public OptionalDouble temperatureKelvin(double seconds) {
        double since = seconds - pass.entrySeconds(pass.lengthMetres());
        return OptionalDouble.of(place.temperatureKelvin(Math.min(Math.max(0, since), place.durationSeconds())));
    }

    @Override
    public double[] breaks() {
        return cuts.clone();
    }
}
