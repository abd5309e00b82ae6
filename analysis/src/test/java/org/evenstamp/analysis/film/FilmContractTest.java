package org.evenstamp.analysis.film;

import java.util.Set;
import java.util.SplittableRandom;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.Parameters;
import org.evenstamp.shared.spi.kit.AnalysisContract;

class FilmContractTest extends AnalysisContract {
    @Override
    protected AnalysisProvider provider() {
        return new FilmProvider();
    }

    /** Temperatures that a melt can live through; a melt at 60 degC flows only when it is swollen. */
    @Override
    protected void adjust(Parameters.Builder parameters) {
        parameters
                .quantity("film.thickness", 250e-9)
                .quantity("process.pressure", 5e6)
                .quantity("process.hold", 10)
                .quantity("film.viscosity", 1e4)
                .quantity("film.glass-temperature", 373.15)
                .quantity("film.wlf-c1", 17.44)
                .quantity("film.wlf-c2", 51.6)
                .quantity("film.wlf-reference", 373.15)
                .quantity("film.valid-from", 373.15)
                .quantity("film.valid-to", 473.15)
                .quantity("film.solvent-glass-temperature", 150)
                .quantity("film.decomposition-temperature", 600)
                .quantity("process.temperature", 440)
                .quantity("release.temperature", 330)
                .quantity("process.solvent-share", 0.3)
                .quantity("process.exposure", 1000);
    }

    @Override
    protected void adjustTo(String choice, String word, Parameters.Builder parameters) {
        if (word.equals("solvent-press")) {
            parameters.quantity("process.temperature", 330);
        }
    }

    /** A film of 245 to 255 nm: the one field read that no tile map gives. */
    @Override
    protected Field sample(FieldName name, TileGrid grid, long seed) {
        return Field.of(
                name,
                grid,
                new SplittableRandom(seed).doubles(grid.size(), 245e-9, 255e-9).toArray());
    }

    @Override
    protected Set<String> fieldsWithGaps() {
        return Set.of(
                ImprintFields.FILL_TIME.id(),
                ImprintFields.FILL_SHARE.id(),
                ImprintFields.PRESSURE_OPEN.id(),
                ImprintFields.FILL_UNRELAXED.id());
    }
}
