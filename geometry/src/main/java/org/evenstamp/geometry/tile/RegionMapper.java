package org.evenstamp.geometry.tile;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.evenstamp.geometry.coverage.CoverageSums;
import org.evenstamp.geometry.coverage.Layer;
import org.evenstamp.geometry.coverage.LayeredSums;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.measure.TextureMeasures;
import org.evenstamp.geometry.merge.DrawnRegion;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.Problems;
import org.jspecify.annotations.Nullable;

/**
 * Finds how much of every tile the regions fill: those that are drawn exactly, those that are described from the sums of the
 * layers. Where a box cuts a tile, what else is asked is taken to be spread evenly in it.
 */
final class RegionMapper {
    private static final double SAME_DEPTH = 1e-6;
    private static final double OUTSIDE = 1e-6; // of a region's area
    private static final String KEY = "layout.regions row ";

    private final TileGrid grid;
    private final MapOptions.Outline outline;
    private final LayeredSums layered;
    private final TileSums sums;
    private final List<Finding.Warning> warnings = new ArrayList<>();
    private final Problems problems = new Problems();

    RegionMapper(TileGrid grid, MapOptions.Outline outline, LayeredSums layered, TileSums sums) {
        this.grid = grid;
        this.outline = outline;
        this.layered = layered;
        this.sums = sums;
    }

    /** Returns what a reader must know. */
    List<Finding.Warning> warnings() {
        return warnings;
    }

    /**
     * Returns the regions: those of the rules in their order, others that are drawn by name, and what the features cover.
     *
     * @throws org.evenstamp.shared.problem.InputException when a region has nothing on the stamp, is missing or there twice, or
     *     all have the weight 0
     */
    List<NamedRegion> regions(List<RegionRule> rules, Map<String, DrawnRegion> drawn) {
        Map<String, NamedRegion> regions = new LinkedHashMap<>();
        for (int i = 0; i < rules.size(); i++) {
            RegionRule rule = rules.get(i);
            DrawnRegion shape = drawn.get(rule.name());
            NamedRegion region = ruled(rule, shape, KEY + (i + 1));
            if (region != null) {
                regions.put(region.name(), region);
            }
        }
        drawn.forEach((name, shape) -> {
            if (!regions.containsKey(name)
                    && rules.stream().noneMatch(rule -> rule.name().equals(name))) {
                Double own = shape.weight();
                NamedRegion region = checked(name, own == null ? 1 : own, shape(shape), "layout");
                if (region != null) {
                    regions.put(name, region);
                }
            }
        });
        if (drawn.containsKey(NamedRegion.FEATURES)) {
            problems.add(
                    "region.reserved",
                    "layout",
                    "a region is called " + NamedRegion.FEATURES + ", which is what all features of a layout cover",
                    "give it another name");
        }
        if (!regions.isEmpty() && regions.values().stream().allMatch(region -> region.weight() == 0)) {
            problems.add(
                    "region.no-weight",
                    rules.isEmpty() ? "layout" : KEY.replace(" row ", ""),
                    "all regions have the weight 0, so that none would matter",
                    "give at least one of them a positive weight");
        }
        problems.throwIfAny();
        List<NamedRegion> all = new ArrayList<>(regions.values());
        double[] covered = ofLayers(null, null);
        if (Arrays.stream(covered).anyMatch(share -> share > 0)) {
            all.add(new NamedRegion(NamedRegion.FEATURES, 1, covered));
        }
        return all;
    }

    private @Nullable NamedRegion ruled(RegionRule rule, @Nullable DrawnRegion shape, String place) {
        RegionRule.Where where = rule.where();
        if (where == null) {
            if (shape == null) {
                problems.add(
                        "region.missing",
                        place,
                        "no feature of the layout is a region called " + rule.name(),
                        "draw it with the role region and this name, or say where it is: where: {box: ...}");
                return null;
            }
            Double said = rule.weight() == null ? shape.weight() : rule.weight();
            return checked(rule.name(), said == null ? 1 : said, shape(shape), place);
        }
        if (shape != null) {
            problems.add(
                    "region.twice",
                    place,
                    "the region " + rule.name() + " is drawn in the layout and described in the job",
                    "leave out where, or give one of the two another name");
            return null;
        }
        double[] shares = where.role() == null && where.depthMetres() == null
                ? box(outline.minX(), outline.minY(), outline.maxX(), outline.maxY())
                : where.role() == null
                        ? sums.sharesOfDepth(depth -> same(depth, where.depthMetres()))
                        : ofLayers(where.role(), where.depthMetres());
        MapOptions.Outline box = where.box();
        if (box != null) {
            double[] inside = box(
                    Math.max(box.minX(), outline.minX()),
                    Math.max(box.minY(), outline.minY()),
                    Math.min(box.maxX(), outline.maxX()),
                    Math.min(box.maxY(), outline.maxY()));
            boolean alone = where.role() == null && where.depthMetres() == null;
            for (int i = 0; i < shares.length; i++) {
                shares[i] = alone ? inside[i] : shares[i] * inside[i];
            }
        }
        return checked(rule.name(), rule.weight() == null ? 1 : rule.weight(), shares, place);
    }

