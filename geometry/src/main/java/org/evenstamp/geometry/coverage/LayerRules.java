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
        Role role = roleOf(traits);
        if (!role.inRelief()) {
            return null;
        }
        Double own = traits.depthMetres();
        double depth = own == null ? depthMetres : own;
        if (traits.texture() != null) {
            return new Layer(Layer.Kind.TEXTURED, depth, traits.texture(), role);
        }
        boolean cavity = role == Role.CAVITY || (role == Role.DUMMY && drawnAreCavities);
        return cavity ? new Layer(Layer.Kind.CAVITY, depth, null, role) : new Layer(Layer.Kind.LAND, 0, null, role);
    }

    /** Returns the role of a polygon: its own, or else that of everything drawn. */
    private Role roleOf(Traits traits) {
        Role own = traits.role();
        if (own != null) {
            return own;
        }
        return drawnAreCavities ? Role.CAVITY : Role.PROTRUSION;
    }

    /** Returns the depth of all that is not drawn; 0 where that is land. */
    public double baseDepthMetres() {
        return drawnAreCavities ? 0 : depthMetres;
    }

    /**
     * Returns whether a layer changes nothing of the relief: where all that is not drawn is land, a protrusion that is left
     * after merging stands in land already.
     */
    public boolean standsInLand(Layer layer) {
        return drawnAreCavities && layer.kind() == Layer.Kind.LAND;
    }
}
