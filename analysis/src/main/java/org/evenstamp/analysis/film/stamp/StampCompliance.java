package org.evenstamp.analysis.film.stamp;

import java.util.Arrays;
import org.evenstamp.analysis.numeric.SpectralFilter;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.grid.TileGrid;

/**
 * The linear map from tile pressures to the displacement of the stamp's face at the tile centres, up to a rigid motion.
 *
 * <p>Periodic: the {@link Stamp#compliance} at the map's own wavenumbers; the uniform pressure moves nothing (the stamp's
 * height does). Isolated: a convolution with the face's answer to pressure on one tile ({@link StampKernel}),
 * zero-padded so that no image is felt. The plate's kernel is known up to a constant and a parabola, which a load without net
 * force and moment does not feel: so an isolated plate needs a load that balances the pressure on its back, and is otherwise
 * meaningful up to a rigid motion only.
 */
public final class StampCompliance {
    private static final double LAYER_REACH = 12; // thicknesses beyond which a bonded layer is not felt

    private final TileGrid grid;
    private final boolean rigid;
    private final boolean padded;
    private final int paddedColumns;
    private final SpectralFilter filter;
    private final double[] symbol;
    private final double[] backSymbol;
    private final double[] tileSymbol;
    private final double[] room;

    /** Prepares the transforms and the symbol for a grid. */
    public StampCompliance(Stamp stamp, TileGrid grid, Surround surround, ThreadTeam team) {
        this.grid = grid;
        rigid = stamp instanceof Stamp.Rigid;
        padded = surround == Surround.ISOLATED && !rigid;
        tileSymbol = periodicSymbol(stamp, grid);
        if (padded) {
            paddedColumns = fastSize(2 * grid.columns() - 1);
            int paddedRows = fastSize(2 * grid.rows() - 1);
            filter = new SpectralFilter(paddedColumns, paddedRows, team);
            symbol = isolatedSymbol(stamp, paddedColumns, paddedRows);
            backSymbol = plateOf(stamp) == stamp ? symbol : isolatedSymbol(plateOf(stamp), paddedColumns, paddedRows);
            room = new double[paddedColumns * paddedRows];
        } else {
            paddedColumns = grid.columns();
            filter = new SpectralFilter(grid.columns(), grid.rows(), team);
            symbol = tileSymbol;
            backSymbol = plateOf(stamp) == stamp ? symbol : periodicSymbol(plateOf(stamp), grid);
            room = new double[0];
        }
    }

    /** Writes the displacement under pressures on the face (m, upwards, under Pa that lift), up to a rigid motion. */
    public void apply(double[] pressure, double[] displacement) {
        filter(pressure, symbol, displacement);
    }

    /**
     * Writes the displacement under pressures on the back, which push the stamp down. Only a plate has a back that is
     * pressed; other bodies are held by something rigid.
     */
    public void applyBack(double[] pressure, double[] displacement) {
        filter(pressure, backSymbol, displacement);
        for (int i = 0; i < displacement.length; i++) {
            displacement[i] = -displacement[i];
        }
    }

    /** Returns the part of the stamp that bends under a pressure on its back. */
    private static Stamp plateOf(Stamp stamp) {
        if (stamp instanceof Stamp.LayerOnPlate both) {
            return both.plate();
        }
        if (stamp instanceof Stamp.OnSubstrate pair) {
            Stamp plate = plateOf(pair.stamp());
            return plate instanceof Stamp.Rigid ? pair.substrate() : new Stamp.OnSubstrate(plate, pair.substrate());
        }
        return stamp instanceof Stamp.Plate ? stamp : new Stamp.Rigid();
    }

    private void filter(double[] load, double[] by, double[] displacement) {
        if (rigid) {
            Arrays.fill(displacement, 0);
        } else if (!padded) {
            filter.apply(load, by, displacement);
        } else {
            int columns = grid.columns();
            Arrays.fill(room, 0);
            for (int row = 0; row < grid.rows(); row++) {
                System.arraycopy(load, row * columns, room, row * paddedColumns, columns);
            }
            filter.apply(room, by, room);
            for (int row = 0; row < grid.rows(); row++) {
                System.arraycopy(room, row * paddedColumns, displacement, row * columns, columns);
            }
        }
    }

    /** Returns the compliance at the wavenumbers of the unpadded map, laid out as {@link SpectralFilter} says. */
    public double[] tileSymbol() {
        return tileSymbol;
    }

    private double[] isolatedSymbol(Stamp stamp, int columns, int rows) {
        if (stamp instanceof Stamp.LayerOnPlate both) {
            return isolatedSum(both.layer(), both.plate(), columns, rows);
        }
        if (stamp instanceof Stamp.OnSubstrate pair) {
            return isolatedSum(pair.stamp(), pair.substrate(), columns, rows);
        }
        double shorter = Math.min(grid.columns(), grid.rows()) * grid.pitchMetres();
        if (stamp instanceof Stamp.BondedLayer layer && LAYER_REACH * layer.thicknessMetres() <= shorter) {
            // A thin layer answers locally: the padding keeps its images out of reach.
            double[] local = periodicSymbol(layer, new TileGrid(0, 0, grid.pitchMetres(), columns, rows));
            local[0] = layer.uniformCompliance();
            return local;
        }
        return filter.symbolOf(StampKernel.of(stamp, grid, columns, rows));
    }

    private double[] isolatedSum(Stamp one, Stamp other, int columns, int rows) {
        double[] sum = isolatedSymbol(one, columns, rows);
        double[] more = isolatedSymbol(other, columns, rows);
        for (int k = 0; k < sum.length; k++) {
            sum[k] += more[k];
        }
        return sum;
    }

    private static double[] periodicSymbol(Stamp stamp, TileGrid grid) {
        int half = grid.columns() / 2 + 1;
        int rows = grid.rows();
        double[] symbol = new double[half * rows];
        double unitX = 2 * Math.PI / (grid.columns() * grid.pitchMetres());
        double unitY = 2 * Math.PI / (rows * grid.pitchMetres());
        for (int kx = 0; kx < half; kx++) {
            for (int ky = 0; ky < rows; ky++) {
                if (kx + ky > 0) {
                    symbol[kx * rows + ky] =
                            stamp.compliance(Math.hypot(kx * unitX, SpectralFilter.signed(ky, rows) * unitY));
                }
            }
        }
        return symbol;
    }

    /** Returns the smallest even number from {@code least} on with no prime factor above 5. */
    static int fastSize(int least) {
        for (int n = Math.max(2, least + (least & 1)); ; n += 2) {
            int rest = n;
            for (int prime : new int[] {2, 3, 5}) {
                while (rest % prime == 0) {
                    rest /= prime;
                }
            }
            if (rest == 1) {
                return n;
            }
        }
    }
}
