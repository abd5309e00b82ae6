package org.evenstamp.output.page;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.function.IntToDoubleFunction;
import org.evenstamp.analysis.limit.RankedPlace;
import org.evenstamp.analysis.limit.Ranking;
import org.evenstamp.analysis.process.SafetyCautions;
import org.evenstamp.engine.job.JobNode;
import org.evenstamp.engine.result.Results;
import org.evenstamp.geometry.draw.Sketch;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.geometry.tile.Region;
import org.evenstamp.geometry.tile.TileMap;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.spi.Curve;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Snapshot;

/** Pages made up by hand. */
final class SamplePage {
    /** Texts that would be markup, script or the end of one if a page took them for it. */
    static final String HOSTILE =
            "</script><img src=x onerror=\"window.harmed=1\">'\"\u2028\u2029<!--<script>window.harmed=2//${`&lt;";

    private final TileGrid grid;
    private final List<Field> fields = new ArrayList<>();
    private final List<Limit> limits = new ArrayList<>();
    private final List<Finding.LimitBroken> broken = new ArrayList<>();
    private final List<Sketch.Outline> polygons = new ArrayList<>();
    private final List<Snapshot> snapshots = new ArrayList<>();
    private PageContent.Other other = new PageContent.Other("", FieldSet.empty(new TileGrid(0, 0, 1, 1, 1)));
    private String words = "plain";

    private SamplePage(TileGrid grid) {
        this.grid = grid;
    }

    static SamplePage of(int columns, int rows) {
        return new SamplePage(new TileGrid(-1e-3, 2e-3, 1e-4, columns, rows));
    }

    TileGrid grid() {
        return grid;
    }

    Field field(String id, String unit, IntToDoubleFunction values) {
        double[] all = new double[grid.size()];
        for (int i = 0; i < all.length; i++) {
            all[i] = values.applyAsDouble(i);
        }
        return Field.of(FieldName.of(id, unit, "meaning of " + id + " " + words), grid, all);
    }

    SamplePage with(Field field) {
        fields.add(field);
        return this;
    }

    SamplePage with(Sketch.Outline polygon) {
        polygons.add(polygon);
        return this;
    }

    /** Smooth, small, signed, sparse and constant fields, some with holes. */
    SamplePage withFields(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        return with(field(
                        "residual.final",
                        "nm",
                        i -> 1e-7 * (1 + Math.sin(i * 0.37) * 0.4 + 0.01 * random.nextDouble())))
                .with(field("fill.time", "s", i -> i % 7 == 3 ? Double.NaN : Math.exp(20 * random.nextDouble() - 14)))
                .with(field("volume.surplus", "nm", i -> (random.nextDouble() - 0.5) * 1e-7))
                .with(field("pressure.peak", "MPa", i -> i == 0 ? 7.1234567e6 : 0))
                .with(field("starved.share", "1", i -> 0.25));
    }

    /** Sets a limit on every tile, and has it broken in each of the first tiles. */
    SamplePage withFindings(int count) {
        for (int i = 0; i < count; i++) {
            Limit limit = new Limit("residual.final", Limit.Measure.EACH, Limit.Side.AT_LEAST, (90 + i) * 1e-9);
            limits.add(limit);
            broken.add(new Finding.LimitBroken(limit, 60e-9, 3, Place.Tile.of(grid, i * 5 % grid.size())));
        }
        return this;
    }

    SamplePage withLimitKept() {
        limits.add(new Limit("residual.final", Limit.Measure.EACH, Limit.Side.AT_LEAST, 1e-9));
        return this;
    }

    SamplePage withPolygons(int count) {
        int across = (int) Math.ceil(Math.sqrt(count));
        double width = grid.columns() * grid.pitchMetres() / across;
        double height = grid.rows() * grid.pitchMetres() / across;
        for (int i = 0; i < count; i++) {
            double x = grid.originXMetres() + i % across * width;
            int row = i / across;
            double y = grid.originYMetres() + row * height;
            double r = 0.4 * Math.min(width, height);
            double[] ring = new double[44];
            for (int v = 0; v < 22; v++) {
                ring[2 * v] = x + width / 2 + r * Math.cos(2 * Math.PI * v / 22);
                ring[2 * v + 1] = y + height / 2 + r * Math.sin(2 * Math.PI * v / 22);
            }
            polygons.add(new Sketch.Outline(Sketch.Style.CAVITY, List.of(ring), null, Traits.NONE, i + 2L));
        }
        return this;
    }

