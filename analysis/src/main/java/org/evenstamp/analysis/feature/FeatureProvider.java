package org.evenstamp.analysis.feature;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.Materials;
import org.evenstamp.analysis.imprint.TileValues;
import org.evenstamp.analysis.process.ProcessParameters;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Parameters;

/**
 * Height of the film's features: cavity depth times fill share times what drying or curing leaves.
 *
 * <p>The share is that of the film solve; without it that of the tile's own film; without either the cavities count as full.
 */
public final class FeatureProvider implements AnalysisProvider {
    @Override
    public AnalysisDescription description() {
        return new AnalysisDescription(
                "features",
                "Height of the film's features: what the cavities took in, less what drying or curing takes",
                List.of(ProcessParameters.KIND, ProcessParameters.SOLVENT_SHARE, Materials.CURE_SHRINKAGE),
                List.of(
                        TileFields.CAVITY_FRACTION,
                        TileFields.CAVITY_VOLUME,
                        TileFields.CAVITY_DEPTH_MIN,
                        TileFields.CAVITY_DEPTH_MAX),
                List.of(ImprintFields.FILL_SHARE, ImprintFields.FILL_SHARE_LOCAL),
                List.of(
                        ImprintFields.FEATURE_HEIGHT,
                        ImprintFields.FEATURE_HEIGHT_MIN,
                        ImprintFields.FEATURE_HEIGHT_MAX));
    }

    @Override
    public Analysis create(Parameters parameters) {
        double kept = Materials.keptHeight(parameters);
        return context -> run(kept, context);
    }

    private static AnalysisResult run(double kept, AnalysisContext context) {
        TileGrid grid = context.grid();
        FieldSet fields = context.fields();
        Field fraction = fields.get(TileFields.CAVITY_FRACTION);
        Field volume = fields.get(TileFields.CAVITY_VOLUME);
        Field shallow = fields.get(TileFields.CAVITY_DEPTH_MIN);
        Field deep = fields.get(TileFields.CAVITY_DEPTH_MAX);
        Optional<Field> share =
                fields.find(ImprintFields.FILL_SHARE.id()).or(() -> fields.find(ImprintFields.FILL_SHARE_LOCAL.id()));
        TileValues height = new TileValues(ImprintFields.FEATURE_HEIGHT, grid);
        TileValues least = new TileValues(ImprintFields.FEATURE_HEIGHT_MIN, grid);
        TileValues most = new TileValues(ImprintFields.FEATURE_HEIGHT_MAX, grid);
        double meant = 0;
        double stands = 0;
        try (Stage stage = context.progress().stage("features", grid.size(), "tiles")) {
            for (int i = 0; i < grid.size(); i++) {
                stage.advance(1);
                if (!(fraction.at(i) > 0 && volume.at(i) > 0 && shallow.known(i) && deep.known(i))) {
                    continue;
                }
                double filled = 1;
                if (share.isPresent() && share.get().known(i)) {
                    filled = Math.min(1, Math.max(0, share.get().at(i)));
                }
                FilmLevel level = FilmLevel.of(fraction.at(i), volume.at(i), shallow.at(i), deep.at(i), filled);
                height.set(i, kept * level.mean());
                least.set(i, kept * level.least());
                most.set(i, kept * level.most());
                meant += volume.at(i);
                stands += kept * filled * volume.at(i);
            }
        }
        List<Figure> figures = new ArrayList<>();
        if (meant > 0) {
            figures.add(Figure.of(
                    "volume.share", stands / meant, "%", "volume of the features over that of the stamp's cavities"));
            figures.add(
                    Figure.of("kept", kept, "%", "share of their height that drying or curing leaves the features"));
        }
        List<Finding.Warning> warnings = Unfilled.of(fields)
                .map(unfilled -> List.of(new Finding.Warning(
                        "features",
                        "features.unfilled",
                        unfilled.sentence(),
                        Place.Tile.of(grid, unfilled.emptiest()))))
                .orElse(List.of());
        return new AnalysisResult(List.of(height.field(), least.field(), most.field()), figures, List.of(), warnings);
    }
}
