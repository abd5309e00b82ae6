package org.evenstamp.analysis.film.solve;

/**
 * The film at the end of an accepted step: a view into the solver, for an observer to read while it is called. Maps are in
 * the order of {@link org.evenstamp.shared.grid.TileGrid}, in SI; they are the solver's own arrays: read them, keep copies.
 */
public final class FilmState {
    private final SolverInput input;
    private final TileStates tiles;
    private final StepViscosity viscosity;
    private final double[] rate;
    private final double[] filled;
    private final boolean[] full;
    private final double[] flux;
    private final double[] inflow;
    private final double[] deflection;
    private double seconds;
    private double stepSeconds;

    FilmState(SolverInput input, TileStates tiles, StepViscosity viscosity, double[] rate) {
        this.input = input;
        this.tiles = tiles;
        this.viscosity = viscosity;
        this.rate = rate;
        int size = rate.length;
        filled = new double[size];
        full = new boolean[size];
        flux = new double[size];
        inflow = new double[size];
        deflection = new double[size];
    }

    /** Looks at the tiles after a step that was accepted. */
    void show(TileFlow flow, double time, double dt) {
        double mean = 0;
        double[] gap = tiles.landGap;
        double[] volume = input.cavityVolume;
        for (int i = 0; i < gap.length; i++) {
            full[i] = tiles.state[i] == TileStates.FULL;
            // Where a roof without protrusions hangs lower than these would reach, all film is in the cavity.
            double over = full[i] && gap[i] >= 0
                    ? volume[i] - input.sag[i] * tiles.sagging[i]
                    : tiles.film[i] - Math.max(0, gap[i]);
            filled[i] = Math.min(volume[i], Math.max(0, over));
            mean += tiles.bend[i] / gap.length;
        }
        for (int i = 0; i < gap.length; i++) {
            deflection[i] = tiles.bend[i] - mean;
        }
        if (dt > 0) {
            flow.tell(tiles, dt, flux, inflow);
        }
        seconds = time;
        stepSeconds = dt;
    }

    /** Returns the time. */
    public double seconds() {
        return seconds;
    }

    /** Returns the step that led here. */
    public double stepSeconds() {
        return stepSeconds;
    }

    /** Returns the viscosity of the most fluid tile during the step, in Pa s. */
    public double viscosity() {
        return viscosity.least();
    }

    /** Returns the viscosity of a tile during the step, in Pa s; infinite where it has set. */
    public double viscosity(int tile) {
        return viscosity.of(tile);
    }

    /** Returns whether the film of a tile has set. */
    public boolean hasSet(int tile) {
        return viscosity.hasSet(tile);
    }

    /** Returns the gap under the protrusions h, in m: that which a film without pressure would keep. */
    public double[] residual() {
        return tiles.landGap;
    }

    /** Returns the film per area, under the protrusions and in the cavities, in m: less than the gap where the stamp stands clear. */
    public double[] film() {
        return tiles.film;
    }

    /** Returns the mean change of the gap during the step, in m/s. */
    public double[] rate() {
        return rate;
    }

    /** Returns the cavity volume filled per area c, in m. */
    public double[] filled() {
        return filled;
    }

    /** Returns whether the tile's cavities are full. */
    public boolean[] full() {
        return full;
    }

    /** Returns the mean pressure on the stamp q, in Pa. */
    public double[] pressure() {
        return tiles.q;
    }

    /**
     * Returns the share of the step after which a tile that filled by squeezing was full, had it borne a pressure all along: as
     * much less than 1 as what squeezed it to the brim by the end of the step is less than what this pressure squeezes with.
     *
     * @param pressure on the stamp, Pa
     * @return the share, 0 where the tile did not fill by squeezing in this step
     */
    public double shareUntilFull(int tile, double pressure) {
        double needed = tiles.squeezedToBrim(tile);
        double there = pressure - (needed > 0 ? tiles.baseAtBrim(tile) : 0);
        return needed > 0 && there > 0 ? needed / there : 0;
    }

    /** Returns the magnitude of the film flow through the tile, in m²/s. */
    public double[] flux() {
        return flux;
    }

    /** Returns the film that came in over the tile's faces during the step, as thickness, in m: what left again counts. */
    public double[] inflow() {
        return inflow;
    }

    /** Returns the displacement of the stamp's face by its elasticity against its own mean, in m. */
    public double[] deflection() {
        return deflection;
    }
}
