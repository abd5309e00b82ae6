package org.evenstamp.analysis.film;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.evenstamp.analysis.film.record.FilmHistory;
import org.evenstamp.analysis.film.record.FilmSnapshots;
import org.evenstamp.analysis.film.solve.RunReport;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.MostFilled;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.spi.Curve;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Snapshot;

/** What a solve has to tell: fields, figures, curves and states on the way. */
final class FilmReport {
    private static final int QUANTILES = 100;

    private final FilmMaps maps;
    private final double keeping;
    private final RunReport report;
    private final FilmHistory history;

    /**
     * Takes a finished solve.
     *
     * @param keeping thickness after drying or curing over that while it is pressed
     */
    FilmReport(FilmMaps maps, double keeping, RunReport report, FilmHistory history) {
        this.maps = maps;
        this.keeping = keeping;
        this.report = report;
        this.history = history;
    }

    /** Returns what the solve says of each tile. */
    List<Field> fields() {
        return List.of(
                residual(history.residual()),
                share(history.filled()),
                Field.of(ImprintFields.FILL_TIME, maps.grid, whereCavities(history.fillTime())),
                Field.of(ImprintFields.PRESSURE_PEAK, maps.grid, history.peakPressure()),
                Field.of(
                        ImprintFields.PRESSURE_OPEN,
                        maps.grid,
                        history.filling().openPressure()),
                Field.of(ImprintFields.FILL_RATE, maps.grid, history.filling().rate()),
                Field.of(
                        ImprintFields.FILL_UNRELAXED,
                        maps.grid,
                        history.filling().memory()),
                Field.of(ImprintFields.STAMP_DEFLECTION, maps.grid, history.deflection()),
                Field.of(ImprintFields.FILM_FLUX, maps.grid, history.peakFlux()));
    }

    private Field residual(double[] gap) {
        double[] residual = new double[gap.length];
        Arrays.setAll(residual, i -> gap[i] * keeping);
        return Field.of(ImprintFields.RESIDUAL_FINAL, maps.grid, residual);
    }

    private Field share(double[] filled) {
        double[] share = new double[filled.length];
        Arrays.setAll(share, i -> Math.min(1, filled[i] / maps.volume[i]));
        return Field.of(ImprintFields.FILL_SHARE, maps.grid, whereCavities(share));
    }

    /** Leaves tiles without cavity without a value: they have nothing to fill and count in no mean. */
    private double[] whereCavities(double[] values) {
        for (int i = 0; i < values.length; i++) {
            values[i] = maps.volume[i] > 0 ? values[i] : Double.NaN;
        }
        return values;
    }

    /** Returns residual layer and filling at the times kept, and in the end as the first two of the fields tell them. */
    List<Snapshot> snapshots(List<Field> last) {
        double end = report.endSeconds();
        List<FilmSnapshots.State> before =
                history.states().stream().filter(state -> state.seconds() < end).toList();
        List<Snapshot> snapshots = new ArrayList<>();
        if (!before.isEmpty()) {
            before.forEach(state -> snapshots.add(new Snapshot(state.seconds(), residual(state.gap()))));
            snapshots.add(new Snapshot(end, last.get(0)));
            before.forEach(state -> snapshots.add(new Snapshot(state.seconds(), share(state.filled()))));
            snapshots.add(new Snapshot(end, last.get(1)));
        }
        return snapshots;
    }

    /** Returns what the solve comes to. */
    List<Figure> figures() {
        double[] volume = maps.volume;
        double[] residual = history.residual();
        double[] flexible = new double[volume.length];
        double held = 0;
        for (int i = 0; i < volume.length; i++) {
            flexible[i] = keeping * Math.max(0, maps.coated[i] - volume[i]);
            residual[i] *= keeping;
            held += volume[i] / volume.length;
        }
        double rigid = keeping * Math.max(0, maps.filmThickness - held);
        Spread solved = Spread.of(residual);
        Spread limit = Spread.of(flexible);
        List<Figure> figures = new ArrayList<>(List.of(
                Figure.of("residual.mean", solved.mean, "nm", "mean residual layer"),
                Figure.of("residual.range", solved.range(), "nm", "residual layer, largest less smallest"),
                Figure.of("residual.sigma3", solved.sigma3, "nm", "residual layer, three standard deviations"),
                Figure.of("rigid.residual", rigid, "nm", "residual layer under a rigid stamp in the end"),
                Figure.of("flexible.range", limit.range(), "nm", "the same range under a perfectly flexible stamp"),
                Figure.of(
                        "flexible.sigma3",
                        limit.sigma3,
                        "nm",
                        "the same three sigma under a perfectly flexible stamp")));
        figures.addAll(ofRun());
        double[] fillTime = history.fillTime();
        MostFilled.seconds(volume.length, i -> volume[i], i -> fillTime[i])
                .ifPresent(most -> figures.add(Figure.of(
                        "fill.most",
                        most,
                        "s",
                        "time after which film has met the roofs of 99.9 % of the cavities' volume: unlike the last tile's,"
                                + " that of no single tile")));
        if (limit.sigma3 > 0) {
            figures.add(Figure.of(
                    "conformity",
                    solved.sigma3 / limit.sigma3,
                    "1",
                    "three sigma over that of a perfectly flexible stamp: 0 as a rigid stamp, 1 as a flexible one"));
        }
        return figures;
    }

