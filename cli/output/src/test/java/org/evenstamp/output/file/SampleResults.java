package org.evenstamp.output.file;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.evenstamp.analysis.limit.RankedPlace;
import org.evenstamp.analysis.limit.Ranking;
import org.evenstamp.analysis.process.SafetyCautions;
import org.evenstamp.engine.job.JobNode;
import org.evenstamp.engine.result.Results;
import org.evenstamp.geometry.draw.Sketch;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.geometry.tile.Region;
import org.evenstamp.geometry.tile.TileMap;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.Source;
import org.evenstamp.shared.spi.Curve;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Snapshot;

/** Results made up by hand: 3 x 2 tiles, one without a fill time. */
public final class SampleResults {
    /** The grid of the sample. */
    public static final TileGrid GRID = new TileGrid(-1.5e-4, 0, 1e-4, 3, 2);

    private SampleResults() {}

    /** Returns the fields. */
    public static FieldSet fields() {
        return FieldSet.empty(GRID)
                .with(List.of(
                        Field.of(
                                FieldName.of("residual.local", "nm", "thickness of the residual layer"),
                                GRID,
                                new double[] {1e-7, 2e-7, 3e-7, 4e-7, 5e-7, 1e-7 / 3}),
                        Field.of(FieldName.of("fill.time", "s", "time until the tile is filled"), GRID, new double[] {
                            0, 1e-7, Double.NaN, 1234567.891234, -2, 30
                        })));
    }

    /** Returns a state of a field before its last one. */
    private static List<Snapshot> course(Field field) {
        double[] before = {0, Double.NaN, Double.NaN, 1, Double.NaN, 2};
        return List.of(new Snapshot(0.5, Field.of(field.name(), GRID, before)), new Snapshot(20, field));
    }

    /** Returns the results, with one of two limits broken. */
    public static Results results() {
        return results("a.wkt");
    }

    /** The same of a layout file of another name. */
    public static Results results(String layoutFile) {
        FieldSet fields = fields().withRegions(List.of(
                new NamedRegion("optics", 2.5, new double[] {0.5, 1, 0, 0, 0, 0}),
                new NamedRegion(NamedRegion.FEATURES, 1, new double[] {0.25, 0, 0, 0, 1, 0})));
        Limit spread = new Limit("residual.local", Limit.Measure.SPREAD, Limit.Side.AT_MOST, 2e-8);
        Limit each = new Limit(
                "residual.local",
                Limit.Measure.EACH,
                Limit.Side.AT_LEAST,
                5e-8,
                new Source("jobs/sample.yaml", 12, 27));
        Map<String, Long> counts = new LinkedHashMap<>();
        counts.put("features", 51_234L);
        counts.put("skipped: open ring", 3L);
        JobNode.Mark mark = new JobNode.Mark(1, 1);
        JobNode layout = new JobNode.Mapping(
                mark,
                Map.of(
                        "file",
                        new JobNode.Entry(mark, new JobNode.Scalar(mark, layoutFile, JobNode.Scalar.Type.TEXT))));
        return new Results(
                new Results.Provenance(
                        "1.2.3",
                        "sample",
                        new JobNode.Mapping(mark, Map.of("layout", new JobNode.Entry(mark, layout))),
                        List.of(
                                new Results.InputFile("sample.yaml", 345, "cd".repeat(32)),
                                new Results.InputFile(layoutFile, 12, "ab".repeat(32))),
                        SafetyCautions.of("", false)),
                new Results.MeasuredLayout(
                        new TileMap(
                                fields,
                                new MapOptions.Outline(-1.5e-4, 0, 1.5e-4, 2e-4),
                                "given by the job",
                                "solved on every tile",
                                List.of(Figure.of("polygons", 7, "1", "polygons drawn")),
                                List.of(
                                        new Region(null, 0, 0, new double[] {0.5, 1, 0, 0, 0, 0.5}),
                                        new Region(null, 1e-7, 2e-7, new double[] {0.5, 0, 0, 0, 1, 0}),
                                        new Region(Role.DUMMY, 1e-7, 1e-7, new double[] {0, 0, 0, 0, 0.25, 0})),
                                List.of(),
                                List.of()),
                        new Results.ReadCount("wkt-lines", counts, List.of("a.wkt:3:1: open ring")),
                        Sketch.EMPTY),
                fields,
                List.of(new Results.AnalysisPart(
                        "balance",
                        "A balance.",
                        List.of(Figure.of("mean", 2e-7, "nm", "a mean")),
                        List.of(new Curve(
                                "history",
                                "thickness over time",
                                List.of(
                                        new Curve.Column("time", "s", new double[] {0, 0.5}),
                                        new Curve.Column("mean \"h\"", "nm", new double[] {2e-7, 1e-7})))),
                        course(fields.find("fill.time").orElseThrow()))),
                Map.of("stress", "the job does not give film.modulus"),
                new Results.Verdict(
                        List.of(spread, each),
                        List.of(
                                new Finding.LimitBroken(spread, 4e-7, 1, new Place.WholeStamp()),
                                new Finding.LimitBroken(each, 1e-7 / 3, 1, new Place.Tile(2, 1, 1e-4, 1.5e-4))),
                        List.of(spread),
                        new Ranking(
                                3,
                                List.of(
                                        new RankedPlace(
                                                each,
                                                1.5,
                                                1e-7 / 3,
                                                "residual.local",
                                                "",
                                                1,
                                                new Place.Tile(2, 1, 1e-4, 1.5e-4)),
                                        new RankedPlace(
                                                new Limit("fill.time", Limit.Measure.EACH, Limit.Side.AT_MOST, 40),
                                                0.75,
                                                30,
                                                "fill.other",
                                                "fill faster",
                                                2,
                                                new Place.Tile(2, 1, 1e-4, 1.5e-4))))),
                List.of(new Finding.Warning("balance", "balance.thin", "the film is thin", new Place.WholeStamp())));
    }
}
