package org.evenstamp.geometry.tile;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.DoublePredicate;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.evenstamp.geometry.coverage.CoverageSums;
import org.evenstamp.geometry.coverage.Layer;
import org.evenstamp.geometry.coverage.LayerRules;
import org.evenstamp.geometry.coverage.LayeredSums;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.measure.TextureMeasures;
import org.evenstamp.shared.grid.TileGrid;

/**
 * What the sums over the layers say of every tile, in arrays over the grid.
 *
 * <p>Shares are of the tile's area, edge lengths in metres, volumes per area in metres.
 */
final class TileSums {
    private static final int MOST_LEVELS = 12;
    /** A cavity or land that covers less of a tile is rounding of the sums. */
    private static final double SLIVER = 1e-9;
    /** A share of a tile that is rounding of the sums. */
    static final double NOTHING = 1e-9;

    final TileGrid grid;
    /** Share of all cavities, those of textures included. */
    final double[] cavity;
    /** Cavity volume over tile area, m. */
    final double[] volume;
    /** Edge length in the tile, those of textures included, m. */
    final double[] edge;
    /** Side wall area over tile area. */
    final double[] wall;
    /** Edge length of drawn features alone, m. */
    final double[] drawnEdge;
    /** Share of the land that is no texture's. */
    final double[] drawnLand;
    /** Share of the cavities of one depth, by that depth. */
    private final SortedMap<Double, double[]> levels = new TreeMap<>();
    /** What the features of each role cover; empty unless features of several roles are drawn. */
    private final SortedMap<Role, RolePart> roles = new TreeMap<>();
    /** Share of the land on the stamp. */
    private final double[] land;
    /** The textures, in a fixed order. */
    final List<TexturePart> textures = new ArrayList<>();

    /** One texture's part of the map. */
    static final class TexturePart {
        /** Share of every tile that its regions fill. */
        final double[] share;
        /** What it does. */
        final TextureMeasures measures;

        TexturePart(double[] share, TextureMeasures measures) {
            this.share = share;
            this.measures = measures;
        }
    }

    /** One role's part of the map. */
    private static final class RolePart {
        final double[] share;
        double leastDepth = Double.POSITIVE_INFINITY;
        double mostDepth;

        RolePart(int size) {
            share = new double[size];
        }

        void add(double depthMetres, double[] more) {
            leastDepth = Math.min(leastDepth, depthMetres);
            mostDepth = Math.max(mostDepth, depthMetres);
            for (int i = 0; i < share.length; i++) {
                share[i] += more[i];
            }
        }
    }

    /** Largest covered share of a tile before it was cut to 1. */
    double largestShare;