    /** One square, drawn as an array of two times three. */
    SamplePage withArray() {
        double x = grid.originXMetres();
        double y = grid.originYMetres();
        polygons.add(new Sketch.Outline(
                Sketch.Style.PROTRUSION,
                List.of(new double[] {x, y, x + 5e-5, y, x + 5e-5, y + 5e-5, x, y + 5e-5}),
                new Repeat(2, 3, 1e-4, 1e-4),
                Traits.NONE,
                0));
        return this;
    }

    SamplePage withSnapshots(double... seconds) {
        for (double time : seconds) {
            snapshots.add(new Snapshot(time, field("residual.final", "nm", i -> 1e-7 * (1 + time) + 1e-10 * i)));
        }
        return this;
    }

    /** Ends the course of a field with the field itself. */
    SamplePage withSnapshotOf(Field field, double seconds) {
        snapshots.add(new Snapshot(seconds, field));
        return this;
    }

    SamplePage withOther(String name, Field field) {
        other = new PageContent.Other(name, FieldSet.empty(field.grid()).with(List.of(field)));
        return this;
    }

    SamplePage withWords(String text) {
        words = text;
        return this;
    }

    PageContent content() {
        JobNode.Mark mark = new JobNode.Mark(1, 1);
        JobNode layout = new JobNode.Mapping(
                mark,
                Map.of(words, new JobNode.Entry(mark, new JobNode.Scalar(mark, words, JobNode.Scalar.Type.TEXT))));
        FieldSet set = FieldSet.empty(grid).with(fields);
        double x = grid.originXMetres();
        double y = grid.originYMetres();
        Map<String, Long> counts = new LinkedHashMap<>();
        counts.put("features", 51_234L);
        counts.put(words, 3L);
        List<Figure> figures = List.of(Figure.of("polygons", 7, "1", words));
        Curve curve = new Curve(
                "history",
                words,
                List.of(
                        new Curve.Column("time", "s", new double[] {0, 0.5, 1, 700}),
                        new Curve.Column("mean " + words, "nm", new double[] {2e-7, 1e-7, 1e-7, 1e-7}),
                        new Curve.Column("pressure", "MPa", new double[] {1e6, 2e6, 2e6, 2e6})));
        double[] half = new double[grid.size()];
        Arrays.fill(half, 0.5);
        Results results = new Results(
                new Results.Provenance(
                        "1.2.3",
                        words,
                        new JobNode.Mapping(mark, Map.of("layout", new JobNode.Entry(mark, layout))),
                        List.of(new Results.InputFile(words, 12, "ab".repeat(32))),
                        SafetyCautions.of("", false)),
                new Results.MeasuredLayout(
                        new TileMap(
                                set,
                                new MapOptions.Outline(
                                        x,
                                        y,
                                        x + grid.columns() * grid.pitchMetres(),
                                        y + grid.rows() * grid.pitchMetres()),
                                words,
                                words,
                                figures,
                                List.of(
                                        new Region(null, 0, 0, half),
                                        new Region(null, 1e-7, 1.5e-7, half),
                                        new Region(Role.DUMMY, 1e-7, 1e-7, half)),
                                List.of(),
                                List.of()),
                        new Results.ReadCount("geojson", counts, List.of(words)),
                        new Sketch(polygons, polygons.size(), polygons.size() + 7L, 0, 0)),
                set,
                List.of(new Results.AnalysisPart("film", words, figures, List.of(curve), snapshots)),
                Map.of("stress", words),
                new Results.Verdict(
                        limits,
                        broken,
                        List.of(),
                        new Ranking(
                                3,
                                List.of(new RankedPlace(
                                        new Limit("residual.final", Limit.Measure.EACH, Limit.Side.AT_LEAST, 90e-9),
                                        0.95,
                                        60e-9,
                                        words,
                                        words,
                                        2,
                                        Place.Tile.of(grid, grid.size() - 1))))),
                List.of(
                        new Finding.Warning("film", "film.thin", words, new Place.WholeStamp()),
                        new Finding.Warning("film", "film.thin", words, Place.Tile.of(grid, grid.size() - 1))));
        return new PageContent(
                results,
                new PageContent.Written(
                        "# " + words + "\nlayout: x\n",
                        1e-7,
                        List.of(new PageContent.UsedParameter("film.thickness", words, true, List.of("film"), words))),
                other.name().isEmpty() ? null : other);
    }
}
