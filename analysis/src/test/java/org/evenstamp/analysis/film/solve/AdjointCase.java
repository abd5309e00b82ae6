package org.evenstamp.analysis.film.solve;

import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import org.evenstamp.analysis.film.load.PressLoad;
import org.evenstamp.analysis.film.stamp.Stamp;
import org.evenstamp.analysis.film.stamp.Surround;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.field.LandLinks;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;

/** A seeded solve that can be changed a little, for derivatives. */
final class AdjointCase {
    static final int SIDE = 12;
    static final int SIZE = SIDE * SIDE;
    static final SolverOptions TIGHT = new SolverOptions(0, 1.12, 0.005, 1e-12, 150, 2000, 2000);

    enum Body {
        RIGID,
        PLATE,
        HALF_SPACE,
        LAYER
    }

    enum Land {
        PLAIN,
        UNDER_ROOFS,
        LINKED
    }

    final double[] volume = new double[SIZE];
    final double[] fraction = new double[SIZE];
    final double[] moment = new double[SIZE];
    final double[] thickness = new double[SIZE];
    final double[] edges = new double[SIZE];
    final double[] sag = new double[SIZE];
    final double[] capillary = new double[SIZE];
    final Land land;
    final Body body;
    final long seed;
    double viscosity;
    double pascal;
    double seconds;
    double modulus = 1e9;
    double wedge = 1e-9;
    Surround surround = Surround.PERIODIC;
    /** Viscosity of each tile over that of the case, and when it sets; none where all are alike. */
    double[] factor = {};

    double[] setSeconds = {};
    /** Presses column by column, over a foil whose map does not repeat itself along x. */
    boolean rolls;

    AdjointCase(long seed, Body body, boolean liquid, Land land) {
        this.seed = seed;
        this.body = body;
        this.land = land;
        SplittableRandom random = new SplittableRandom(seed);
        for (int i = 0; i < SIZE; i++) {
            int block = i % SIDE / 4 + i / SIDE / 4 * 4;
            fraction[i] = new SplittableRandom(seed * 100 + block).nextDouble(0.1, 0.7) * random.nextDouble(0.9, 1.1);
            moment[i] = Math.pow(1 - fraction[i], 3) * 4e-10 * random.nextDouble(0.8, 1.2);
            thickness[i] = 200e-9 * random.nextDouble(0.98, 1.02);
            fraction[i] = block == 5 && !liquid ? 0 : fraction[i];
            volume[i] = 150e-9 * fraction[i];
            edges[i] = land == Land.PLAIN ? 0 : fraction[i] / 20e-6;
            capillary[i] = liquid ? 5e3 * random.nextDouble(0.8, 1.2) : 0;
            sag[i] = body == Body.LAYER && fraction[i] > 0 ? 2e-15 * random.nextDouble(0.8, 1.2) : 0;
        }
        viscosity = liquid ? 0.05 : 3e4;
        pascal = liquid ? 2e4 : 5e6;
        seconds = liquid ? 2 : 100;
    }

    /** Lets tiles differ: by up to a factor 3 in viscosity, and every third one sets on the way. */
    AdjointCase placeByPlace() {
        SplittableRandom random = new SplittableRandom(seed + 5);
        factor = random.doubles(SIZE, -0.5, 0.5).map(p -> Math.pow(10, p)).toArray();
        setSeconds = random.doubles(SIZE, 0.1, 2.2)
                .map(t -> t < 0.8 ? t * seconds : 1e3 * seconds)
                .toArray();
        return this;
    }

    private PressLoad load() {
        PressLoad even = PressLoad.constant(viscosity, pascal, seconds);
        return factor.length == 0
                ? even
                : new UnevenFilmTest.Setting(
                        Arrays.stream(factor).map(f -> f * viscosity).toArray(), setSeconds, seconds, pascal) {
                    /** A nip that is two columns wide, and a wrapped web behind it. */
                    @Override
                    public void pressurePascal(double at, double[] into) {
                        for (int i = 0; rolls && i < into.length; i++) {
                            double behind = at / (0.8 * seconds) * (SIDE + 2) - i % SIDE;
                            into[i] = pascal * (behind < 0 ? 0 : behind < 2 ? 1 - (behind - 1) * (behind - 1) : 0)
                                    + (behind < 1 ? 0 : 0.05 * pascal);
                        }
                        if (!rolls) {
                            super.pressurePascal(at, into);
                        }
                    }
                };
    }

