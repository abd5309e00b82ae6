package org.evenstamp.analysis.material;

import java.util.Locale;

/** What a material is used as. */
public enum MaterialKind {
    /** The layer that is imprinted. */
    FILM,
    /** Swells a film in solvent-vapour imprint. */
    SOLVENT,
    /** What the relief is made of. */
    STAMP,
    /** What covers the relief. */
    COATING,
    /** What carries the film. */
    SUBSTRATE;

    /** Returns the word used in files. */
    public String word() {
        return name().toLowerCase(Locale.ROOT);
    }
}
