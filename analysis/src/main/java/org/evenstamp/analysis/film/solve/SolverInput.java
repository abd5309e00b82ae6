package org.evenstamp.analysis.film.solve;

import java.util.Arrays;
import java.util.Objects;
import java.util.function.DoubleUnaryOperator;
import org.evenstamp.analysis.film.load.PressLoad;
import org.evenstamp.analysis.film.stamp.Stamp;
import org.evenstamp.analysis.film.stamp.Surround;
import org.evenstamp.analysis.rheology.ShearThinning;
import org.evenstamp.shared.field.LandLinks;
import org.evenstamp.shared.grid.TileGrid;
import org.jspecify.annotations.Nullable;

/**
 * What the solver solves: what is pressed, with what, and how. Immutable; every map is in the order of {@link TileGrid}, in SI.
 *
 * <p>Made by {@link #of}; the builder's methods say what is assumed when they are not called.
 */
public final class SolverInput {
    // A tile whose cavities get film from its neighbours' land alone still has a law.
    private static final double LEAST_OWN = 1e-6;
    private static final double NO_WALL = 0.01; // share of what sinking displaces that no edge in the tile takes in
    private static final double MOST_UNSEEN = 0.2;

    final TileGrid grid;
    final double[] cavityVolume;
    final double[] cavityFraction;
    final double[] squeezeMoment;
    final double[] edgeDensity;
    final double[] ownShare;
    final double[] landReach;
    final double[] sag;
    final double[] ownMoment; // squeeze moment of a tile whose land sinks alone
    final @Nullable LandLinks links;
    final double filmThickness;
    final double[] thickness;
    final Stamp stamp;
    final Surround surround;
    final boolean freeTilt;
    final double wedgeX;
    final double wedgeY;
    final Mobility mobility;
    final double[] lineAngle;
    final double[] capillaryPressure;
    final double gasPressure;
    final double gasSolubility;
    final double[] particleHeight;
    final double edgePressure;
    final boolean openX;
    final boolean openY;
    final boolean closedSeam;
    final double bulkModulus;
    final ShearThinning thinning;
    final PressLoad load;
    final @Nullable DoubleUnaryOperator heldHeight;

    private SolverInput(Builder b) {
        grid = b.grid;
        cavityVolume = b.cavityVolume;
        cavityFraction = b.cavityFraction;
        squeezeMoment = b.squeezeMoment;
        edgeDensity = b.edgeDensity;
        links = b.links;
        sag = b.sag;
        ownShare = new double[grid.size()];
        landReach = new double[grid.size()];
        ownMoment = new double[grid.size()];
        for (int i = 0; i < ownShare.length; i++) {
            ownShare[i] = links == null ? 1 : Math.max(LEAST_OWN, links.own()[i]);
            if (links != null && edgeDensity[i] > 0 && ownShare[i] - cavityFraction[i] < NO_WALL) {
                // Edges too fine or too few for the map's cells take film in all the same, from about a tile away.
                double taken = squeezeMoment[i] / 12 * edgeDensity[i] / grid.pitchMetres();
                ownShare[i] = Math.max(ownShare[i], Math.min(MOST_UNSEEN, taken));
            }
            double ahead = ownShare[i] - cavityFraction[i] + (links == null ? 0 : throughWalls(i));
            ownMoment[i] = squeezeMoment[i] <= 0
                    ? 0
                    : 1
                            / (ownShare[i] / squeezeMoment[i]
                                    + (links == null ? 0 : linkSum(i) / 12 / grid.tileAreaSquareMetres()));
            landReach[i] = edgeDensity[i] > 0 ? Math.max(0, ahead) / edgeDensity[i] : 0;
        }
        filmThickness = b.filmThickness;
        thickness = b.thickness;
        stamp = b.stamp;
        surround = b.surround;
        freeTilt = b.freeTilt && b.surround == Surround.ISOLATED && b.heldHeight == null;
        wedgeX = b.wedgeX;
        wedgeY = b.wedgeY;
        mobility = b.mobility;
        lineAngle = b.lineAngle;
        capillaryPressure = b.capillaryPressure;
        gasPressure = b.gasPressure;
        gasSolubility = b.gasSolubility;
        particleHeight = b.particleHeight;
        edgePressure = b.edgePressure;
        openX = b.openX;
        openY = b.openY;
        closedSeam = b.closedSeam;
        bulkModulus = b.bulkModulus;
        thinning = b.thinning;
        load = b.load;
        heldHeight = b.heldHeight;
    }

