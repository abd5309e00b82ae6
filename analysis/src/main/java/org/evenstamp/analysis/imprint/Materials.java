package org.evenstamp.analysis.imprint;

import java.util.OptionalDouble;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.process.ProcessParameters;
import org.evenstamp.analysis.rheology.FilmThickness;
import org.evenstamp.shared.spi.Parameter.Quantity;
import org.evenstamp.shared.spi.Parameters;

/**
 * The numbers of film, stamp and substrate that several analyses share, each declared once. None has a default but the
 * shrinkage: they scatter between products by more than any table could hide. An analysis that can do without one takes it
 * {@link Quantity#asOptional}.
 */
public final class Materials {
    /** Young's modulus of the solid film. */
    public static final Quantity FILM_MODULUS =
            Quantity.required("film.modulus", "GPa", 1e-6, 1000, "Young's modulus of the solid film");
    /** Poisson's ratio of the solid film. */
    public static final Quantity FILM_POISSON =
            Quantity.required("film.poisson", "1", 0, 0.4999, "Poisson's ratio of the solid film");
    /** Tensile strength of the solid film. */
    public static final Quantity FILM_STRENGTH =
            Quantity.required("film.strength", "MPa", 1e-6, 1e5, "tensile strength of the solid film");
    /** Surface energy of the film. */
    public static final Quantity FILM_SURFACE_ENERGY = Quantity.required(
            "film.surface-energy",
            "mJ/m^2",
            0.1,
            1000,
            "surface energy of the film (surface tension while it is liquid)");
    /** Linear thermal expansion of the solid film. */
    public static final Quantity FILM_EXPANSION =
            Quantity.required("film.expansion", "1/K", 0, 1e-2, "linear thermal expansion of the solid film");
    /** Temperature at which the film becomes solid. */
    public static final Quantity SET_TEMPERATURE = Quantity.required(
            "film.set-temperature",
            "degC",
            -200,
            500,
            "temperature at which the film becomes solid: glass transition, or that of the cure");
    /** Shrinkage by curing. */
    public static final Quantity CURE_SHRINKAGE = Quantity.standard(
            "film.cure-shrinkage",
            "%",
            0,
            0,
            50,
            "loss of volume by curing after the film is solid; 0 for a polymer melt");
    /** Linear thermal expansion of the stamp. */
    public static final Quantity STAMP_EXPANSION =
            Quantity.required("stamp.expansion", "1/K", 0, 1e-2, "linear thermal expansion of the stamp");
    /** Linear thermal expansion of what carries a layer. */
    public static final Quantity BACK_EXPANSION = Quantity.optional(
            "stamp.back-expansion",
            "1/K",
            0,
            1e-2,
            "linear thermal expansion of the rigid back that carries a thin layer: in the plane the stamp expands with it; where left out, with"
                    + " stamp.expansion");
    /** Linear thermal expansion of the substrate. */
    public static final Quantity SUBSTRATE_EXPANSION = Quantity.required(
            "release.substrate-expansion", "1/K", 0, 1e-2, "linear thermal expansion of the substrate");
    /** Plateau modulus of the flowing film. */
    public static final Quantity PLATEAU_MODULUS = Quantity.required(
            "film.plateau-modulus",
            "Pa",
            1,
            1e10,
            "plateau (entanglement) modulus of the film's melt, or of the resin; without it the film's memory of its filling"
                    + " is not told");

    private Materials() {}

    /**
     * Returns the share of its height that film keeps from the end of the flow to release: what is left when the solvent
     * has gone, or when the film has cured. Film is tied to substrate and walls, so all of the volume that goes comes off the
     * height ({@link org.evenstamp.analysis.rheology.FilmThickness}).
     */
    public static double keptHeight(Parameters p) {
        double solvent = ProcessParameters.solventShare(p);
        return solvent > 0 ? FilmThickness.dried(1, solvent) : FilmThickness.cured(1, p.quantity(CURE_SHRINKAGE.id()));
    }

    /** Returns the thickness of the film while it is pressed over its thickness before, 1 unless a solvent swells it. */
    public static double swelling(Parameters p) {
        return FilmThickness.swollen(1, ProcessParameters.solventShare(p));
    }

    /** Returns by how much the stamp expands in its plane, 1/K; empty where nothing says it. */
    public static OptionalDouble expansionInPlane(Parameters p) {
        OptionalDouble back = p.find(BACK_EXPANSION.id());
        return back.isPresent() ? back : p.find(STAMP_EXPANSION.id());
    }

    /** Returns the cooling between setting and release, K; negative when the film is released hotter than it set. */
    public static double cooling(Parameters p) {
        return p.quantity(SET_TEMPERATURE.id()) - p.quantity(CommonParameters.RELEASE_TEMPERATURE.id());
    }
}
