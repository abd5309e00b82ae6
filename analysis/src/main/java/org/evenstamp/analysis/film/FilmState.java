package org.evenstamp.analysis.film;

/**
 * The film at the end of an accepted step: a view into the solver, for an observer to read while it is called. Maps are in
 * the order of {@link org.evenstamp.shared.grid.TileGrid}, in SI; they are the solver's own arrays: read them, keep copies.
 */
public final class FilmState {
    final double[] residual;
    final double[] film;
    final double[] rate;
    final double[] filled;
    final boolean[] full;
    final double[] pressure;
    final double[] filmPressure;
    final double[] flux;
    final double[] inflow;
    final double[] deflection;
    double seconds;
    double stepSeconds;
    double viscosity;

    FilmState(int size, double[] residual, double[] film, double[] rate, double[] pressure, double[] filmPressure) {
        this.residual = residual;
        this.film = film;
        this.rate = rate;
        this.pressure = pressure;
        this.filmPressure = filmPressure;
        filled = new double[size];
        full = new boolean[size];
        flux = new double[size];
        inflow = new double[size];
        deflection = new double[size];
    }

    /** Returns the time. */
    public double seconds() {
        return seconds;
    }

    /** Returns the step that led here. */
    public double stepSeconds() {
        return stepSeconds;
    }

    /** Returns the viscosity during the step, in Pa s. */
    public double viscosity() {
        return viscosity;
    }

    /** Returns the gap under the protrusions h, in m: that which a film without pressure would keep. */
    public double[] residual() {
        return residual;
    }

    /** Returns the film per area, under the protrusions and in the cavities, in m: less than the gap where the stamp stands clear. */
    public double[] film() {
        return film;
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
        return pressure;
    }

    /** Returns the pressure in the connected film P, in Pa; where a tile is not full, that at its meniscus. */
    public double[] filmPressure() {
        return filmPressure;
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
