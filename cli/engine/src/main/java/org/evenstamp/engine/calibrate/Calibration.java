package org.evenstamp.engine.calibrate;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.evenstamp.analysis.pipeline.Outcome;
import org.evenstamp.analysis.statistics.LeastSquaresFit;
import org.evenstamp.engine.job.CalibrationChoice;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;

/**
 * Finds the values of free keys with which a job agrees best with readings: weighted least squares, slopes by forward
 * differences of whole runs, which share the tile map and are remembered.
 */
public final class Calibration {
    /** Relative change of sum and values at which the fit has settled; the film solve itself is good to about this. */
    private static final double TOLERANCE = 1e-4;

    /** Time steps may err by less than readings together do, or the fit stops where the steps happen to change. */
    private static final String STEP_ERROR = "film.step-error";

    private static final String FINE_STEPS = "0.05 %";

    /** Within so many of their own steps from where they were taken slopes are mended by what runs since have told. */
    private static final double NEAR = 3;

    /** A model error is looked for until it changes by less than this part, at most so often. */
    private static final double SETTLED = 0.02;

    private static final int MOST_ROUNDS = 6;

    private final Job job;
    private final Readings readings;
    private final List<FreeKey> free;
    private final RunOptions options;
    private final Progress progress;
    private final FieldSet tiles;
    private final Stage stage;
    private final List<MapOptions.Outline> keepOuts;
    private final Map<List<Double>, Field> solved = new LinkedHashMap<>();

    /** Slopes at {@link #lastAt}, first taken by runs at {@link #takenAt}; nothing before the first. */
    private double[][] lastSlopes = new double[0][];

    private double[] lastAt = new double[0];
    private double[] takenAt = new double[0];

    private Calibration(
            Job job, Readings readings, List<FreeKey> free, RunOptions options, Progress progress, Stage stage) {
        this.job = job;
        this.readings = readings;
        this.free = free;
        this.options = options;
        this.progress = progress;
        this.stage = stage;
        this.keepOuts = job.rectangles(CalibrationChoice.KEEP_OUT);
        this.tiles = Simulation.measure(job, options, progress);
    }

    /**
     * Fits.
     *
     * @param free the keys that may change, at least one; they must not change the tile map
     * @throws InputException when readings lie where the job gives no value, are too few, or tell nothing about a combination of
     *     keys, or when no job can be like the fit wants it
     */
    public static CalibrationResult fit(
            Job job, Readings readings, List<FreeKey> free, RunOptions options, Progress progress) {
        try (Stage stage = progress.stage("fitting", 0, "runs")) {
            return new Calibration(job, readings, free, options, progress, stage).fit();
        }
    }

    private CalibrationResult fit() {
        double[] start =
                free.stream().mapToDouble(key -> key.fitted(key.startSi())).toArray();
        double[] before = predictions(start);
        checkPlaces(before);
        int n = readings.readings().size();
        double[] measured = new double[n];
        double[] deviations = new double[n];
        for (int i = 0; i < n; i++) {
            measured[i] = readings.readings().get(i).valueSi();
            deviations[i] = readings.readings().get(i).deviationSi();
        }
        double[] stated = deviations.clone();
        LeastSquaresFit.Result fit = fit(measured, deviations, start);
        double modelError = 0;
        boolean asked = job.settings()
                .choice(CalibrationChoice.MODEL_ERROR.id())
                .equals(CalibrationChoice.MODEL_ERROR.options().get(1));
        for (int round = 0; asked && round < MOST_ROUNDS; round++) {
            double earlier = modelError;
            modelError = modelError(fit.residuals(), stated, fit.freedom());
            if (Math.abs(modelError - earlier) <= SETTLED * earlier) {
                break;
            }
            for (int i = 0; i < n; i++) {
                deviations[i] = Math.hypot(stated[i], modelError);
            }
            fit = fit(measured, deviations, fit.values());
        }
        Readings judged = readings.withDeviations(deviations);
        double[] values = fit.values();
        double[][] slopes = takenSlopes(values);
        List<CalibrationResult.Value> found = new ArrayList<>();
        Map<String, String> changes = new LinkedHashMap<>();
        for (int k = 0; k < free.size(); k++) {
            FreeKey key = free.get(k);
            double si = key.si(values[k]);
            found.add(new CalibrationResult.Value(key, si, fit.error(k)));
            changes.put(key.key(), key.unit().fromSi(si) + " " + key.unit().symbol());
        }
        double[][] correlations = new double[free.size()][free.size()];
        for (int i = 0; i < free.size(); i++) {
            for (int j = 0; j < free.size(); j++) {
                correlations[i][j] = fit.correlation(i, j);
            }
        }
        return new CalibrationResult(
                job.with(changes),
                found,
                correlations,
                ReadingFit.of(judged, before, predictions(values), slopes, fit),
                fit,
                modelError,
                Directions.of(free, judged, slopes, fit),
                NextPlaces.of(
                        fieldSlopes(values),
                        fit,
                        meanVariance(deviations),
                        (int) job.settings().quantity(CalibrationChoice.NEXT.id()),
                        keepOuts),
                solved.size());
    }