    /** Returns the sum of the conductances over a tile's sides from its land, over that between two tiles without cavities. */
    private double linkSum(int i) {
        LandLinks land = Objects.requireNonNull(links);
        int columns = grid.columns();
        int left = i % columns > 0 ? i - 1 : i + columns - 1;
        int down = i >= columns ? i - columns : i + (grid.rows() - 1) * columns;
        return land.linkRight()[i]
                + land.linkRight()[left]
                + land.linkUp()[i]
                + land.linkUp()[down]
                + Math.max(0, land.wallRight()[i])
                + Math.max(0, -land.wallRight()[left])
                + Math.max(0, land.wallUp()[i])
                + Math.max(0, -land.wallUp()[down]);
    }

    /** Returns what even sinking of the neighbours' land sends through edges on the tile's sides into its cavities, as a share. */
    private double throughWalls(int i) {
        LandLinks land = Objects.requireNonNull(links);
        int columns = grid.columns();
        int column = i % columns;
        int left = column > 0 ? i - 1 : i + columns - 1;
        int right = column + 1 < columns ? i + 1 : i + 1 - columns;
        int down = i >= columns ? i - columns : i + (grid.rows() - 1) * columns;
        int up = i + columns < grid.size() ? i + columns : column;
        double area = 12 * grid.tileAreaSquareMetres();
        return (Math.max(0, land.wallRight()[left]) * squeezeMoment[left]
                        + Math.max(0, -land.wallRight()[i]) * squeezeMoment[right]
                        + Math.max(0, land.wallUp()[down]) * squeezeMoment[down]
                        + Math.max(0, -land.wallUp()[i]) * squeezeMoment[up])
                / area;
    }

    /**
     * Starts an input: a rigid stamp, a map that repeats itself, a liquid without surface tension in a vacuum.
     *
     * @param grid the tiles
     * @param filmThickness film thickness before the imprint, in m, positive: that of every tile unless {@link
     *     Builder#thickness} tells them apart, and the measure of what is small
     * @param load viscosity and pressure over time
     */
    public static Builder of(TileGrid grid, double filmThickness, PressLoad load) {
        return new Builder(grid, filmThickness, load);
    }

    /** Returns the tiles. */
    public TileGrid grid() {
        return grid;
    }

    /** Returns the film thickness before the imprint, in m; where the tiles differ, what was given for the whole film. */
    public double filmThickness() {
        return filmThickness;
    }

    /** Returns the cavity volume per area of a tile, in m. */
    public double cavityVolume(int tile) {
        return cavityVolume[tile];
    }

    /** Returns the squeeze moment of a tile, in m². */
    public double squeezeMoment(int tile) {
        return squeezeMoment[tile];
    }

    /** Returns by how much the land of a tile yields against the tile's mean, in m per Pa. */
    public double sag(int tile) {
        return sag[tile];
    }

    /** Collects an input. Arrays are copied. */
    public static final class Builder {
        private final TileGrid grid;
        private final double filmThickness;
        private double[] thickness;
        private final PressLoad load;
        private double[] cavityVolume;
        private double[] cavityFraction;
        private double[] squeezeMoment;
        private double[] edgeDensity;
        private double[] sag;
        private @Nullable LandLinks links;
        private Stamp stamp = new Stamp.Rigid();
        private Surround surround = Surround.PERIODIC;
        private boolean freeTilt;
        private double wedgeX;
        private double wedgeY;
        private Mobility mobility = Mobility.MEAN;
        private double[] lineAngle;
        private double[] capillaryPressure;
        private double gasPressure;
        private double gasSolubility;
        private double[] particleHeight;
        private double edgePressure = Double.NaN;
        private boolean openX;
        private boolean openY;
        private boolean closedSeam;
        private double bulkModulus = 3e9;
        private ShearThinning thinning = new ShearThinning.None();
        private @Nullable DoubleUnaryOperator heldHeight;

        private Builder(TileGrid grid, double filmThickness, PressLoad load) {
            if (!(filmThickness > 0) || !Double.isFinite(filmThickness)) {
                throw new IllegalArgumentException(
                        "the film's thickness must be positive, was " + filmThickness + " m");
            }
            this.grid = grid;
            this.filmThickness = filmThickness;
            this.load = Objects.requireNonNull(load);
            thickness = new double[grid.size()];
            Arrays.fill(thickness, filmThickness);
            cavityVolume = new double[grid.size()];
            cavityFraction = new double[grid.size()];
            squeezeMoment = new double[grid.size()];
            edgeDensity = new double[grid.size()];
            sag = new double[grid.size()];
            capillaryPressure = new double[grid.size()];
            particleHeight = new double[grid.size()];
            lineAngle = new double[grid.size()];
            Arrays.fill(lineAngle, Double.NaN);
        }

        /** Sets the film thickness before the imprint tile by tile, in m, positive. */
        public Builder thickness(double[] metres) {
            thickness = map("film thickness", metres, Double.MIN_NORMAL, Double.MAX_VALUE);
            return this;
        }

