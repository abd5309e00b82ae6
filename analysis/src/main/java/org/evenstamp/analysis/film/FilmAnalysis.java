package org.evenstamp.analysis.film;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.analysis.process.Roller;
import org.evenstamp.analysis.rheology.FilmParameters;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Curve;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Parameters;
import org.evenstamp.shared.spi.Snapshot;

/** One film solve: from job and fields to a model, through the solver, to fields, figures and warnings. */
final class FilmAnalysis {
    private static final int QUANTILES = 100;
    // Of what is kept unasked: a report of 256 x 256 tiles stays small, and one of 1024 x 1024 carries none.
    private static final int MOST_STATES = 12;
    private static final int MOST_STATE_TILES = 1 << 20;
    // Extrusion followed bulk flow down to 10 nm for chains of 44 kg/mol: Rowland and others, ACS Nano 2 (2008) 419.
    private static final double THINNEST_BULK_FILM = 10e-9;
    // Below this ratio of protrusion width to gap the lubrication law is too fast: Ryu and others, Nano Convergence
    // (2017).
    private static final double LEAST_ASPECT = 3;
    private static final double LARGEST_STRAIN = 0.1; // of linear elasticity, common practice, no source

    private final Parameters parameters;
    private final Stamp stamp;
    private final Pressing pressing;
    private final AnalysisContext context;
    private final TileGrid grid;
    private final double h0;
    private final double[] coated;
    private final double pressure;
    private final double[] volume;
    private final double[] fraction;
    private final double[] moment;
    private final List<Finding.Warning> warnings = new ArrayList<>();

    FilmAnalysis(Parameters parameters, Stamp stamp, Pressing pressing, AnalysisContext context) {
        this.parameters = parameters;
        this.stamp = stamp;
        this.pressing = pressing.over(context.grid());
        this.context = context;
        grid = context.grid();
        h0 = parameters.quantity(CommonParameters.FILM_THICKNESS.id()) * pressing.swelling();
        coated = new double[grid.size()];
        Arrays.fill(coated, h0);
        context.fields().find(TileFields.FILM_COATED.id()).ifPresent(film -> {
            for (int i = 0; i < coated.length; i++) {
                coated[i] = film.at(i) * pressing.swelling();
            }
        });
        pressure = parameters.quantity(CommonParameters.PRESSURE.id());
        volume = context.fields().get(TileFields.CAVITY_VOLUME).toArray();
        fraction = context.fields().get(TileFields.CAVITY_FRACTION).toArray();
        moment = context.fields().get(TileFields.SQUEEZE_MOMENT).toArray();
        for (int i = 0; i < volume.length; i++) {
            fraction[i] = Math.min(1, Math.max(0, fraction[i]));
            moment[i] = Math.max(0, moment[i]);
            if (!(volume[i] > 0) || fraction[i] < 1e-9) {
                volume[i] = 0; // rounding of the map, not a cavity
                fraction[i] = 0;
            }
        }
    }

    AnalysisResult run() {
        PressLoad recipe = pressing.recipe();
        FilmModel model = model(recipe);
        double[] snapshots = parameters.table(FilmProvider.SNAPSHOTS.id()).stream()
                .mapToDouble(row -> row.getOrDefault("time", 0.0))
                .toArray();
        KeptStates states = snapshots.length > 0
                ? KeptStates.at(snapshots)
                : KeptStates.along(Math.min(MOST_STATES, MOST_STATE_TILES / grid.size()), h0);
        FilmHistory history = new FilmHistory(model, states, parameters.find(FilmProvider.PLATEAU.id()));
        RunReport report;
        try (ThreadTeam team = ThreadTeam.forValues(grid.size(), context.threads());
                Stage stage = context.progress().stage("film", 0, "iterations")) {
            report = new FilmSolver(model, SolverOptions.STANDARD, team).run(snapshots, history, stage);
        }
        warnBefore(model);
        warnAfter(report, history, recipe.endSeconds());
        warnOfLateSnapshots(snapshots, recipe.endSeconds());
        List<Figure> figures = figures(report, history);
        List<Curve> curves = curves(history);
        if (snapshots.length > 0) {
            curves.add(distributions(history.states()));
        }
        if (pressing.history().isPresent()) {
            ProcessReport process =
                    new ProcessReport(parameters, pressing, pressing.history().get());
            figures.addAll(process.figures(history, grid));
            curves.addAll(process.curves(history));
            warnings.addAll(process.warnings(volume, moment, coated, history));
        }
        List<Field> fields = fields(history);
        return new AnalysisResult(fields, figures, curves, warnings, snapshots(history, fields, report.endSeconds()));
    }

