package org.evenstamp.engine.job;

import java.util.List;
import org.evenstamp.geometry.read.ReadOptions;
import org.evenstamp.geometry.tile.DieArray;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.geometry.tile.RegionRule;
import org.jspecify.annotations.Nullable;

/**
 * Which layout, and how to read it.
 *
 * @param layers its files; none only where there is a table
 * @param drawn what the drawn polygons are
 * @param outline the stamp's rectangle; null for the bounding box
 * @param repair whether bad features are repaired rather than skipped
 * @param regions what the job says of regions
 * @param array how the layout is stepped over the stamp; null when it stands there once
 * @param table the tiles, where they are given instead of a drawing; null for a drawing
 */
public record LayoutChoice(
        List<LayerChoice> layers,
        MapOptions.Drawn drawn,
        MapOptions.@Nullable Outline outline,
        boolean repair,
        List<RegionRule> regions,
        @Nullable DieArray array,
        @Nullable TileTable table) {
    /** Copies the lists. */
    public LayoutChoice {
        layers = List.copyOf(layers);
        regions = List.copyOf(regions);
    }

    /** Returns whether it is one file of which nothing is said, standing once on the stamp, so that what is added may go into a copy of it. */
    public boolean isSingle() {
        return array == null && layers.size() == 1 && layers.get(0).assigned().equals(ReadOptions.Assigned.NOTHING);
    }

    /** Returns this layout with other files and another outline. */
    public LayoutChoice with(List<LayerChoice> others, MapOptions.Outline rectangle) {
        return new LayoutChoice(others, drawn, rectangle, repair, regions, array, table);
    }
}
