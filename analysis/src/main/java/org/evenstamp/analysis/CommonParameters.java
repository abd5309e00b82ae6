package org.evenstamp.analysis;

import java.util.List;
import org.evenstamp.shared.spi.Parameter;

/** Parameters that several analyses share. A shared parameter must be declared alike, so it is declared once, here. */
public final class CommonParameters {
    /** Thickness of the film before the imprint. */
    public static final Parameter.Quantity FILM_THICKNESS = Parameter.Quantity.required(
            "film.thickness",
            "nm",
            2,
            1e6,
            "thickness of the film before the imprint; not below the radius of gyration of its chains where their molar mass is known, nor below"
                    + " 2 nm");

    /** Viscosity of the film while it fills. */
    public static final Parameter.Quantity FILM_VISCOSITY = Parameter.Quantity.required(
            "film.viscosity", "Pa s", 1e-5, 1e13, "viscosity of the film while it fills (zero shear rate)");

    /** Pressure on the back of the stamp. */
    public static final Parameter.Quantity PRESSURE = Parameter.Quantity.required(
            "process.pressure", "MPa", 0, 1000, "mean pressure applied to the back of the stamp");

    /** Time under pressure. */
    public static final Parameter.Quantity HOLD =
            Parameter.Quantity.required("process.hold", "s", 1e-6, 1e7, "time for which the pressure is held");

    /** Particles that the film solve presses against. */
    public static final Parameter.Table PARTICLES = new Parameter.Table(
            "process.particles",
            List.of(
                    Parameter.Quantity.required("x", "mm", -1e6, 1e6, "x of the particle in the layout"),
                    Parameter.Quantity.required("y", "mm", -1e6, 1e6, "y of the particle in the layout"),
                    Parameter.Quantity.required(
                            "height", "um", 1e-4, 1e4, "height of the particle, which does not yield")),
            "hard particles between stamp and substrate");

    /** Young's modulus of the stamp. */
    public static final Parameter.Quantity STAMP_MODULUS = Parameter.Quantity.standard(
            "stamp.modulus",
            "GPa",
            130,
            1e-6,
            2000,
            "Young's modulus of the stamp; the default is silicon along <100> (Hopcroft, Nix, Kenny, J. MEMS 19 (2010) 229,"
                    + " warn that it may differ by up to 45 % with direction)");

    /** Poisson's ratio of the stamp. */
    public static final Parameter.Quantity STAMP_POISSON = Parameter.Quantity.standard(
            "stamp.poisson", "1", 0.28, 0, 0.4999, "Poisson's ratio of the stamp; the default is silicon along <100>");

    /** Lowest temperature of the stamp's numbers. */
    public static final Parameter.Quantity STAMP_VALID_FROM = Parameter.Quantity.optional(
            "stamp.valid-from", "degC", -273.15, 1000, "lowest temperature for which the stamp's modulus holds");

    /** Highest temperature of the stamp's numbers. */
    public static final Parameter.Quantity STAMP_VALID_TO = Parameter.Quantity.optional(
            "stamp.valid-to", "degC", -273.15, 1000, "highest temperature for which the stamp's modulus holds");

    /** Thickness of the stamp. */
    public static final Parameter.Quantity STAMP_THICKNESS = Parameter.Quantity.standard(
            "stamp.thickness",
            "um",
            525,
            0.1,
            1e6,
            "thickness of the stamp's plate; the default is that of a 100 mm wafer (common practice, no source)");

    /** Thickness of the substrate. */
    public static final Parameter.Quantity SUBSTRATE_THICKNESS = Parameter.Quantity.standard(
            "process.substrate-thickness",
            "um",
            525,
            0.1,
            1e6,
            "thickness of the substrate, on a soft chuck and in the way of light and heat; the default is that of a 100 mm wafer (common practice,"
                    + " no source)");

    /** Temperature at which stamp and film part. */
    public static final Parameter.Quantity RELEASE_TEMPERATURE = Parameter.Quantity.required(
            "release.temperature",
            "degC",
            -200,
            500,
            "temperature at which the pressure is off and the stamp comes off");

    private CommonParameters() {}
}
