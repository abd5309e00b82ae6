package org.evenstamp.samples.plugin;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Parameters;
import org.evenstamp.shared.spi.kit.AnalysisContract;
import org.junit.jupiter.api.Test;

/** What every analysis has to keep, and what this one computes. */
class ContrastProviderTest extends AnalysisContract {
    private static final double NM = 1e-9;

    @Override
    protected AnalysisProvider provider() {
        return new ContrastProvider();
    }

    /** By hand: lower row 100, 130, 130 nm, upper row 100, 100, 190 nm. */
    @Test
    void the_largest_step_to_a_neighbour_is_found() {
        TileGrid grid = new TileGrid(0, 0, 1e-4, 3, 2);
        double[] volume = {100 * NM, 130 * NM, 130 * NM, 100 * NM, 100 * NM, 190 * NM};

        AnalysisResult result = run(grid, volume, 50);

        double[] contrast = result.fields().get(0).toArray();
        double[] expected = {30 * NM, 30 * NM, 60 * NM, 0, 90 * NM, 90 * NM};
        assertThat(contrast).containsExactly(expected, within(1e-6 * NM));
        assertThat(result.figures().get(0).valueSi()).isCloseTo(90 * NM, within(1e-6 * NM));
        assertThat(result.warnings())
                .singleElement()
                .satisfies(warning -> assertThat(warning.place()).isEqualTo(Place.Tile.of(grid, 4)));
    }

    @Test
    void an_accepted_step_raises_no_warning() {
        TileGrid grid = new TileGrid(0, 0, 1e-4, 2, 1);

        assertThat(run(grid, new double[] {100 * NM, 140 * NM}, 50).warnings()).isEmpty();
        assertThat(run(grid, new double[] {100 * NM, 140 * NM}, 30).warnings()).hasSize(1);
    }

    private static AnalysisResult run(TileGrid grid, double[] volume, double acceptedNm) {
        FieldSet fields = FieldSet.empty(grid).with(List.of(Field.of(TileFields.CAVITY_VOLUME, grid, volume)));
        return new ContrastProvider()
                .create(Parameters.builder()
                        .quantity("contrast.accepted", acceptedNm * NM)
                        .build())
                .run(new AnalysisContext(grid, fields, 1, new Progress()));
    }
}