    private FilmModel model(PressLoad recipe) {
        boolean isolated = parameters.choice(FilmProvider.SURROUND.id()).equals("isolated");
        FilmModel.Builder builder = FilmModel.of(grid, h0, recipe)
                .thickness(coated)
                .relief(volume, fraction, moment)
                .stamp(stamp, isolated ? Surround.ISOLATED : Surround.PERIODIC)
                .wedge(parameters.quantity(FilmProvider.WEDGE_X.id()), parameters.quantity(FilmProvider.WEDGE_Y.id()))
                .mobility(Mobility.valueOf(
                        parameters.choice(FilmProvider.MOBILITY.id()).toUpperCase(Locale.ROOT)))
                .bulkModulus(parameters.quantity(FilmProvider.BULK_MODULUS.id()))
                .thinning(FilmParameters.thinning(parameters))
                .particles(particles());
        boolean held = parameters.choice(FilmProvider.TILT.id()).equals("held");
        boolean bends = stamp.isPressedOnBack();
        if (isolated && held && bends) {
            warn(
                    "film.plate-not-held",
                    "an isolated plate yields to any moment and cannot be held at a tilt: it was left free to tilt",
                    new Place.WholeStamp());
        }
        if (isolated && (!held || bends)) {
            builder.freeTilt();
        }
        if (isolated && parameters.choice(FilmProvider.EDGE.id()).equals("open")) {
            builder.openEdge(0, true, true);
        }
        if (pressing.kind().filter(Roller.class::isInstance).isPresent()) {
            if (bends) {
                builder.closedSeam(); // where one repeat ends and the next begins the nip's pressure does not jump
            } else {
                warn(
                        "film.roller-rigid-back",
                        "the back of the stamp is rigid and spreads the force of the nip over the whole map: a foil is a"
                                + " stamp.kind of plate or layer-on-plate",
                        new Place.WholeStamp());
            }
        }
        parameters
                .find(FilmProvider.GAS_PRESSURE.id())
                .ifPresent(gas -> builder.gas(gas, parameters.quantity(FilmProvider.GAS_SOLUBILITY.id())));
        parameters.find(FilmProvider.SURFACE_TENSION.id()).ifPresent(gamma -> builder.capillaryPressure(pull(gamma)));
        return builder.build();
    }

    /** Laplace's pressure {@code 2 γ cos θ / w} of a slot as wide as the narrowest cavity of the tile. */
    private double[] pull(double tension) {
        double[] pull = new double[grid.size()];
        double cosine = Math.cos(parameters.quantity(FilmProvider.CONTACT_ANGLE.id()));
        var width = context.fields().find(TileFields.CAVITY_WIDTH_MIN.id());
        if (width.isEmpty()) {
            warn(
                    "film.capillary-width",
                    "a surface tension is given, but no cavity widths are known: capillarity was left out",
                    new Place.WholeStamp());
            return pull;
        }
        for (int i = 0; i < pull.length; i++) {
            double w = width.get().at(i);
            pull[i] = w > 0 ? 2 * tension * cosine / w : 0;
        }
        return pull;
    }