    private LeastSquaresFit.Result fit(double[] measured, double[] deviations, double[] begin) {
        return LeastSquaresFit.fit(
                new LeastSquaresFit.Model() {
                    @Override
                    public double[] predictions(double[] values) {
                        return Calibration.this.predictions(values);
                    }

                    @Override
                    public double[][] slopes(double[] values) {
                        return Calibration.this.slopes(values);
                    }

                    @Override
                    public double[][] slopesAtTheEnd(double[] values) {
                        return takenSlopes(values);
                    }
                },
                measured,
                deviations,
                free.stream().map(FreeKey::free).toList(),
                begin,
                TOLERANCE);
    }

    /**
     * Returns the deviation that has to be added to those of the readings for chi-square to be what it should be (Mandel and Paule);
     * 0 where it is not larger as it is.
     */
    private static double modelError(double[] residuals, double[] stated, int freedom) {
        double low = 0;
        double high = 0;
        for (double residual : residuals) {
            high = Math.max(high, Math.abs(residual));
        }
        high *= Math.sqrt(residuals.length);
        if (freedom < 1 || excess(residuals, stated, 0, freedom) <= 0) {
            return 0;
        }
        for (int i = 0; i < 60; i++) {
            double middle = (low + high) / 2;
            if (excess(residuals, stated, middle, freedom) > 0) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return high;
    }

    private static double excess(double[] residuals, double[] stated, double error, int freedom) {
        double sum = 0;
        for (int i = 0; i < residuals.length; i++) {
            double deviation = Math.hypot(stated[i], error);
            sum += residuals[i] * residuals[i] / (deviation * deviation);
        }
        return sum - freedom;
    }

    private static double meanVariance(double[] deviations) {
        return Arrays.stream(deviations).map(one -> one * one).average().orElseThrow();
    }

    private void checkPlaces(double[] predictions) {
        Problems problems = new Problems();
        for (int i = 0; i < predictions.length; i++) {
            if (Double.isNaN(predictions[i])) {
                Readings.Reading reading = readings.readings().get(i);
                problems.add(
                        "calibrate.place",
                        "line " + reading.line(),
                        String.format(
                                Locale.ROOT,
                                "at x = %.6g mm, y = %.6g mm the job has no %s: the place is beyond the stamp or in a cavity",
                                reading.xMetres() * 1e3,
                                reading.yMetres() * 1e3,
                                readings.fieldId()),
                        "leave the place out");
            }
        }
        problems.throwIfAny();
    }

    private double[] predictions(double[] values) {
        Field field = field(values);
        return readings.readings().stream()
                .mapToDouble(reading -> PlaceValue.at(field, reading.xMetres(), reading.yMetres()))
                .toArray();
    }

    /** Returns slopes for a step: near those that were taken, what the runs since have told of them (Broyden). */
    private double[][] slopes(double[] values) {
        boolean near = lastSlopes.length > 0;
        for (int k = 0; near && k < values.length; k++) {
            near = Math.abs(values[k] - takenAt[k]) <= NEAR * free.get(k).step();
        }
        if (!near) {
            return takenSlopes(values);
        }
        double[] here = predictions(values);
        double[] there = predictions(lastAt);
        double[] way = new double[values.length];
        double square = 0;
        for (int k = 0; k < way.length; k++) {
            way[k] = (values[k] - lastAt[k]) / free.get(k).step();
            square += way[k] * way[k];
        }
        double[][] mended = new double[here.length][];
        for (int i = 0; i < here.length; i++) {
            mended[i] = lastSlopes[i].clone();
            double missed = here[i] - there[i];
            for (int k = 0; k < way.length; k++) {
                missed -= lastSlopes[i][k] * (values[k] - lastAt[k]);
            }
            for (int k = 0; square > 0 && k < way.length; k++) {
                mended[i][k] += missed * way[k] / (square * free.get(k).step());
            }
        }
        lastSlopes = mended;
        lastAt = values.clone();
        return mended;
    }

    /** Returns slopes by runs of their own. */
    private double[][] takenSlopes(double[] values) {
        List<Field> fields = stepped(values);
        double[] here = predictions(values);
        double[][] slopes = new double[here.length][free.size()];
        for (int k = 0; k < free.size(); k++) {
            double step = free.get(k).step();
            for (int i = 0; i < here.length; i++) {
                Readings.Reading reading = readings.readings().get(i);
                double there = PlaceValue.at(fields.get(k), reading.xMetres(), reading.yMetres());
                slopes[i][k] = (there - here[i]) / step;
            }
        }
        lastSlopes = slopes;
        lastAt = values.clone();
        takenAt = values.clone();
        return slopes;
    }

    /** Slopes of the whole field, a map a key; NaN where there is no value. */
    private List<Field> fieldSlopes(double[] values) {
        Field here = field(values);
        List<Field> fields = stepped(values);
        List<Field> slopes = new ArrayList<>();
        for (int k = 0; k < free.size(); k++) {
            double[] map = new double[here.grid().size()];
            for (int i = 0; i < map.length; i++) {
                map[i] = here.known(i) && fields.get(k).known(i)
                        ? (fields.get(k).at(i) - here.at(i)) / free.get(k).step()
                        : Double.NaN;
            }
            slopes.add(Field.of(here.name(), here.grid(), map));
        }
        return slopes;
    }

    private List<Field> stepped(double[] values) {
        List<Field> fields = new ArrayList<>();
        for (int k = 0; k < free.size(); k++) {
            double[] other = values.clone();
            other[k] += free.get(k).step();
            fields.add(field(other));
        }
        return fields;
    }

    private Field field(double[] values) {
        List<Double> key = Arrays.stream(values).boxed().toList();
        Field known = solved.get(key);
        if (known != null) {
            return known;
        }
        progress.checkCancelled();
        Map<String, String> changes = new LinkedHashMap<>();
        for (int k = 0; k < free.size(); k++) {
            FreeKey one = free.get(k);
            changes.put(
                    one.key(),
                    one.unit().fromSi(one.si(values[k])) + " " + one.unit().symbol());
        }
        if (job.asWritten(STEP_ERROR).isEmpty()) {
            changes.put(STEP_ERROR, FINE_STEPS);
        }
        Outcome outcome = Simulation.analyse(job.with(changes), tiles, options, progress);
        Field field = outcome.fields()
                .find(readings.fieldId())
                .orElseThrow(() -> new InputException(
                        "calibrate.no-field",
                        "",
                        "no analysis of this job gives " + readings.fieldId() + ", which was measured",
                        "set what it needs"));
        stage.advance(1);
        solved.put(key, field);
        return field;
    }
}