    private List<Figure> ofRun() {
        double[] full = history.column(FilmHistory.Column.FULL);
        double[] fillTime = whereCavities(history.fillTime());
        long hollow = Arrays.stream(maps.volume).filter(v -> v > 0).count();
        long once = Arrays.stream(fillTime).filter(Double::isFinite).count();
        double onceShare = hollow == 0 ? 1 : once / (double) hollow;
        double peak = Arrays.stream(history.peakPressure()).max().orElse(0);
        return List.of(
                Figure.of("filled", full[full.length - 1], "1", "share of the tiles with cavities that are full"),
                Figure.of(
                        "filled.once",
                        onceShare,
                        "1",
                        "share of the tiles with cavities whose roofs film met at some time"),
                Figure.of(
                        "never.filled",
                        (double) (hollow - once),
                        "1",
                        "tiles with cavities whose roofs film never met"),
                Figure.of("pressure.peak", peak, "MPa", "largest pressure in a tile"),
                Figure.of("end", report.endSeconds(), "s", "time reached"),
                Figure.of("steps", report.steps(), "1", "time steps"),
                Figure.of("rejections", report.rejections(), "1", "time steps cut and tried again"),
                Figure.of("newton", report.newtonSteps(), "1", "Newton steps"),
                Figure.of("cg", report.cgIterations(), "1", "conjugate-gradient iterations"),
                Figure.of("mass.error", report.massError(), "1", "film lost or gained, share of all film"));
    }

    /**
     * Returns the film over time.
     *
     * @param withDistributions whether times were asked for, at which the distribution of the residual layer is told
     */
    List<Curve> curves(boolean withDistributions) {
        List<Curve> curves = new ArrayList<>();
        curves.add(new Curve(
                "history",
                "the film over time",
                List.of(
                        column("time", "s", FilmHistory.Column.TIME),
                        column("mean residual layer", "nm", FilmHistory.Column.MEAN),
                        column("smallest residual layer", "nm", FilmHistory.Column.LEAST),
                        column("largest residual layer", "nm", FilmHistory.Column.MOST),
                        column("three sigma of the residual layer", "nm", FilmHistory.Column.SIGMA3),
                        column("share of full tiles among those with cavities", "1", FilmHistory.Column.FULL),
                        column("mean pressure on the stamp", "MPa", FilmHistory.Column.FORCE),
                        column("largest pressure on the stamp", "MPa", FilmHistory.Column.PEAK),
                        column("time step", "s", FilmHistory.Column.STEP))));
        if (withDistributions) {
            curves.add(distributions(history.states()));
        }
        return curves;
    }

    private static Curve distributions(List<FilmSnapshots.State> states) {
        double[] share = new double[QUANTILES + 1];
        for (int n = 0; n <= QUANTILES; n++) {
            share[n] = n / (double) QUANTILES;
        }
        List<Curve.Column> columns = new ArrayList<>();
        columns.add(new Curve.Column("share of tiles", "1", share));
        for (FilmSnapshots.State state : states) {
            double[] sorted = state.gap();
            Arrays.sort(sorted);
            double[] quantile = new double[share.length];
            for (int n = 0; n < share.length; n++) {
                quantile[n] = sorted[(int) Math.round(share[n] * (sorted.length - 1))];
            }
            columns.add(new Curve.Column(
                    String.format(Locale.ROOT, "residual layer at %g s", state.seconds()), "nm", quantile));
        }
        return new Curve("snapshots", "distribution of the residual layer at the asked times", columns);
    }

    private Curve.Column column(String name, String unit, FilmHistory.Column column) {
        return new Curve.Column(name, unit, history.column(column));
    }

    private record Spread(double mean, double least, double most, double sigma3) {
        static Spread of(double[] values) {
            double mean = Arrays.stream(values).average().orElse(0);
            double least = Arrays.stream(values).min().orElse(0);
            double most = Arrays.stream(values).max().orElse(0);
            double variance = Arrays.stream(values)
                    .map(v -> (v - mean) * (v - mean))
                    .average()
                    .orElse(0);
            return new Spread(mean, least, most, 3 * Math.sqrt(variance));
        }

        double range() {
            return most - least;
        }
    }
}