    /**
     * Puts the layers together.
     *
     * @param outlineShare share of each tile that lies on the stamp
     * @param rules what was drawn
     */
    TileSums(TileGrid grid, LayeredSums sums, double[] outlineShare, LayerRules rules) {
        this.grid = grid;
        int size = grid.size();
        cavity = new double[size];
        volume = new double[size];
        edge = new double[size];
        wall = new double[size];
        drawnEdge = new double[size];
        drawnLand = new double[size];
        land = new double[size];
        double pitch = grid.pitchMetres();
        double baseDepth = rules.baseDepthMetres();
        boolean baseIsLand = baseDepth == 0;
        Set<Role> drawnRoles = sums.layers().keySet().stream()
                .map(Layer::role)
                .flatMap(Stream::ofNullable)
                .collect(Collectors.toSet());
        double[] drawn = new double[size];
        for (Map.Entry<Layer, CoverageSums> entry : sums.layers().entrySet()) {
            Layer layer = entry.getKey();
            double[] share = entry.getValue().coverage();
            double[] length = entry.getValue().edgeLength();
            Role role = layer.role();
            if (role != null && drawnRoles.size() > 1) {
                roles.computeIfAbsent(role, key -> new RolePart(size)).add(layer.depthMetres(), share);
            }
            if (rules.standsInLand(layer)) {
                continue;
            }
            switch (layer.kind()) {
                case CAVITY -> addCavity(layer, share, length, drawn, Math.abs(layer.depthMetres() - baseDepth));
                case LAND -> addLand(share, length, drawn, baseDepth);
                case TEXTURED -> addTexture(layer, share, drawn);
                case SEAM -> {
                    for (int i = 0; i < size; i++) {
                        edge[i] -= length[i] * pitch;
                        drawnEdge[i] -= length[i] * pitch;
                        wall[i] -= 2 * layer.depthMetres() * length[i] / pitch;
                    }
                }
                case JOINT -> {
                    for (int i = 0; i < size; i++) {
                        edge[i] -= 2 * length[i] * pitch;
                        drawnEdge[i] -= 2 * length[i] * pitch;
                        wall[i] -= 2 * layer.depthMetres() * length[i] / pitch;
                    }
                }
            }
        }
        for (int i = 0; i < size; i++) {
            largestShare = Math.max(largestShare, drawn[i]);
            double rest = Math.max(0, outlineShare[i] - drawn[i]);
            if (baseIsLand) {
                // What a partial tile has beyond the stamp's rim touches no film and counts as land, as the rim does.
                drawnLand[i] = Math.max(0, 1 - drawn[i]);
            } else {
                cavity[i] += rest;
                level(baseDepth)[i] += rest;
                volume[i] += rest * baseDepth;
            }
            snap(i);
            land[i] = Math.max(0, outlineShare[i] - cavity[i]);
            edge[i] = Math.max(0, edge[i]);
            drawnEdge[i] = Math.max(0, drawnEdge[i]);
            wall[i] = Math.max(0, wall[i]);
        }
        for (int i = 0; i < size; i++) {
            if (cavity[i] == 0 && edge[i] > 0) {
                giveEdgesToCavities(i);
            }
        }
    }

    /** Takes a sliver of cavity or of land, the rounding of an edge that lies on a tile's line, for none. */
    private void snap(int i) {
        if (cavity[i] <= SLIVER) {
            cavity[i] = 0;
            volume[i] = 0;
            levels.values().forEach(share -> share[i] = 0);
        } else if (cavity[i] >= 1 - SLIVER) {
            cavity[i] = 1;
            drawnLand[i] = drawnLand[i] <= SLIVER ? 0 : drawnLand[i];
        }
        if (drawnLand[i] >= 1 - SLIVER) {
            drawnLand[i] = 1;
        }
    }

    /**
     * The edges of a tile without cavity lie on its sides and belong to the cavities of its neighbours, evenly where two have
     * some: so it does not matter which of two tiles owns the line between them.
     */
    private void giveEdgesToCavities(int i) {
        int column = grid.column(i);
        int row = grid.row(i);
        // A tile owns its left and lower side; of the others it has an edge by rounding alone.
        if (!give(i, column > 0 ? i - 1 : -1, row > 0 ? i - grid.columns() : -1)) {
            give(i, column + 1 < grid.columns() ? i + 1 : -1, row + 1 < grid.rows() ? i + grid.columns() : -1);
        }
        edge[i] = 0;
        drawnEdge[i] = 0;
        wall[i] = 0;
    }

    private boolean give(int from, int one, int other) {
        boolean toOne = one >= 0 && cavity[one] > 0;
        boolean toOther = other >= 0 && cavity[other] > 0;
        double part = toOne && toOther ? 0.5 : 1;
        for (int to : new int[] {toOne ? one : -1, toOther ? other : -1}) {
            if (to >= 0) {
                edge[to] += part * edge[from];
                drawnEdge[to] += part * drawnEdge[from];
                wall[to] += part * wall[from];
            }
        }
        return toOne || toOther;
    }

    private void addCavity(Layer layer, double[] share, double[] length, double[] drawn, double wallHeight) {
        double pitch = grid.pitchMetres();
        double[] level = level(layer.depthMetres());
        for (int i = 0; i < share.length; i++) {
            drawn[i] += share[i];
            cavity[i] += share[i];
            level[i] += share[i];
            volume[i] += share[i] * layer.depthMetres();
            edge[i] += length[i] * pitch;
            drawnEdge[i] += length[i] * pitch;
            wall[i] += wallHeight * length[i] / pitch;
        }
    }

