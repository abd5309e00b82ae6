package org.evenstamp.engine.job;

import java.util.List;
import org.evenstamp.analysis.pipeline.FoundAnalysis;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Curve;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameters;

/** An analysis for tests with a parameter of every kind: gives film left in a tile, knows nothing where that is odd. */
public final class SampleAnalysis implements AnalysisProvider {
    /** What it gives. */
    public static final FieldName LEFT = FieldName.of("film.left", "nm", "film left in the tile");

    static final Parameter.Quantity THICKNESS =
            Parameter.Quantity.required("film.thickness", "nm", 0.1, 1e6, "thickness of the film");
    static final Parameter.Quantity SHARE = Parameter.Quantity.standard("film.share", "1", 0.5, 0, 1, "a pure number");
    static final Parameter.Quantity HEAT =
            Parameter.Quantity.optional("process.temperature", "degC", -50, 400, "temperature of the film");
    static final Parameter.Choice KIND =
            new Parameter.Choice("film.kind", List.of("thermal", "liquid"), "what kind of film it is");
    static final Parameter.Table STEPS = new Parameter.Table(
            "process.steps",
            List.of(
                    Parameter.Quantity.required("time", "s", 0, 1e4, "when"),
                    Parameter.Quantity.standard("pressure", "MPa", 1, 0, 100, "how hard")),
            "steps of the process");

    /** Returns a pipeline of this analysis alone. */
    public static Pipeline pipeline() {
        return new Pipeline(List.of(FoundAnalysis.of(new SampleAnalysis(), "test")));
    }

    @Override
    public AnalysisDescription description() {
        return new AnalysisDescription(
                "sample",
                "A sample.",
                List.of(THICKNESS, SHARE, HEAT, KIND, STEPS),
                List.of(TileFields.CAVITY_VOLUME),
                List.of(),
                List.of(LEFT));
    }

    @Override
    public Analysis create(Parameters parameters) {
        return context -> {
            double[] left = new double[context.grid().size()];
            for (int i = 0; i < left.length; i++) {
                left[i] = parameters.quantity("film.thickness")
                        - context.fields().get(TileFields.CAVITY_VOLUME).at(i);
            }
            return new AnalysisResult(
                    List.of(Field.of(LEFT, context.grid(), left)),
                    List.of(Figure.of("steps", parameters.table("process.steps").size(), "1", "number of steps")),
                    List.of(new Curve(
                            "ramp",
                            "a ramp",
                            List.of(
                                    new Curve.Column("time", "s", new double[] {0, 1}),
                                    new Curve.Column("height", "nm", new double[] {0, 1e-8})))),
                    List.of(new Finding.Warning("sample", "sample.care", "take care", new Place.WholeStamp())));
        };
    }
}