    private double[] particles() {
        double[] height = new double[grid.size()];
        Problems problems = new Problems();
        int number = 0;
        for (Map<String, Double> row : parameters.table(FilmProvider.PARTICLES.id())) {
            number++;
            double x = row.getOrDefault("x", 0.0);
            double y = row.getOrDefault("y", 0.0);
            int column = (int) Math.floor((x - grid.originXMetres()) / grid.pitchMetres());
            int line = (int) Math.floor((y - grid.originYMetres()) / grid.pitchMetres());
            if (column < 0 || column >= grid.columns() || line < 0 || line >= grid.rows()) {
                problems.add(
                        "film.particle-outside",
                        FilmProvider.PARTICLES.id() + " row " + number,
                        String.format(
                                Locale.ROOT,
                                "the particle at x = %g mm, y = %g mm lies outside the map",
                                x * 1e3,
                                y * 1e3),
                        "give its place in the coordinates of the layout");
                continue;
            }
            int i = grid.index(column, line);
            height[i] = Math.max(height[i], row.getOrDefault("height", 0.0));
        }
        problems.throwIfAny();
        return height;
    }

    private List<Field> fields(FilmHistory history) {
        return List.of(
                residual(history.residual()),
                share(history.filled()),
                Field.of(FilmProvider.FILL_TIME, grid, history.fillTime()),
                Field.of(FilmProvider.PRESSURE_PEAK, grid, history.peakPressure()),
                Field.of(FilmProvider.PRESSURE_OPEN, grid, history.filling().openPressure()),
                Field.of(FilmProvider.FILL_RATE, grid, history.filling().rate()),
                Field.of(FilmProvider.FILL_UNRELAXED, grid, history.filling().memory()),
                Field.of(FilmProvider.STAMP_DEFLECTION, grid, history.deflection()),
                Field.of(FilmProvider.FILM_FLUX, grid, history.peakFlux()));
    }

    private Field residual(double[] gap) {
        double[] residual = new double[gap.length];
        Arrays.setAll(residual, i -> gap[i] * pressing.keeping());
        return Field.of(FilmProvider.RESIDUAL_FINAL, grid, residual);
    }

    private Field share(double[] filled) {
        double[] share = new double[filled.length];
        Arrays.setAll(share, i -> volume[i] == 0 ? 1 : Math.min(1, filled[i] / volume[i]));
        return Field.of(FilmProvider.FILL_SHARE, grid, share);
    }

