package org.evenstamp.engine.calibrate;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.engine.job.PlaceTable;
import org.evenstamp.engine.job.PlaceTable.Column;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;

/**
 * Reads measured values: a table with the columns {@code x_mm,y_mm,residual_nm} and, if the readings bring their own standard
 * deviations, {@code sigma_nm}; in these units or others. Instead of {@code residual} there may be {@code fill}, the share of the
 * cavities that is filled, or {@code step}, the height of the features after the etch. Other columns are passed over.
 */
public final class ReadingsFile {
    private static final Column RESIDUAL = Column.of("residual", "nm");
    private static final Column FILL = Column.of("fill", "1");
    private static final Column STEP = Column.of("step", "nm");
    private static final String ETCHED = "etch.left";
    private static final Column SIGMA = Column.of("sigma", "nm");
    private static final Column FILL_SIGMA = Column.of("sigma", "1");

    private ReadingsFile() {}

    /**
     * Reads a file.
     *
     * @param deviationSi standard deviation of a residual layer that brings none, m; of a share it is the same number of micrometres
     * @throws InputException with every problem of the file
     */
    public static Readings read(Path file, double deviationSi) {
        boolean shares = names(file, "fill");
        boolean steps = !shares && names(file, "step_[^,;\t]*");
        Problems problems = new Problems();
        PlaceTable table = new PlaceTable(file, "readings.", problems);
        Column value = shares ? FILL : steps ? STEP : RESIDUAL;
        Column sigma = shares ? FILL_SIGMA : SIGMA;
        PlaceTable.Rows rows = table.rows(List.of(PlaceTable.X, PlaceTable.Y, value), List.of(), List.of(sigma), true);
        List<Readings.Reading> readings = new ArrayList<>();
        if (rows != null) {
            double[] x = rows.get(PlaceTable.X);
            double[] y = rows.get(PlaceTable.Y);
            double[] found = rows.get(value);
            double[] own = rows.get(sigma);
            table.findTwins(x, y, rows.lines());
            for (int i = 0; i < x.length; i++) {
                double deviation = own.length > 0 ? own[i] : shares ? deviationSi * 1e6 : deviationSi;
                if (!(deviation > 0)) {
                    table.problem(
                            "sigma",
                            rows.line(i),
                            "a standard deviation of " + sigma.unit().fromSi(deviation) + " "
                                    + sigma.unit().symbol() + " is not above 0",
                            "leave out the column sigma, and calibrate.deviation holds");
                }
                readings.add(new Readings.Reading(x[i], y[i], found[i], deviation, rows.line(i)));
            }
            table.ended();
        }
        problems.throwIfAny();
        String field = shares ? ImprintFields.FILL_SHARE.id() : steps ? ETCHED : ImprintFields.RESIDUAL_FINAL.id();
        return new Readings(field, readings);
    }

    /** Whether the heading has a column like this. */
    private static boolean names(Path file, String column) {
        try (var lines = Files.lines(file)) {
            return lines.filter(line -> !line.isBlank() && !line.startsWith("#"))
                    .findFirst()
                    .map(head -> head.matches(".*(^|[,;\t])\\s*" + column + "\\s*($|[,;\t]).*"))
                    .orElse(false);
        } catch (IOException | UncheckedIOException e) {
            return false; // whoever reads it says why it cannot be read
        }
    }
}
