package org.evenstamp.samples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.List;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.spi.Figure;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** The roller of the samples with a liquid whose menisci pull. */
@Tag("slow")
class RollerMenisciTest {
    private static final Pipeline PIPELINE = new Pipeline(AnalysisFinder.find(List.of()));

    private static double figure(Results results, String id) {
        return results.analyses().stream()
                .filter(part -> part.id().equals("film"))
                .flatMap(part -> part.figures().stream())
                .filter(figure -> figure.id().equals(id))
                .mapToDouble(Figure::valueSi)
                .findFirst()
                .orElseThrow();
    }

    /**
     * Land between menisci stays wetted until air can move in. Where it let go without any suction, no state of a tile agreed with itself, and
     * the run gave up after 2000 steps at a hundredth of its time.
     */
    @Test
    void land_between_menisci_stays_wetted_and_the_run_comes_to_its_end() {
        Job job = Job.read(Path.of("water-sensor/roller.yaml"), PIPELINE)
                .with("tiles.resolution", "off")
                .with("film.surface-tension", "30 mN/m")
                .with("film.contact-angle", "30 deg");
        Results results = Simulation.run(job, RunOptions.STANDARD, new Progress());

        assertThat(results.warnings()).extracting(Finding.Warning::code).doesNotContain("film.incomplete");
        assertThat(figure(results, "steps")).isLessThan(600);
        assertThat(figure(results, "rejections")).isLessThan(30);
        assertThat(figure(results, "filled")).isEqualTo(1);
        assertThat(figure(results, "mass.error")).isCloseTo(0, within(1e-9));
    }
}
