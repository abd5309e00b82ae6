package org.evenstamp.analysis.rheology;

import java.util.Locale;
import org.evenstamp.shared.problem.InputException;

/** How the thickness of a film tied to its substrate follows its volume: all of the change goes into the thickness. */
public final class FilmThickness {
    private FilmThickness() {}

    /** Returns the thickness of a dry film once it holds the volume fraction of solvent, volumes adding: {@code h/(1-phi)}. */
    public static double swollen(double dryMetres, double solventVolumeFraction) {
        return dryMetres / (1 - requireShare("the solvent fraction", solventVolumeFraction));
    }

    /** Returns the thickness of a swollen film once its solvent has left: {@code h (1-phi)}. */
    public static double dried(double swollenMetres, double solventVolumeFraction) {
        return swollenMetres * (1 - requireShare("the solvent fraction", solventVolumeFraction));
    }

    /** Returns the thickness of a liquid film after curing with the given volume shrinkage: {@code h (1-s)}. */
    public static double cured(double liquidMetres, double volumeShrinkage) {
        return liquidMetres * (1 - requireShare("the cure shrinkage", volumeShrinkage));
    }

    private static double requireShare(String name, double share) {
        if (!(share >= 0 && share < 1)) {
            throw new InputException(
                    "rheology.share",
                    "",
                    String.format(Locale.ROOT, "%s is %.6g", name, share),
                    "give a share of at least 0 and less than 1");
        }
        return share;
    }
}
