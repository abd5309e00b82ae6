package org.evenstamp.geometry.coverage;

import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Traits;
import org.jspecify.annotations.Nullable;

/**
 * Decides what a drawn polygon is.
 *
 * @param drawnAreCavities whether a feature that says nothing of its role is a cavity (else a protrusion)
 * @param depthMetres depth of a cavity that says nothing of its depth
 */
public record LayerRules(boolean drawnAreCavities, double depthMetres) {

    /** Returns the layer of a polygon, or null when it has no part in the relief. */
    public @Nullable Layer layerOf(Traits traits) {
        Role role = traits.role();
        if (role == Role.KEEPOUT) {
            return null;
        }
        Double own = traits.depthMetres();
        double depth = own == null ? depthMetres : own;
        if (traits.texture() != null) {
            return new Layer(Layer.Kind.TEXTURED, depth, traits.texture());
        }
        boolean cavity = role == Role.CAVITY || (role != Role.PROTRUSION && drawnAreCavities);
        return cavity ? new Layer(Layer.Kind.CAVITY, depth, null) : new Layer(Layer.Kind.LAND, 0, null);
    }

    /**
     * Returns the layer to sum a polygon in, or null when it changes nothing: where all that is not drawn is land, a
     * protrusion that is left after merging stands in land already.
     */
    public @Nullable Layer summedLayerOf(Traits traits) {
        Layer layer = layerOf(traits);
        return drawnAreCavities && layer != null && layer.kind() == Layer.Kind.LAND ? null : layer;
    }
}
