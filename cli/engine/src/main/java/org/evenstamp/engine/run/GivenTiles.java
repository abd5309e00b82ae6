package org.evenstamp.engine.run;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.function.UnaryOperator;
import org.evenstamp.engine.job.TileTable;
import org.evenstamp.engine.result.Results;
import org.evenstamp.geometry.draw.Sketch;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.geometry.tile.Region;
import org.evenstamp.geometry.tile.RegionRule;
import org.evenstamp.geometry.tile.TileMap;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.spi.Figure;

/** Makes of a table of tiles what measuring makes of a drawing, as far as it is known. */
final class GivenTiles {
    private GivenTiles() {}

    static Results.MeasuredLayout of(TileTable table, List<RegionRule> rules, UnaryOperator<InputException> placed) {
        TileGrid grid = table.grid();
        MapOptions.Outline stamp = new MapOptions.Outline(
                grid.originXMetres(),
                grid.originYMetres(),
                grid.originXMetres() + grid.columns() * grid.pitchMetres(),
                grid.originYMetres() + grid.rows() * grid.pitchMetres());
        FieldSet fields = FieldSet.empty(grid).with(table.fields());
        Field fraction = fields.get(TileFields.CAVITY_FRACTION);
        double[] cavity = fraction.toArray();
        double[] land = new double[cavity.length];
        Arrays.setAll(land, tile -> 1 - cavity[tile]);
        List<Region> regions = new ArrayList<>(List.of(new Region(null, 0, 0, land)));
        Field deepest = fields.find(TileFields.CAVITY_DEPTH_MAX.id()).orElse(null);
        if (deepest != null && deepest.sorted().length > 0) {
            double[] depths = deepest.sorted();
            regions.add(new Region(null, depths[0], depths[depths.length - 1], cavity));
        }
        double area = grid.tileAreaSquareMetres();
        double volume =
                Arrays.stream(fields.get(TileFields.CAVITY_VOLUME).toArray()).sum();
        List<Figure> figures = List.of(
                Figure.of("cavity.area", Arrays.stream(cavity).sum() * area, "mm^2", "cavity area of the stamp"),
                Figure.of("cavity.volume.total", volume * area, "mm^2 nm", "cavity volume of the stamp"));
        String tiles = "given by " + table.asWritten();
        String structure =
                "given by " + table.asWritten() + ", nothing is drawn: edges, flow paths and widths are not known";
        TileMap map = new TileMap(
                fields.withRegions(named(rules, stamp, grid, cavity, placed)),
                stamp,
                tiles,
                structure,
                figures,
                regions,
                List.of(),
                List.of());
        return new Results.MeasuredLayout(
                map, new Results.ReadCount("table", Map.of("tiles", (long) grid.size()), List.of()), Sketch.EMPTY);
    }

    private static List<NamedRegion> named(
            List<RegionRule> rules,
            MapOptions.Outline stamp,
            TileGrid grid,
            double[] cavity,
            UnaryOperator<InputException> placed) {
        Problems problems = new Problems();
        List<NamedRegion> named = new ArrayList<>();
        for (int i = 0; i < rules.size(); i++) {
            RegionRule rule = rules.get(i);
            String place = "layout.regions row " + (i + 1);
            RegionRule.Where where = rule.where();
            MapOptions.Outline box = where == null ? null : where.box();
            if (where == null || box == null || where.role() != null || where.depthMetres() != null) {
                problems.add(
                        "region.table",
                        place,
                        "of a table of tiles the region " + rule.name() + " can be a box alone: nothing is drawn",
                        "where: {box: {min: [...], max: [...]}}");
                continue;
            }
            double[] shares = new double[grid.size()];
            Arrays.setAll(shares, tile -> box.shareOf(grid, tile, stamp));
            NamedRegion region = new NamedRegion(rule.name(), rule.weight() == null ? 1 : rule.weight(), shares);
            if (Arrays.stream(shares).sum() == 0) {
                problems.add("region.empty", place, "nothing of the region " + rule.name() + " lies on the stamp", "");
            }
            named.add(region);
        }
        if (!named.isEmpty() && named.stream().allMatch(region -> region.weight() == 0)) {
            problems.add(
                    "region.no-weight",
                    "layout.regions",
                    "all regions have the weight 0, so that none would matter",
                    "give at least one of them a positive weight");
        }
        try {
            problems.throwIfAny();
        } catch (InputException e) {
            throw placed.apply(e);
        }
        if (Arrays.stream(cavity).anyMatch(share -> share > 0)) {
            named.add(new NamedRegion(NamedRegion.FEATURES, 1, cavity));
        }
        return named;
    }
}