    /** Returns residual layer and filling at the times kept, and in the end. */
    private List<Snapshot> snapshots(FilmHistory history, List<Field> last, double end) {
        List<KeptStates.State> before =
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

    private List<Figure> figures(RunReport report, FilmHistory history) {
        double keeping = pressing.keeping();
        double[] residual = history.residual();
        double[] flexible = new double[volume.length];
        double held = 0;
        for (int i = 0; i < volume.length; i++) {
            flexible[i] = keeping * Math.max(0, coated[i] - volume[i]);
            residual[i] *= keeping;
            held += volume[i] / volume.length;
        }
        Spread solved = Spread.of(residual);
        Spread limit = Spread.of(flexible);
        double[] full = history.column(FilmHistory.Column.FULL);
        List<Figure> figures = new ArrayList<>(List.of(
                Figure.of("residual.mean", solved.mean, "nm", "mean residual layer"),
                Figure.of("residual.range", solved.most - solved.least, "nm", "residual layer, largest less smallest"),
                Figure.of("residual.sigma3", solved.sigma3, "nm", "residual layer, three standard deviations"),
                Figure.of(
                        "rigid.residual",
                        keeping * Math.max(0, h0 - held),
                        "nm",
                        "residual layer under a rigid stamp in the end"),
                Figure.of(
                        "flexible.range",
                        limit.most - limit.least,
                        "nm",
                        "the same range under a perfectly flexible stamp"),
                Figure.of(
                        "flexible.sigma3", limit.sigma3, "nm", "the same three sigma under a perfectly flexible stamp"),
                Figure.of("filled", full[full.length - 1], "1", "share of the tiles that are full"),
                Figure.of(
                        "filled.once",
                        Arrays.stream(history.fillTime())
                                        .filter(Double::isFinite)
                                        .count()
                                / (double) volume.length,
                        "1",
                        "share of the tiles that became full at some time"),
                Figure.of(
                        "pressure.peak",
                        Arrays.stream(history.peakPressure()).max().orElse(0),
                        "MPa",
                        "largest pressure in a tile"),
                Figure.of("end", report.endSeconds(), "s", "time reached"),
                Figure.of("steps", report.steps(), "1", "time steps"),
                Figure.of("rejections", report.rejections(), "1", "time steps cut and tried again"),
                Figure.of("newton", report.newtonSteps(), "1", "Newton steps"),
                Figure.of("cg", report.cgIterations(), "1", "conjugate-gradient iterations"),
                Figure.of("mass.error", report.massError(), "1", "film lost or gained, share of all film")));
        if (limit.sigma3 > 0) {
            figures.add(Figure.of(
                    "conformity",
                    solved.sigma3 / limit.sigma3,
                    "1",
                    "three sigma over that of a perfectly flexible stamp: 0 as a rigid stamp, 1 as a flexible one"));
        }
        return figures;
    }

    private static List<Curve> curves(FilmHistory history) {
        List<Curve> curves = new ArrayList<>();
        curves.add(new Curve(
                "history",
                "the film over time",
                List.of(
                        column(history, "time", "s", FilmHistory.Column.TIME),
                        column(history, "mean residual layer", "nm", FilmHistory.Column.MEAN),
                        column(history, "smallest residual layer", "nm", FilmHistory.Column.LEAST),
                        column(history, "largest residual layer", "nm", FilmHistory.Column.MOST),
                        column(history, "three sigma of the residual layer", "nm", FilmHistory.Column.SIGMA3),
                        column(history, "share of full tiles", "1", FilmHistory.Column.FULL),
                        column(history, "mean pressure on the stamp", "MPa", FilmHistory.Column.FORCE),
                        column(history, "largest pressure on the stamp", "MPa", FilmHistory.Column.PEAK),
                        column(history, "time step", "s", FilmHistory.Column.STEP))));
        return curves;
    }

    private static Curve distributions(List<KeptStates.State> states) {
        double[] share = new double[QUANTILES + 1];
        for (int n = 0; n <= QUANTILES; n++) {
            share[n] = n / (double) QUANTILES;
        }
        List<Curve.Column> columns = new ArrayList<>();
        columns.add(new Curve.Column("share of tiles", "1", share));
        for (KeptStates.State state : states) {
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

    private static Curve.Column column(FilmHistory history, String name, String unit, FilmHistory.Column column) {
        return new Curve.Column(name, unit, history.column(column));
    }

    private void warnBefore(FilmModel model) {
        Place stampPlace = new Place.WholeStamp();
        double held = Arrays.stream(volume).average().orElse(0);
        if (held == 0) {
            warn(
                    "film.no-cavity",
                    "the stamp has no cavity: film can only be squeezed out over an open rim",
                    stampPlace);
        }
        if (Arrays.stream(fraction).allMatch(f -> f >= 1)) {
            warn("film.all-cavity", "the stamp has no protrusion: there is no residual layer to speak of", stampPlace);
        }
        if (held > h0) {
            warn(
                    "film.starved",
                    format(
                            "the film is %.4g nm thick, the cavities need %.4g nm: they cannot fill",
                            h0 * 1e9, held * 1e9),
                    stampPlace);
        }
        if (pressure == 0) {
            warn("film.no-pressure", "the pressure is zero: nothing presses the stamp down", stampPlace);
        }
        int deepest = -1;
        double depth = 0;
        for (int i = 0; i < volume.length; i++) {
            double here = volume[i] > 0 ? volume[i] / fraction[i] : 0;
            if (here > 0 && (deepest < 0 || here * coated[deepest] > depth * coated[i])) {
                depth = here;
                deepest = i;
            }
        }
        if (deepest >= 0 && coated[deepest] < 2 * depth) {
            warn(
                    "film.deep-cavity",
                    format(
                            "the cavities are %.4g nm deep, more than half the film of %.4g nm: real films then need more"
                                    + " pressure than this model says (Hirai and others, J. Vac. Sci. Technol. B 22 (2004) 3288)",
                            depth * 1e9, coated[deepest] * 1e9),
                    tile(deepest));
        }
        if (model.gasPressure > 0 && model.gasSolubility == 0 && held > 0) {
            warn(
                    "film.gas-stays",
                    "gas is sealed into the cavities and none dissolves: no cavity can become full",
                    stampPlace);
        }
    }

    private void warnAfter(RunReport report, FilmHistory history, double hold) {
        if (!report.complete()) {
            warn(
                    "film.incomplete",
                    format(
                            "the solve gave up at %.4g s of %.4g s after %d steps and %d cuts: the maps show that time",
                            report.endSeconds(), hold, report.steps(), report.rejections()),
                    new Place.WholeStamp());
        }
        if (report.cgShortfalls() > 0) {
            warn(
                    "film.linear-budget",
                    format("%d linear solves ended at their budget of iterations", report.cgShortfalls()),
                    new Place.WholeStamp());
        }
        if (report.massError() > 1e-8) {
            warn("film.mass", format("the film's mass is off by %.2g", report.massError()), new Place.WholeStamp());
        }
        double[] gap = history.residual();
        int thinnest = -1;
        int thin = 0;
        for (int i = 0; i < gap.length; i++) {
            if (fraction[i] < 1 && gap[i] < THINNEST_BULK_FILM) {
                thin++;
                thinnest = thinnest < 0 || gap[i] < gap[thinnest] ? i : thinnest;
            }
        }
        if (thin > 0) {
            warn(
                    "film.thin",
                    format(
                            "%d tiles end thinner than 10 nm (thinnest %.3g nm): films as thin as their chains do not flow"
                                    + " like the bulk (Rowland and others, ACS Nano 2 (2008) 419)",
                            thin, gap[thinnest] * 1e9),
                    tile(thinnest));
        }
        context.fields().find(TileFields.PROTRUSION_WIDTH_MIN.id()).ifPresent(width -> {
            int worst = -1;
            for (int i = 0; i < gap.length; i++) {
                if (width.known(i)
                        && width.at(i) > 0
                        && width.at(i) < LEAST_ASPECT * gap[i]
                        && (worst < 0 || width.at(i) / gap[i] < width.at(worst) / gap[worst])) {
                    worst = i;
                }
            }
            if (worst >= 0) {
                warn(
                        "film.lubrication",
                        format(
                                "protrusions of %.4g nm over a film of %.4g nm: below a ratio of 3 the film law is too"
                                        + " fast (Ryu and others, Nano Convergence 4 (2017))",
                                width.at(worst) * 1e9, gap[worst] * 1e9),
                        tile(worst));
            }
        });
        warnOfStrain(history.peakPressure());
    }

    private void warnOfLateSnapshots(double[] asked, double end) {
        long late = Arrays.stream(asked).filter(time -> time > end).count();
        if (late > 0) {
            warn(
                    "film.snapshots-late",
                    format(
                            "%d of the times in %s lie after the end at %.4g s, where nothing is computed",
                            late, FilmProvider.SNAPSHOTS.id(), end),
                    new Place.WholeStamp());
        }
    }

    private void warnOfStrain(double[] peak) {
        double modulus = stamp instanceof Stamp.HalfSpace h
                ? h.modulusPascal()
                : stamp instanceof Stamp.Plate p
                        ? p.modulusPascal()
                        : stamp instanceof Stamp.BondedLayer b
                                ? b.modulusPascal()
                                : stamp instanceof Stamp.LayerOnPlate both
                                        ? both.layer().modulusPascal()
                                        : Double.POSITIVE_INFINITY;
        int worst = 0;
        for (int i = 0; i < peak.length; i++) {
            worst = peak[i] > peak[worst] ? i : worst;
        }
        if (peak[worst] > LARGEST_STRAIN * modulus) {
            warn(
                    "film.stamp-strain",
                    format(
                            "a pressure of %.4g MPa strains a stamp of %.4g MPa by more than 10 %%: linear elasticity does"
                                    + " not hold, and a brittle stamp breaks",
                            peak[worst] * 1e-6, modulus * 1e-6),
                    tile(worst));
        }
    }

    private Place tile(int i) {
        int column = grid.column(i);
        int row = grid.row(i);
        return new Place.Tile(column, row, grid.centreXMetres(column), grid.centreYMetres(row));
    }

    private void warn(String code, String message, Place place) {
        warnings.add(new Finding.Warning("film", code, message, place));
    }

    private static String format(String pattern, Object... values) {
        return String.format(Locale.ROOT, pattern, values);
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
    }
}
