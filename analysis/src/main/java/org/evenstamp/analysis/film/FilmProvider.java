package org.evenstamp.analysis.film;

import java.util.List;
import java.util.stream.Stream;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.imprint.Materials;
import org.evenstamp.analysis.process.ProcessParameters;
import org.evenstamp.analysis.rheology.FilmParameters;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameter.Choice;
import org.evenstamp.shared.spi.Parameter.Quantity;
import org.evenstamp.shared.spi.Parameter.Table;
import org.evenstamp.shared.spi.Parameters;
import org.evenstamp.shared.spi.Remedy;

/** Offers the film solve: residual layer, filling and pressure over time under an elastic stamp. */
public final class FilmProvider implements AnalysisProvider {
    /** Residual layer when the pressing ends. */
    public static final FieldName RESIDUAL_FINAL =
            FieldName.of("residual.final", "nm", "residual layer under the protrusions when the pressing ends");

    /** Filled share of the cavities when the pressing ends. */
    public static final FieldName FILL_SHARE =
            FieldName.of("fill.share", "1", "share of the tile's cavity volume that is filled when the pressing ends");

    /** When the cavities became full. */
    public static final FieldName FILL_TIME =
            FieldName.of("fill.time", "s", "time at which the tile's cavities became full, none where they did not");

    /** Largest pressure during the pressing. */
    public static final FieldName PRESSURE_PEAK =
            FieldName.of("pressure.peak", "MPa", "largest mean pressure on the stamp in the tile during the pressing");

    /** Elastic displacement of the stamp. */
    public static final FieldName STAMP_DEFLECTION = FieldName.of(
            "stamp.deflection",
            "nm",
            "elastic displacement of the stamp's face against its mean when the pressing ends");

    /** Largest pressure of a tile with room. */
    public static final FieldName PRESSURE_OPEN = FieldName.of(
            "pressure.open",
            "MPa",
            "highest mean pressure of the film on the stamp at the end of a time step at which the tile's cavities have"
                    + " room");

    /** Largest filling rate. */
    public static final FieldName FILL_RATE = FieldName.of(
            "fill.rate", "nm/s", "largest rate at which the tile's cavities take in film, volume per area and time");

    /** Filling that the stress remembers. */
    public static final FieldName FILL_UNRELAXED = FieldName.of(
            "fill.unrelaxed",
            "nm",
            "volume per area that the tile's cavities took in, as far as the film's stress has not relaxed when the pressing"
                    + " ends");

    /** Largest film flow. */
    public static final FieldName FILM_FLUX = FieldName.of(
            "film.flux",
            "um^2/s",
            "largest flow of film through the tile during the pressing, volume per width and time");

    static final Choice KIND = new Choice(
            "stamp.kind",
            List.of("plate", "rigid", "half-space", "bonded-layer", "layer-on-plate"),
            "body of the stamp: a free plate, a rigid body, a body whose back is not felt, a soft layer bonded to a rigid"
                    + " back, or a soft layer on a plate");
    static final Quantity MODULUS = CommonParameters.STAMP_MODULUS;
    static final Quantity POISSON = CommonParameters.STAMP_POISSON;
    static final Quantity THICKNESS = CommonParameters.STAMP_THICKNESS;
    static final Quantity LAYER_MODULUS = Quantity.optional(
            "stamp.layer.modulus", "MPa", 1e-3, 1e6, "Young's modulus of the soft layer, for the kinds that have one");
    static final Quantity LAYER_POISSON = Quantity.optional(
            "stamp.layer.poisson", "1", 0, 0.5, "Poisson's ratio of the soft layer, for the kinds that have one");
    static final Quantity LAYER_THICKNESS = Quantity.optional(
            "stamp.layer.thickness", "um", 1e-3, 1e6, "thickness of the soft layer, for the kinds that have one");
    /** Whether the map repeats itself. */
    public static final Choice SURROUND = new Choice(
            "stamp.surround",
            List.of("periodic", "isolated"),
            "whether the map repeats itself on all sides, or nothing is pressed around it");

    static final Choice TILT = new Choice(
            "stamp.tilt",
            List.of("free", "held"),
            "whether an isolated stamp tilts until the moments balance; a periodic one never does");
    static final Quantity WEDGE_X = Quantity.standard(
            "stamp.wedge-x",
            "urad",
            0,
            -1e5,
            1e5,
            "slope of the stamp against the substrate along x, rising to the right");
    static final Quantity WEDGE_Y = Quantity.standard(
            "stamp.wedge-y", "urad", 0, -1e5, 1e5, "slope of the stamp against the substrate along y, rising upwards");
    static final Choice MOBILITY = new Choice(
            "film.mobility",
            List.of("mean", "parallel", "series"),
            "how cavities and protrusions of a tile share the film's flow: geometric mean of both bounds, the upper bound"
                    + " (along lines) or the lower one (across lines)");
    static final Quantity BULK_MODULUS = Quantity.standard(
            "film.bulk-modulus",
            "GPa",
            3,
            0.01,
            1000,
            "bulk modulus of the film; the default is the order of polymers (common practice, no source)");
    static final Quantity PLATEAU = Quantity.optional(
            "film.plateau-modulus",
            "Pa",
            1,
            1e10,
            "plateau (entanglement) modulus of the film's melt, or of the resin; without it the film's memory of its filling"
                    + " is not told");
    static final Quantity SURFACE_TENSION = Quantity.optional(
            "film.surface-tension",
            "mN/m",
            0,
            1000,
            "surface tension of a liquid film, which draws it into the cavities; without it there is none");
    static final Quantity CONTACT_ANGLE = Quantity.standard(
            "film.contact-angle",
            "deg",
            0,
            0,
            180,
            "contact angle of a liquid film on the stamp; the default wets it fully (assumption, no source)");
    static final Quantity GAS_PRESSURE = Quantity.optional(
            "process.gas-pressure",
            "kPa",
            0,
            1e5,
            "absolute pressure of the gas sealed into the cavities when the stamp touches; without it there is a vacuum");
    static final Quantity GAS_SOLUBILITY = Quantity.standard(
            "film.gas-solubility",
            "1",
            0,
            0,
            100,
            "volume of gas that a volume of film dissolves at equal gas pressure; the default dissolves none");
    static final Choice EDGE = new Choice(
            "film.edge",
            List.of("closed", "open"),
            "whether film may leave over the rim of an isolated map, at ambient pressure");
    static final Table PARTICLES = new Table(
            "process.particles",
            List.of(
                    Quantity.required("x", "mm", -1e6, 1e6, "x of the particle in the layout"),
                    Quantity.required("y", "mm", -1e6, 1e6, "y of the particle in the layout"),
                    Quantity.required("height", "um", 1e-4, 1e4, "height of the particle, which does not yield")),
            "hard particles between stamp and substrate");
    static final Table SNAPSHOTS = new Table(
            "process.snapshots",
            List.of(Quantity.required("time", "s", 0, 1e9, "time of the snapshot")),
            "times at which residual layer and filling are kept; without any, up to 12 states along the way of the film, fewer"
                    + " on maps of more than 87,000 tiles");

