package org.evenstamp.analysis.film.stamp;

import java.util.List;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameter.Choice;
import org.evenstamp.shared.spi.Parameter.Quantity;
import org.evenstamp.shared.spi.Parameters;

/** What a job says of its stamp, and the {@link Stamp} made of it. */
public final class StampParameters {
    /** Which body the stamp is. */
    public static final Choice KIND = new Choice(
            "stamp.kind",
            List.of("plate", "rigid", "half-space", "bonded-layer", "layer-on-plate"),
            "body of the stamp: a free plate, a rigid body, a body whose back is not felt, a soft layer bonded to a rigid"
                    + " back, or a soft layer on a plate");

    private static final Quantity LAYER_MODULUS = Quantity.optional(
            "stamp.layer.modulus", "MPa", 1e-3, 1e6, "Young's modulus of the soft layer, for the kinds that have one");
    private static final Quantity LAYER_POISSON = Quantity.optional(
            "stamp.layer.poisson", "1", 0, 0.5, "Poisson's ratio of the soft layer, for the kinds that have one");
    /** Thickness of the layer. */
    public static final Quantity LAYER_THICKNESS = Quantity.optional(
            "stamp.layer.thickness", "um", 1e-3, 1e6, "thickness of the soft layer, for the kinds that have one");
    /** Whether the map repeats itself. */
    public static final Choice SURROUND = new Choice(
            "stamp.surround",
            List.of("periodic", "isolated"),
            "whether the map repeats itself on all sides, or nothing is pressed around it");

    private static final Choice TILT = new Choice(
            "stamp.tilt",
            List.of("free", "held"),
            "whether an isolated stamp tilts until the moments balance; a periodic one never does");
    /** Slope along x. */
    public static final Quantity WEDGE_X = Quantity.standard(
            "stamp.wedge-x",
            "urad",
            0,
            -1e5,
            1e5,
            "slope of the stamp against the substrate along x, rising to the right");
    /** Slope along y. */
    public static final Quantity WEDGE_Y = Quantity.standard(
            "stamp.wedge-y", "urad", 0, -1e5, 1e5, "slope of the stamp against the substrate along y, rising upwards");

    private static final Choice CHUCK = new Choice(
            "process.chuck",
            List.of("flat", "soft"),
            "what is behind the substrate: a chuck that holds it flat, or a cushion on which it bends as the stamp does");
    private static final Quantity SUBSTRATE_MODULUS = Quantity.standard(
            "process.substrate-modulus",
            "GPa",
            130,
            1e-6,
            2000,
            "Young's modulus of the substrate on a soft chuck; the default is silicon along <100>");
    private static final Quantity SUBSTRATE_POISSON = Quantity.standard(
            "process.substrate-poisson",
            "1",
            0.28,
            0,
            0.4999,
            "Poisson's ratio of the substrate on a soft chuck; the default is silicon along <100>");

    private StampParameters() {}

    /** Returns all of them. */
    public static List<Parameter> all() {
        return List.of(
                KIND,
                CommonParameters.STAMP_MODULUS,
                CommonParameters.STAMP_POISSON,
                CommonParameters.STAMP_THICKNESS,
                CommonParameters.STAMP_VALID_FROM,
                CommonParameters.STAMP_VALID_TO,
                LAYER_MODULUS,
                LAYER_POISSON,
                LAYER_THICKNESS,
                SURROUND,
                TILT,
                WEDGE_X,
                WEDGE_Y,
                CHUCK,
                SUBSTRATE_MODULUS,
                SUBSTRATE_POISSON,
                CommonParameters.SUBSTRATE_THICKNESS);
    }

    /**
     * Returns the stamp's body as the parameters describe it, with the substrate where that bends too.
     *
     * @throws org.evenstamp.shared.problem.InputException when a soft layer lacks its numbers
     */
    public static Stamp stamp(Parameters p) {
        String kind = p.choice(KIND.id());
        if (kind.equals("bonded-layer") || kind.equals("layer-on-plate")) {
            Problems problems = new Problems();
            for (Quantity needed : List.of(LAYER_MODULUS, LAYER_POISSON, LAYER_THICKNESS)) {
                if (p.find(needed.id()).isEmpty()) {
                    problems.add(
                            "film.layer-missing",
                            needed.id(),
                            "a stamp of the kind " + kind + " needs " + needed.id(),
                            "give it, or choose another stamp.kind");
                }
            }
            problems.throwIfAny();
        }
        Stamp body = body(kind, p);
        return p.choice(CHUCK.id()).equals("flat")
                ? body
                : new Stamp.OnSubstrate(
                        body,
                        new Stamp.Plate(
                                p.quantity(SUBSTRATE_MODULUS.id()),
                                p.quantity(SUBSTRATE_POISSON.id()),
                                p.quantity(CommonParameters.SUBSTRATE_THICKNESS.id())));
    }

    private static Stamp body(String kind, Parameters p) {
        return switch (kind) {
            case "rigid" -> new Stamp.Rigid();
            case "half-space" ->
                new Stamp.HalfSpace(
                        p.quantity(CommonParameters.STAMP_MODULUS.id()),
                        p.quantity(CommonParameters.STAMP_POISSON.id()));
            case "bonded-layer" -> layer(p);
            case "layer-on-plate" -> new Stamp.LayerOnPlate(layer(p), plate(p));
            default -> plate(p);
        };
    }

    private static Stamp.Plate plate(Parameters p) {
        return new Stamp.Plate(
                p.quantity(CommonParameters.STAMP_MODULUS.id()),
                p.quantity(CommonParameters.STAMP_POISSON.id()),
                p.quantity(CommonParameters.STAMP_THICKNESS.id()));
    }

    private static Stamp.BondedLayer layer(Parameters p) {
        return new Stamp.BondedLayer(
                p.quantity(LAYER_MODULUS.id()), p.quantity(LAYER_POISSON.id()), p.quantity(LAYER_THICKNESS.id()));
    }

    /** Returns what lies around the map. */
    public static Surround surround(Parameters p) {
        return p.choice(SURROUND.id()).equals("isolated") ? Surround.ISOLATED : Surround.PERIODIC;
    }

    /** Returns whether the stamp is held against tilting. */
    public static boolean isHeld(Parameters p) {
        return p.choice(TILT.id()).equals("held");
    }
}
