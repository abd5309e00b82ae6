package org.evenstamp.analysis.film;

import java.util.Optional;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.imprint.FilmShape;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.LandLinks;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.Parameters;

/**
 * The tile map as the solve takes it: film and relief, rounding of the map taken off. Values in the order of {@link TileGrid},
 * in SI; the arrays are shared, not to be changed.
 */
final class FilmMaps {
    private static final double LEAST_FRACTION = 1e-9; // below, rounding of the map and not a cavity

    final TileGrid grid;
    final double filmThickness; // as given for the whole film, swollen where the film swells
    final double[] coated; // film thickness of each tile before the imprint, swollen likewise
    final double[] volume; // of the cavities, per area
    final double[] fraction; // of the area that is cavity
    final double[] moment; // squeeze moment
    final double[] edges; // length of the cavities' edges over area, 0 where it is not known

    private FilmMaps(TileGrid grid, double filmThickness, double[] coated, AnalysisContext context) {
        this.grid = grid;
        this.filmThickness = filmThickness;
        this.coated = coated;
        Optional<LandLinks> links = context.fields().links();
        volume = links.map(land -> land.volume().clone())
                .orElseGet(() -> context.fields().get(TileFields.CAVITY_VOLUME).toArray());
        fraction = links.map(land -> land.fraction().clone())
                .orElseGet(
                        () -> context.fields().get(TileFields.CAVITY_FRACTION).toArray());
        moment = links.map(land -> land.moment().clone())
                .orElseGet(() -> context.fields().get(TileFields.SQUEEZE_MOMENT).toArray());
        edges = links.map(land -> land.edges().clone())
                .or(() -> context.fields().find(TileFields.EDGE_DENSITY.id()).map(Field::toArray))
                .orElseGet(() -> new double[grid.size()]);
        for (int i = 0; i < volume.length; i++) {
            edges[i] = Math.max(0, edges[i]);
            fraction[i] = Math.min(1, Math.max(0, fraction[i]));
            moment[i] = Math.max(0, moment[i]);
            if (!(volume[i] > 0) || fraction[i] < LEAST_FRACTION) {
                volume[i] = 0;
                fraction[i] = 0;
            }
        }
    }

    /**
     * Reads the maps.
     *
     * @param swelling thickness of the film while it is pressed over that before
     */
    static FilmMaps of(Parameters parameters, double swelling, AnalysisContext context) {
        TileGrid grid = context.grid();
        double thickness = parameters.quantity(CommonParameters.FILM_THICKNESS.id()) * swelling;
        double[] coated = FilmShape.of(parameters)
                .metres(parameters.quantity(CommonParameters.FILM_THICKNESS.id()), context.fields());
        for (int i = 0; i < coated.length; i++) {
            coated[i] *= swelling;
        }
        return new FilmMaps(grid, thickness, coated, context);
    }
}