    /** Expansion of the stamp, shared with the analyses of release. */
    static final Quantity STAMP_EXPANSION =
            Quantity.optional("stamp.expansion", "1/K", 0, 1e-2, "linear thermal expansion of the stamp");

    /** Expansion of the substrate, shared with the analyses of release. */
    static final Quantity SUBSTRATE_EXPANSION = Quantity.optional(
            "release.substrate-expansion", "1/K", 0, 1e-2, "linear thermal expansion of the substrate");

    private static final List<Parameter> HOLD_AND_STAMP = List.of(
            CommonParameters.FILM_THICKNESS,
            CommonParameters.FILM_VISCOSITY,
            CommonParameters.PRESSURE,
            CommonParameters.HOLD,
            KIND,
            MODULUS,
            POISSON,
            THICKNESS,
            LAYER_MODULUS,
            LAYER_POISSON,
            LAYER_THICKNESS,
            SURROUND,
            TILT,
            WEDGE_X,
            WEDGE_Y,
            MOBILITY,
            BULK_MODULUS,
            PLATEAU,
            SURFACE_TENSION,
            CONTACT_ANGLE,
            GAS_PRESSURE,
            GAS_SOLUBILITY,
            EDGE,
            PARTICLES,
            SNAPSHOTS);

    private static final List<Parameter> PARAMETERS = Stream.of(
                    HOLD_AND_STAMP,
                    ProcessParameters.all(),
                    FilmParameters.all(),
                    List.<Parameter>of(Materials.CURE_SHRINKAGE, STAMP_EXPANSION, SUBSTRATE_EXPANSION))
            .flatMap(List::stream)
            .toList();

    private static final AnalysisDescription DESCRIPTION = new AnalysisDescription(
            "film",
            "solves the film under an elastic stamp in time: residual layer, filling, pressure",
            PARAMETERS,
            List.of(TileFields.CAVITY_FRACTION, TileFields.CAVITY_VOLUME, TileFields.SQUEEZE_MOMENT),
            List.of(TileFields.CAVITY_WIDTH_MIN, TileFields.PROTRUSION_WIDTH_MIN, TileFields.FILM_COATED),
            List.of(
                    RESIDUAL_FINAL,
                    FILL_SHARE,
                    FILL_TIME,
                    PRESSURE_PEAK,
                    PRESSURE_OPEN,
                    FILL_RATE,
                    FILL_UNRELAXED,
                    STAMP_DEFLECTION,
                    FILM_FLUX),
            List.of(),
            List.of(
                    new Remedy(
                            RESIDUAL_FINAL,
                            "level the cavity volume; too thin: a thicker film; too thick: a thinner film, a longer or hotter"
                                    + " press, or narrower protrusions"),
                    new Remedy(
                            FILL_SHARE,
                            "a longer or hotter press, more pressure, or a thicker film where the film does not suffice"),
                    new Remedy(FILL_TIME, "a hotter press, more pressure, or narrower protrusions"),
                    new Remedy(PRESSURE_PEAK, "press less, keep particles away, or level the cavity volume")));

    @Override
    public AnalysisDescription description() {
        return DESCRIPTION;
    }

    @Override
    public Analysis create(Parameters parameters) {
        Stamp stamp = stamp(parameters);
        Pressing pressing = Pressing.of(parameters);
        return context -> new FilmAnalysis(parameters, stamp, pressing, context).run();
    }

    /**
     * Returns the stamp's body as the parameters describe it.
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
        return switch (kind) {
            case "rigid" -> new Stamp.Rigid();
            case "half-space" -> new Stamp.HalfSpace(p.quantity(MODULUS.id()), p.quantity(POISSON.id()));
            case "bonded-layer" -> layer(p);
            case "layer-on-plate" -> new Stamp.LayerOnPlate(layer(p), plate(p));
            default -> plate(p);
        };
    }

    private static Stamp.Plate plate(Parameters p) {
        return new Stamp.Plate(p.quantity(MODULUS.id()), p.quantity(POISSON.id()), p.quantity(THICKNESS.id()));
    }

    private static Stamp.BondedLayer layer(Parameters p) {
        return new Stamp.BondedLayer(
                p.quantity(LAYER_MODULUS.id()), p.quantity(LAYER_POISSON.id()), p.quantity(LAYER_THICKNESS.id()));
    }
}
