package org.evenstamp.analysis;

import org.evenstamp.shared.spi.Parameter;

/** Parameters that several analyses share. A shared parameter must be declared alike, so it is declared once, here. */
public final class CommonParameters {
    /** Thickness of the film before the imprint. */
    public static final Parameter.Quantity FILM_THICKNESS =
            Parameter.Quantity.required("film.thickness", "nm", 0.1, 1e6, "thickness of the film before the imprint");

    /** Viscosity of the film while it fills. */
    public static final Parameter.Quantity FILM_VISCOSITY = Parameter.Quantity.required(
            "film.viscosity", "Pa s", 1e-5, 1e13, "viscosity of the film while it fills (zero shear rate)");

    /** Pressure on the back of the stamp. */
    public static final Parameter.Quantity PRESSURE = Parameter.Quantity.required(
            "process.pressure", "MPa", 0, 1000, "mean pressure applied to the back of the stamp");

    /** Time under pressure. */
    public static final Parameter.Quantity HOLD =
            Parameter.Quantity.required("process.hold", "s", 1e-6, 1e7, "time for which the pressure is held");

    private CommonParameters() {}
}
