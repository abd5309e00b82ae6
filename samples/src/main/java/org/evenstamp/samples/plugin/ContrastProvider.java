package org.evenstamp.samples.plugin;

import java.util.List;
import java.util.Locale;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameters;

/**
 * Analysis {@code contrast}: how abruptly the layout changes. Per tile the largest difference in cavity volume to one of
 * the (up to) four tiles beside it: without flow between tiles, the step in the residual layer there.
 */
public final class ContrastProvider implements AnalysisProvider {
    /** Largest step to a neighbour. */
    public static final FieldName CONTRAST = FieldName.of(
            "contrast.volume", "nm", "largest difference in cavity volume between the tile and one beside it");

    private static final String ID = "contrast";
    private static final Parameter.Quantity ACCEPTED = Parameter.Quantity.standard(
            "contrast.accepted", "nm", 50, 0, 1e6, "step up to which no warning is given; 50 nm is a mere example");

    /** For the service loader. */
    public ContrastProvider() {}

    @Override
    public AnalysisDescription description() {
        return new AnalysisDescription(
                ID,
                "How abruptly the cavity volume changes from tile to tile.",
                List.of(ACCEPTED),
                List.of(TileFields.CAVITY_VOLUME),
                List.of(),
                List.of(CONTRAST));
    }

    @Override
    public Analysis create(Parameters parameters) {
        double acceptedMetres = parameters.quantity(ACCEPTED.id());
        return context -> run(context, acceptedMetres);
    }

    private static AnalysisResult run(AnalysisContext context, double acceptedMetres) {
        TileGrid grid = context.grid();
        Field volume = context.fields().get(TileFields.CAVITY_VOLUME);
        double[] contrast = new double[grid.size()];
        int worst = 0;
        for (int i = 0; i < contrast.length; i++) {
            contrast[i] = largestStep(volume, grid.column(i), grid.row(i));
            if (contrast[i] > contrast[worst]) {
                worst = i;
            }
        }
        List<Finding.Warning> warnings = contrast[worst] <= acceptedMetres
                ? List.of()
                : List.of(new Finding.Warning(
                        ID,
                        "contrast.step",
                        String.format(
                                Locale.ROOT,
                                "the cavity volume steps by %.4g nm between neighbouring tiles, accepted are %.4g nm",
                                contrast[worst] * 1e9,
                                acceptedMetres * 1e9),
                        Place.Tile.of(grid, worst)));
        return new AnalysisResult(
                List.of(Field.of(CONTRAST, grid, contrast)),
                List.of(Figure.of("contrast.most", contrast[worst], "nm", "largest step between neighbouring tiles")),
                List.of(),
                warnings);
    }

    private static double largestStep(Field volume, int column, int row) {
        TileGrid grid = volume.grid();
        double here = volume.at(column, row);
        double most = 0;
        if (column > 0) {
            most = Math.max(most, Math.abs(here - volume.at(column - 1, row)));
        }
        if (column + 1 < grid.columns()) {
            most = Math.max(most, Math.abs(here - volume.at(column + 1, row)));
        }
        if (row > 0) {
            most = Math.max(most, Math.abs(here - volume.at(column, row - 1)));
        }
        if (row + 1 < grid.rows()) {
            most = Math.max(most, Math.abs(here - volume.at(column, row + 1)));
        }
        return most;
    }
}
