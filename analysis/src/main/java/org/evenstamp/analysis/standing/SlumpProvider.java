package org.evenstamp.analysis.standing;

import java.util.ArrayList;
import java.util.List;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.Materials;
import org.evenstamp.analysis.imprint.Relief;
import org.evenstamp.analysis.imprint.TileValues;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Index;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameters;

/**
 * Height that surface tension takes from the patterns while they wait, from release to the next step.
 *
 * <p>The wave is the narrowest feature with the narrowest gap, on the film's mean thickness: the fastest in the tile.
 */
public final class SlumpProvider implements AnalysisProvider {
    /** Share of height lost. */
    public static final FieldName LOSS =
            FieldName.of("slump.loss", "%", "share of the features' height lost to levelling over the shelf time");
    /** Loss over what is allowed. */
    public static final FieldName INDEX =
            FieldName.of("slump.index", "1", "height lost to levelling over the loss allowed; 1 is the limit");

    private static final Parameter.Quantity VISCOSITY = Parameter.Quantity.required(
            "film.shelf-viscosity", "Pa s", 1e-5, 1e30, "viscosity of the film at the shelf temperature");
    private static final Parameter.Quantity TIME =
            Parameter.Quantity.required("process.shelf-time", "s", 0, 1e10, "time from release to the next step");
    private static final Parameter.Quantity ALLOWED = Parameter.Quantity.required(
            "process.shelf-loss",
            "%",
            0.001,
            100,
            "share of the features' height that may be lost over the shelf time");

    @Override
    public AnalysisDescription description() {
        List<FieldName> needs = new ArrayList<>(Relief.needs());
        needs.add(ImprintFields.RESIDUAL_LOCAL);
        return new AnalysisDescription(
                "slump",
                "Levelling of the patterns by surface tension over a shelf time",
                List.of(Materials.FILM_SURFACE_ENERGY, VISCOSITY, TIME, ALLOWED),
                needs,
                List.of(ImprintFields.RESIDUAL_FINAL),
                List.of(LOSS, INDEX),
                List.of(Index.of(INDEX, "a shorter or cooler wait, a harder film, or wider features")),
                List.of());
    }

    @Override
    public Analysis create(Parameters parameters) {
        return context -> run(parameters, context);
    }

    private static AnalysisResult run(Parameters p, AnalysisContext context) {
        TileGrid grid = context.grid();
        Relief relief = Relief.of(context.fields());
        Field residual = ImprintFields.residual(context.fields());
        double tension = p.quantity(Materials.FILM_SURFACE_ENERGY.id());
        double viscosity = p.quantity(VISCOSITY.id());
        double time = p.quantity(TIME.id());
        double allowed = p.quantity(ALLOWED.id());

        TileValues loss = new TileValues(LOSS, grid);
        TileValues index = new TileValues(INDEX, grid);
        try (Stage stage = context.progress().stage("slump", grid.size(), "tiles")) {
            for (int i = 0; i < grid.size(); i++) {
                stage.advance(1);
                if (relief.featured(i)) {
                    double thickness = Math.max(0, residual.at(i)) + relief.fraction(i) * relief.height(i);
                    double rate = Levelling.rate(tension, viscosity, relief.width(i) + relief.gap(i), thickness);
                    loss.set(i, -Math.expm1(-rate * time));
                    index.set(i, loss.at(i) / allowed);
                }
            }
        }
        List<Figure> figures = new ArrayList<>();
        loss.worst()
                .ifPresent(i -> figures.add(Figure.of("loss.most", loss.at(i), "%", "height lost in the worst tile")));
        return new AnalysisResult(List.of(loss.field(), index.field()), figures, List.of(), List.of());
    }
}
