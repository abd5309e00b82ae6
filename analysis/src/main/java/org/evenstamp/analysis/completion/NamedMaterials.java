package org.evenstamp.analysis.completion;

import java.util.Optional;
import org.evenstamp.analysis.material.Material;

/**
 * The materials a job names.
 *
 * @param film what is imprinted
 * @param solvent what swells it
 * @param stamp what the relief is made of
 * @param coating what covers the relief
 * @param substrate what carries the film
 */
public record NamedMaterials(
        Optional<Material> film,
        Optional<Material> solvent,
        Optional<Material> stamp,
        Optional<Material> coating,
        Optional<Material> substrate) {
    /** No material at all. */
    public static final NamedMaterials NONE = new NamedMaterials(
            Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());
}