    private static boolean same(double depth, @Nullable Double wanted) {
        return wanted == null || Math.abs(depth - wanted) <= SAME_DEPTH * wanted;
    }

    private @Nullable NamedRegion checked(String name, double weight, double[] shares, String place) {
        NamedRegion region = new NamedRegion(name, weight, shares);
        for (int i = 0; i < grid.size(); i++) {
            if (region.meets(i)) {
                return region;
            }
        }
        problems.add(
                "region.empty",
                place,
                "nothing of the region " + name + " lies on the stamp",
                String.format(
                        Locale.ROOT,
                        "the stamp reaches from x %.6g to %.6g mm and from y %.6g to %.6g mm",
                        outline.minX() * 1e3,
                        outline.maxX() * 1e3,
                        outline.minY() * 1e3,
                        outline.maxY() * 1e3));
        return null;
    }

    private double[] shape(DrawnRegion shape) {
        CoverageSums coverage = empty();
        shape.within(outline.minX(), outline.minY(), outline.maxX(), outline.maxY())
                .forEach(coverage::add);
        double[] shares = limited(coverage.coverage());
        double inside = Arrays.stream(shares).sum() * grid.tileAreaSquareMetres();
        double whole = shape.areaSquareMetres();
        if (inside > 0 && whole - inside > OUTSIDE * whole) {
            warnings.add(new Finding.Warning(
                    "tile-map",
                    "region.outside",
                    String.format(
                            Locale.ROOT,
                            "%.3g %% of the region %s lies beyond the stamp's rim and does not count",
                            100 * (1 - inside / whole),
                            shape.name()),
                    new Place.WholeStamp()));
        }
        return shares;
    }

    private double[] box(double minX, double minY, double maxX, double maxY) {
        CoverageSums coverage = empty();
        if (maxX > minX && maxY > minY) {
            PackedPolygon rectangle = new PackedPolygon();
            double[] corners = {minX, minY, maxX, minY, maxX, maxY, minX, maxY};
            System.arraycopy(corners, 0, rectangle.xy, 0, corners.length);
            rectangle.endRing(corners.length / 2);
            coverage.add(rectangle);
        }
        return limited(coverage.coverage());
    }

    private CoverageSums empty() {
        return new CoverageSums(
                grid.columns(), grid.rows(), grid.originXMetres(), grid.originYMetres(), grid.pitchMetres());
    }

    /** Returns what features cover: of one role, or of all that are no dummies; of one depth, or of any. */
    private double[] ofLayers(@Nullable Role role, @Nullable Double depth) {
        double[] shares = new double[grid.size()];
        for (Map.Entry<Layer, CoverageSums> entry : layered.layers().entrySet()) {
            Layer layer = entry.getKey();
            boolean wanted = !layer.isEdges()
                    && (role == null ? layer.role() != Role.DUMMY : layer.role() == role)
                    && (depth == null || (layer.depthMetres() > 0 && same(layer.depthMetres(), depth)));
            if (wanted) {
                double filled = depth != null && layer.texture() != null
                        ? TextureMeasures.of(layer.texture()).cavityFraction()
                        : 1;
                double[] cover = entry.getValue().coverage();
                for (int i = 0; i < shares.length; i++) {
                    shares[i] += filled * cover[i];
                }
            }
        }
        return limited(shares);
    }

    private static double[] limited(double[] shares) {
        for (int i = 0; i < shares.length; i++) {
            shares[i] = shares[i] <= TileSums.NOTHING ? 0 : Math.min(1, shares[i]);
        }
        return shares;
    }
}