    private void addLand(double[] share, double[] length, double[] drawn, double baseDepth) {
        double pitch = grid.pitchMetres();
        for (int i = 0; i < share.length; i++) {
            drawn[i] += share[i];
            drawnLand[i] += share[i];
            edge[i] += length[i] * pitch;
            drawnEdge[i] += length[i] * pitch;
            wall[i] += baseDepth * length[i] / pitch;
        }
    }

    private void addTexture(Layer layer, double[] share, double[] drawn) {
        if (layer.texture() == null) {
            throw new IllegalStateException("a textured layer without a texture");
        }
        TextureMeasures measures = TextureMeasures.of(layer.texture());
        textures.add(new TexturePart(share, measures));
        double[] level = level(layer.depthMetres());
        for (int i = 0; i < share.length; i++) {
            drawn[i] += share[i];
            cavity[i] += share[i] * measures.cavityFraction();
            level[i] += share[i] * measures.cavityFraction();
            volume[i] += share[i] * measures.cavityFraction() * layer.depthMetres();
            edge[i] += share[i] * measures.edgePerArea() * grid.tileAreaSquareMetres();
            wall[i] += share[i] * measures.edgePerArea() * layer.depthMetres();
        }
    }

    private double[] level(double depthMetres) {
        return levels.computeIfAbsent(depthMetres, depth -> new double[grid.size()]);
    }

    /** Returns the depth of the deepest or the shallowest cavity of each tile, m; NaN where there is none. */
    double[] depthMetres(boolean deepest) {
        double[] depth = new double[grid.size()];
        Arrays.fill(depth, Double.NaN);
        levels.forEach((here, share) -> {
            for (int i = 0; i < depth.length; i++) {
                if (share[i] > NOTHING && (deepest || Double.isNaN(depth[i]))) {
                    depth[i] = here; // they come in order of depth
                }
            }
        });
        return depth;
    }

    /**
     * Returns the land, then the cavities by depth, then what each role covers, if features of several roles are drawn. Of
     * more depths than {@value #MOST_LEVELS} those with the smallest areas are put together as the last depth.
     */
    List<Region> regions() {
        List<Region> regions = new ArrayList<>();
        regions.add(new Region(null, 0, 0, land));
        List<Region> cavities = levels.entrySet().stream()
                .map(level -> new Region(null, level.getKey(), level.getKey(), level.getValue()))
                .filter(region -> region.tiles() > 0)
                .toList();
        List<Region> large = cavities.stream()
                .sorted(Comparator.comparingDouble(Region::tiles).reversed())
                .limit(cavities.size() > MOST_LEVELS ? MOST_LEVELS - 1 : MOST_LEVELS)
                .toList();
        List<Region> small =
                cavities.stream().filter(region -> !large.contains(region)).toList();
        cavities.stream().filter(large::contains).forEachOrdered(regions::add);
        if (!small.isEmpty()) {
            double[] shares = new double[grid.size()];
            for (Region region : small) {
                for (int i = 0; i < shares.length; i++) {
                    shares[i] += region.share(i);
                }
            }
            regions.add(new Region(
                    null,
                    small.get(0).leastDepthMetres(),
                    small.get(small.size() - 1).mostDepthMetres(),
                    shares));
        }
        roles.forEach((role, part) -> regions.add(new Region(role, part.leastDepth, part.mostDepth, part.share)));
        return regions;
    }

    /** Returns the share of every tile that cavities of the wanted depths fill. */
    double[] sharesOfDepth(DoublePredicate wanted) {
        double[] shares = new double[grid.size()];
        levels.forEach((depth, level) -> {
            if (wanted.test(depth)) {
                for (int i = 0; i < shares.length; i++) {
                    shares[i] += level[i];
                }
            }
        });
        return shares;
    }

    /** Returns the squeeze moment of a tile's textures, spread over the tile, m². */
    double texturedMoment(int tile) {
        double moment = 0;
        for (TexturePart texture : textures) {
            moment += texture.share[tile] * texture.measures.squeezeMoment();
        }
        return moment;
    }

    /** Returns the share of a tile that textures fill. */
    double texturedShare(int tile) {
        double share = 0;
        for (TexturePart texture : textures) {
            share += texture.share[tile];
        }
        return share;
    }
}
