package org.evenstamp.analysis.film.load;

import java.util.Arrays;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import org.evenstamp.analysis.process.NipPass;
import org.evenstamp.shared.grid.TileGrid;

/**
 * A nip that passes over the map from left to right, and what follows when it has left. The pass is cut into pieces short
 * beside the time that a tile spends in the nip; in each a tile bears the exact mean of the pressure over its area and the
 * piece, so it gets all of the impulse {@code force/speed} whatever the pieces. They last a whole number of the times in
 * which the nip advances by a tile, or one of these a whole number of pieces: every column sees the same pieces.
 */
final class NipLoad implements PressLoad {
    private static final int PIECES_IN_NIP = 16; // found by refinement

    private final NipPass pass;
    private final TileGrid grid;
    private final PressLoad behind;
    private final double[] cuts;

    /**
     * Joins a pass and what follows.
     *
     * @param pass over the map from its left rim to its right one
     * @param behind the whole process, with its viscosity; its pressure counts once the nip has left
     */
    NipLoad(NipPass pass, TileGrid grid, PressLoad behind) {
        this(pass, grid, behind, PIECES_IN_NIP);
    }

    NipLoad(NipPass pass, TileGrid grid, PressLoad behind, int piecesInNip) {
        this.pass = pass;
        this.grid = grid;
        this.behind = behind;
        double advance = pass.entrySeconds(grid.pitchMetres());
        double wanted = (advance + pass.dwellSeconds()) / piecesInNip;
        double piece =
                wanted < advance ? advance / Math.ceil(advance / wanted) : advance * Math.floor(wanted / advance);
        int count = (int) Math.ceil(pass.seconds() / piece * (1 - 1e-9));
        cuts = new double[count + 1];
        Arrays.setAll(cuts, n -> n < count ? n * piece : pass.seconds());
    }

    @Override
    public double endSeconds() {
        return behind.endSeconds();
    }

    @Override
    public double viscosityPascalSeconds(double seconds) {
        return behind.viscosityPascalSeconds(seconds);
    }

    @Override
    public void pressurePascal(double seconds, double[] into) {
        if (seconds > pass.seconds()) {
            behind.pressurePascal(seconds, into);
            return;
        }
        int found = Arrays.binarySearch(cuts, seconds);
        int end = Math.max(1, found >= 0 ? found : -found - 1);
        double pitch = grid.pitchMetres();
        for (int column = 0; column < grid.columns(); column++) {
            double pascals = pass.meanPascals(column * pitch, (column + 1) * pitch, cuts[end - 1], cuts[end]);
            for (int row = 0; row < grid.rows(); row++) {
                into[row * grid.columns() + column] = pascals;
            }
        }
    }

    @Override
    public OptionalDouble temperatureKelvin(double seconds) {
        return behind.temperatureKelvin(seconds);
    }

    @Override
    public double[] breaks() {
        return DoubleStream.concat(
                        Arrays.stream(cuts), Arrays.stream(behind.breaks()).filter(t -> t > pass.seconds()))
                .toArray();
    }
}