    SolverInput input() {
        TileGrid grid = new TileGrid(0, 0, 1e-4, SIDE, SIDE);
        Stamp stamp = switch (body) {
            case RIGID -> new Stamp.Rigid();
            case PLATE -> new Stamp.Plate(130 * modulus, 0.28, 525e-6);
            case HALF_SPACE -> new Stamp.HalfSpace(modulus, 0.3);
            default -> new Stamp.BondedLayer(modulus, 0.45, 100e-6);
        };
        SolverInput.Builder builder = SolverInput.of(grid, 200e-9, load())
                .thickness(thickness)
                .relief(volume, fraction, moment)
                .edges(edges)
                .sag(sag)
                .capillaryPressure(capillary)
                .wedge(wedge, 0)
                .stamp(stamp, surround);
        if (surround == Surround.ISOLATED) {
            builder.freeTilt().openEdge(0, true, true);
        }
        if (rolls) {
            builder.closedSeam();
        }
        if (land == Land.LINKED) {
            builder.links(links());
        }
        return builder.build();
    }

    private LandLinks links() {
        SplittableRandom random = new SplittableRandom(seed + 77);
        double[] own = random.doubles(SIZE, 0.6, 1).toArray();
        double[] cavityRight = random.doubles(SIZE, 0, 0.5).toArray();
        double[] cavityUp = random.doubles(SIZE, 0, 0.5).toArray();
        return new LandLinks(
                own,
                Arrays.stream(cavityRight).map(c -> 1 - c).toArray(),
                Arrays.stream(cavityUp).map(c -> 1 - c).toArray(),
                walls(random),
                walls(random),
                cavityRight,
                cavityUp,
                fraction,
                volume,
                edges,
                moment);
    }

    private static double[] walls(SplittableRandom random) {
        return random.doubles(SIZE, -2, 2).map(w -> Math.abs(w) > 0.5 ? 0 : w).toArray();
    }

    /** A change of a case, in proportion to its size. */
    @FunctionalInterface
    interface Change {
        void apply(AdjointCase changed, double size);
    }

    AdjointCase changed(Change change, double size) {
        AdjointCase other = new AdjointCase(seed, body, capillary[0] > 0, land);
        other.surround = surround;
        other.rolls = rolls;
        other.factor = factor.clone();
        other.setSeconds = setSeconds.clone();
        change.apply(other, size);
        return other;
    }

    FilmTape run(ThreadTeam team) {
        FilmTape tape = new FilmTape();
        try (Stage stage = new Progress().stage("film", 0, "")) {
            new FilmSolver(input(), TIGHT, team).recordOn(tape).run(new double[0], state -> {}, stage);
        }
        return tape;
    }

    /** Returns the residual layer after the given steps; NaN where they do not converge. */
    double[] repeated(double[] steps, ThreadTeam team) {
        return again(steps, team).residual();
    }

    /** The film after the given steps; nothing but the input where they do not converge. */
    record Again(SolverInput input, FilmTape tape, boolean done) {
        double[] residual() {
            double[] residual = tape.lastResidual();
            if (!done) {
                Arrays.fill(residual, Double.NaN);
            }
            return residual;
        }
    }

    Again again(double[] steps, ThreadTeam team) {
        FilmTape tape = new FilmTape();
        SolverInput input = input();
        try (Stage stage = new Progress().stage("film", 0, "")) {
            return new Again(
                    input,
                    tape,
                    new FilmSolver(input, TIGHT, team).recordOn(tape).repeat(steps, stage));
        }
    }

    static FilmGradient back(
            SolverInput input, FilmTape tape, double[] goal, List<SolverInput> others, ThreadTeam team) {
        try (Stage stage = new Progress().stage("back", 0, "")) {
            return new FilmAdjoint(input, tape, 1e-9, team)
                    .back(List.of(goal), others, stage)
                    .get(0);
        }
    }

    /** Three standard deviations in nm. */
    static double sigma3(double[] metres) {
        double mean = Arrays.stream(metres).average().orElseThrow();
        return 3e9
                * Math.sqrt(Arrays.stream(metres)
                        .map(h -> (h - mean) * (h - mean))
                        .average()
                        .orElseThrow());
    }

    /** Its derivative. */
    static double[] sigma3Slope(double[] metres) {
        double mean = Arrays.stream(metres).average().orElseThrow();
        double sigma = sigma3(metres) * 1e-9 / 3;
        return Arrays.stream(metres)
                .map(h -> 3e9 * (h - mean) / (metres.length * sigma))
                .toArray();
    }
}