        /**
         * Sets the relief; without it the stamp is flat.
         *
         * @param volume cavity volume per area v, in m, not negative
         * @param fraction cavity share φ of the area, 0 .. 1
         * @param moment squeeze moment T in m², not negative; in a tile without cavity it is not used
         */
        public Builder relief(double[] volume, double[] fraction, double[] moment) {
            cavityVolume = map("cavity volume", volume, 0, Double.MAX_VALUE);
            cavityFraction = map("cavity fraction", fraction, 0, 1);
            squeezeMoment = map("squeeze moment", moment, 0, Double.MAX_VALUE);
            return this;
        }

        /**
         * Sets the length of the cavities' edges over area, in 1/m, which tells how far film goes between roof and film; without
         * it the way there is no resistance.
         */
        public Builder edges(double[] perMetre) {
            edgeDensity = map("edge density", perMetre, 0, Double.MAX_VALUE);
            return this;
        }

        /** Sets how the land of the tiles is linked; without it land ends at the sides of every tile that has cavities. */
        public Builder links(LandLinks land) {
            links = land;
            return this;
        }

        /**
         * Sets by how much the land of a tile yields against the tile's mean while its cavities have room, in m per Pa of mean
         * pressure; without it a tile's face stays flat.
         */
        public Builder sag(double[] metresPerPascal) {
            sag = map("sag", metresPerPascal, 0, Double.MAX_VALUE);
            return this;
        }

        /** Sets the body of the stamp and what lies around the map. */
        public Builder stamp(Stamp body, Surround around) {
            stamp = body;
            surround = around;
            return this;
        }

        /** Lets an isolated stamp tilt until the moments balance; without this it is held. */
        public Builder freeTilt() {
            freeTilt = true;
            return this;
        }

        /** Sets the slope of the undeformed stamp against the substrate, in metres of gap per metre along x and y. */
        public Builder wedge(double alongX, double alongY) {
            wedgeX = alongX;
            wedgeY = alongY;
            return this;
        }

        /** Sets the mean of the cubed gaps for tiles whose texture has no known direction. */
        public Builder mobility(Mobility rule) {
            mobility = rule;
            return this;
        }

        /** Sets the direction of line gratings: the angle of the lines to the x axis in rad, NaN where there is none. */
        public Builder lineAngle(double[] angle) {
            lineAngle = angle.clone();
            return this;
        }

        /** Sets by how much the meniscus in a tile's cavities pulls on the film, in Pa; negative where it pushes. */
        public Builder capillaryPressure(double[] pascal) {
            capillaryPressure = map("capillary pressure", pascal, -Double.MAX_VALUE, Double.MAX_VALUE);
            return this;
        }

        /**
         * Seals gas into the cavities.
         *
         * @param pascal absolute pressure of the gas when the stamp touches the film; 0 for a vacuum
         * @param solubility volume of gas that a volume of film holds at equal gas pressure (Henry), 0 for none
         */
        public Builder gas(double pascal, double solubility) {
            gasPressure = pascal;
            gasSolubility = solubility;
            return this;
        }

        /** Sets the height of the tallest hard particle in each tile, in m, 0 where there is none. */
        public Builder particles(double[] height) {
            particleHeight = map("particle height", height, 0, Double.MAX_VALUE);
            return this;
        }

        /** Lets no film pass between the right side of a periodic map and the left side of its next repeat. */
        public Builder closedSeam() {
            closedSeam = true;
            return this;
        }

        /**
         * Opens sides of an isolated map to film at a pressure.
         *
         * @param pascal pressure outside, in Pa
         * @param leftAndRight whether the left and the right side are open
         * @param belowAndAbove whether the lower and the upper side are open
         */
        public Builder openEdge(double pascal, boolean leftAndRight, boolean belowAndAbove) {
            edgePressure = pascal;
            openX = leftAndRight;
            openY = belowAndAbove;
            return this;
        }

        /** Sets the compressibility of the film as a bulk modulus in Pa; 3 GPa without this, the order of polymers. */
        public Builder bulkModulus(double pascal) {
            bulkModulus = pascal;
            return this;
        }

        /** Lets the film thin where it is squeezed out from under protrusions and where it flows from tile to tile. */
        public Builder thinning(ShearThinning law) {
            thinning = law;
            return this;
        }

        /** Prescribes the stamp's height over time (m, of the undeformed face) instead of its force. */
        public Builder heldHeight(DoubleUnaryOperator metresAtSeconds) {
            heldHeight = metresAtSeconds;
            return this;
        }

        /** Returns the input. */
        public SolverInput build() {
            return new SolverInput(this);
        }

        private double[] map(String what, double[] values, double least, double most) {
            if (values.length != grid.size()) {
                throw new IllegalArgumentException(
                        "the " + what + " has " + values.length + " values, the grid " + grid.size() + " tiles");
            }
            for (double value : values) {
                if (!(value >= least && value <= most)) {
                    throw new IllegalArgumentException("the " + what + " has the value " + value);
                }
            }
            return values.clone();
        }
    }
}
