package org.evenstamp.samples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.spi.Figure;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The sample of frozen stress, and what lowers it, as its README tells it. */
@Tag("slow")
class NarrowWallsTest {
    private static final Pipeline PIPELINE = new Pipeline(AnalysisFinder.find(List.of()));
    private static final Path SAMPLE = Path.of("narrow-walls");

    /** Tiles in the middle of the four gratings, by the width of their cavities in um. */
    private static final double[] WIDTHS = {0.5, 0.75, 1, 1.5};

    private static final int[] COLUMNS = {11, 29, 11, 29};
    private static final int[] ROWS = {11, 11, 29, 29};

    @TempDir
    Path directory;

    private static Job job() {
        return Job.read(SAMPLE.resolve("job.yaml"), PIPELINE);
    }

    private static Results run(Job job) {
        return Simulation.run(job, RunOptions.STANDARD, new Progress());
    }

    private static double[] kilopascals(Results results) {
        Field frozen = results.fields().find("stress.frozen").orElseThrow();
        double[] values = new double[WIDTHS.length];
        Arrays.setAll(values, n -> frozen.at(ROWS[n] * frozen.grid().columns() + COLUMNS[n]) / 1e3);
        return values;
    }

    private static void isClose(double[] found, double... told) {
        for (int n = 0; n < told.length; n++) {
            assertThat(found[n]).as("%s um", WIDTHS[n]).isCloseTo(told[n], withinPercentage(3));
        }
    }

    @Test
    void stress_stays_beside_the_walls_most_where_cavities_are_narrow_and_holding_lets_it_go() {
        Results sample = run(job());
        double[] found = kilopascals(sample);
        isClose(found, 45.1, 36.4, 29.5, 15.7);
        assertThat(sample.verdictWords()).isEqualTo("limit exceeded");

        double relaxation = sample.analyses().stream()
                .filter(part -> part.id().equals("stress"))
                .flatMap(part -> part.figures().stream())
                .filter(figure -> figure.id().equals("relaxation.time"))
                .mapToDouble(Figure::valueSi)
                .findFirst()
                .orElseThrow();
        double[] held = kilopascals(run(job().with("process.hold", "120 s")));
        // what is left does not flow any more, so it fades as Maxwell's element says
        for (int n = 0; n < held.length; n++) {
            assertThat(held[n] / found[n]).isCloseTo(Math.exp(-60 / relaxation), withinPercentage(0.1));
        }
    }

    @Test
    void a_slower_cooling_and_a_higher_temperature_let_it_go_too() {
        isClose(kilopascals(run(job().with("process.cooling-rate", "10 K/min"))), 11.3, 9.1, 7.4, 3.9);
        double[] hot = kilopascals(run(job().with("process.temperature", "165 degC")));
        for (double value : hot) {
            assertThat(value).isBetween(0.0, 0.02);
        }
    }

    /** The rate at the wall of a slot falls by 1 + 6 b/w (Navier slip between plates). */
    @Test
    void a_coat_on_which_the_film_slips_lowers_it() {
        double[] found = kilopascals(run(job()));
        double[] slipping =
                kilopascals(run(job().with("stamp.coating", "release").with("stamp.slip-length", "100 nm")));
        for (int n = 0; n < found.length; n++) {
            assertThat(found[n] / slipping[n]).isCloseTo(1 + 6 * 0.1 / WIDTHS[n], withinPercentage(1e-6));
        }
    }

    @Test
    void wider_cavities_lower_it() throws IOException {
        String layout = Files.readString(SAMPLE.resolve("layout.geojson"))
                .replace("\"width\": 0.5,", "\"width\": 1,")
                .replace("\"width\": 0.75,", "\"width\": 1.5,");
        Files.writeString(directory.resolve("layout.geojson"), layout);
        Files.copy(SAMPLE.resolve("job.yaml"), directory.resolve("job.yaml"));

        isClose(kilopascals(run(Job.read(directory.resolve("job.yaml"), PIPELINE))), 29.1, 15.4);
    }
}
