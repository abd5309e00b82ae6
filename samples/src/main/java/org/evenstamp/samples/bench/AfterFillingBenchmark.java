package org.evenstamp.samples.bench;

import java.lang.management.ManagementFactory;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import org.evenstamp.analysis.balance.BalanceProvider;
import org.evenstamp.analysis.etch.EtchProvider;
import org.evenstamp.analysis.film.FilmProvider;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.release.ReleaseProvider;
import org.evenstamp.analysis.stamp.StampSafetyProvider;
import org.evenstamp.analysis.standing.SlumpProvider;
import org.evenstamp.analysis.standing.StandingProvider;
import org.evenstamp.analysis.stress.FrozenStressProvider;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameters;

/**
 * Processor time of the analyses after filling beside that of the film solve, on one map of gratings with random cavity
 * fractions, every tile with features. Prints one line an analysis. Argument: tiles along a side.
 */
public final class AfterFillingBenchmark {
    private AfterFillingBenchmark() {}

    /** Runs the benchmark. */
    public static void main(String[] args) {
        int n = args.length > 0 ? Integer.parseInt(args[0]) : 64;
        FieldSet fields = gratings(new TileGrid(0, 0, 10e-3 / n, n, n));
        List<AnalysisProvider> order = List.of(
                new BalanceProvider(),
                new FilmProvider(),
                new FrozenStressProvider(),
                new ReleaseProvider(),
                new StandingProvider(),
                new SlumpProvider(),
                new StampSafetyProvider(),
                new EtchProvider());
        for (AnalysisProvider provider : order) {
            long before = processorNanos();
            List<Field> given = run(provider, fields);
            System.out.printf(
                    Locale.ROOT,
                    "{\"tiles\": %d, \"analysis\": \"%s\", \"cpu_s\": %.3f}%n",
                    n,
                    provider.description().id(),
                    (processorNanos() - before) * 1e-9);
            fields = fields.with(given);
        }
    }

    private static long processorNanos() {
        return ManagementFactory.getOperatingSystemMXBean() instanceof com.sun.management.OperatingSystemMXBean sun
                ? sun.getProcessCpuTime()
                : System.nanoTime();
    }

    private static List<Field> run(AnalysisProvider provider, FieldSet fields) {
        var description = provider.description();
        List<FieldName> wanted = new ArrayList<>(description.needs());
        wanted.addAll(description.uses());
        FieldSet read = FieldSet.empty(fields.grid())
                .with(wanted.stream()
                        .flatMap(name -> fields.find(name.id()).stream())
                        .toList());
        return provider.create(parameters(description.parameters()))
                .run(new AnalysisContext(fields.grid(), read, 2, new Progress()))
                .fields();
    }

    private static Parameters parameters(List<Parameter> declared) {
        return Parameters.builder()
                .quantity("film.thickness", 250e-9)
                .quantity("film.viscosity", 1e4)
                .quantity("film.modulus", 3e9)
                .quantity("film.poisson", 0.35)
                .quantity("film.strength", 72e6)
                .quantity("film.surface-energy", 37.5e-3)
                .quantity("film.expansion", 70e-6)
                .quantity("film.set-temperature", 378)
                .quantity("film.plateau-modulus", 3e5)
                .quantity("film.shelf-viscosity", 1e13)
                .quantity("stamp.strength", 100e6)
                .quantity("stamp.expansion", 2.6e-6)
                .quantity("process.pressure", 5e6)
                .quantity("process.hold", 300)
                .quantity("process.shelf-time", 86400)
                .quantity("process.shelf-loss", 0.01)
                .quantity("release.temperature", 333)
                .quantity("release.stamp-energy", 15e-3)
                .quantity("release.friction", 0.2)
                .quantity("release.substrate-expansion", 2.6e-6)
                .quantity("etch.vertical-rate", 2e-9)
                .quantity("etch.lateral-rate", 0.1e-9)
                .defaults(declared)
                .build();
    }

    /** Lines of a period of 4 um, 200 nm deep; blocks of tiles share a cavity fraction. */
    private static FieldSet gratings(TileGrid grid) {
        SplittableRandom random = new SplittableRandom(7);
        double[] share = random.doubles(64, 0.1, 0.8).toArray();
        double[] fraction = new double[grid.size()];
        for (int i = 0; i < fraction.length; i++) {
            fraction[i] = share[8 * (8 * grid.row(i) / grid.rows()) + 8 * grid.column(i) / grid.columns()];
        }
        double period = 4e-6;
        double depth = 200e-9;
        List<Field> fields = new ArrayList<>();
        fields.add(field(TileFields.CAVITY_FRACTION, grid, fraction, f -> f));
        fields.add(field(TileFields.CAVITY_VOLUME, grid, fraction, f -> f * depth));
        for (FieldName name : List.of(
                TileFields.CAVITY_DEPTH_MIN,
                TileFields.CAVITY_DEPTH_MAX,
                ImprintFields.FEATURE_HEIGHT,
                ImprintFields.FEATURE_HEIGHT_MIN,
                ImprintFields.FEATURE_HEIGHT_MAX)) {
            fields.add(field(name, grid, fraction, f -> depth));
        }
        fields.add(field(TileFields.EDGE_DENSITY, grid, fraction, f -> 2 / period));
        fields.add(field(TileFields.WALL_AREA, grid, fraction, f -> 2 / period * depth));
        fields.add(field(TileFields.SQUEEZE_MOMENT, grid, fraction, f -> Math.pow(1 - f, 3) * period * period));
        fields.add(field(TileFields.CAVITY_WIDTH_MIN, grid, fraction, f -> f * period));
        fields.add(field(TileFields.PROTRUSION_WIDTH_MIN, grid, fraction, f -> (1 - f) * period));
        return FieldSet.empty(grid).with(fields);
    }

    private static Field field(
            FieldName name, TileGrid grid, double[] fraction, java.util.function.DoubleUnaryOperator law) {
        return Field.of(name, grid, Arrays.stream(fraction).map(law).toArray());
    }
}
