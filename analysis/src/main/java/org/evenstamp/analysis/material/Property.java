package org.evenstamp.analysis.material;

import java.util.Locale;
import org.evenstamp.shared.unit.Unit;

/** A property a material may have. All are positive. */
public enum Property {
    /** Glass temperature; below it a film does not flow. */
    GLASS_TEMPERATURE("degC"),
    /** Temperature above which a film breaks down. */
    DECOMPOSITION_TEMPERATURE("degC"),
    /** Weight-average molar mass. */
    MOLAR_MASS("kg/mol"),
    /** Molar mass above which chains entangle and the viscosity grows with its power 3.4. */
    CRITICAL_MOLAR_MASS("kg/mol"),
    /** Zero-shear viscosity at a stated temperature; several make a table. */
    VISCOSITY("Pa s"),
    /** First WLF constant, base 10. */
    WLF_C1("1"),
    /** Second WLF constant. */
    WLF_C2("K"),
    /** Reference temperature of the WLF constants. */
    WLF_REFERENCE("degC"),
    /** Activation energy over the gas constant. */
    ARRHENIUS_TEMPERATURE("K"),
    /** Critical stress of shear thinning. */
    THINNING_STRESS("Pa"),
    /** Power-law exponent of the stress at high shear rates. */
    THINNING_EXPONENT("1"),
    /** Carreau-Yasuda sharpness; without it thinning is after Cross. */
    THINNING_SHARPNESS("1"),
    /** Rubber plateau modulus of a melt. */
    PLATEAU_MODULUS("MPa"),
    /** Molar mass between entanglements. */
    ENTANGLEMENT_MOLAR_MASS("kg/mol"),
    /** Young's modulus. */
    YOUNG_MODULUS("GPa"),
    /** Poisson's number. */
    POISSON("1"),
    /** Linear thermal expansion. */
    EXPANSION("1/K"),
    /** Volume thermal expansion of a liquid. */
    VOLUME_EXPANSION("1/K"),
    /** Bulk modulus of a film. */
    BULK_MODULUS("GPa"),
    /** Mass per volume. */
    DENSITY("kg/m^3"),
    /** Tensile strength. */
    STRENGTH("MPa"),
    /** Surface energy. */
    SURFACE_ENERGY("mJ/m^2"),
    /** Lower explosive limit of a vapour, by volume of air. */
    EXPLOSIVE_LIMIT("%"),
    /** Vapour pressure. */
    VAPOUR_PRESSURE("kPa"),
    /** Diffusivity of heat. */
    THERMAL_DIFFUSIVITY("mm^2/s"),
    /** Diffusivity of a solvent in a film that it swells. */
    DIFFUSIVITY("um^2/s"),
    /** Interaction parameter of a solvent and its film, after Flory and Huggins. */
    CHI("1"),
    /** Volume lost on curing. */
    CURE_SHRINKAGE("%"),
    /** Absorption of the light that cures, natural logarithm, at 365 nm unless the source says otherwise. */
    ABSORPTION("1/cm"),
    /** Share of the double bonds that have reacted after the dose a film needs. */
    CURE_CONVERSION("%"),
    /** Share of the double bonds that have reacted when a film gels. */
    GEL_CONVERSION("%"),
    /** UV dose a film needs. */
    DOSE("mJ/cm^2");

    private final String symbol;

    Property(String symbol) {
        this.symbol = symbol;
    }

    /** Returns the unit it is shown in; values may be written in any unit of that dimension. */
    public Unit unit() {
        return Unit.parse(symbol);
    }

    /** Returns the word used in files, such as {@code glass-temperature}. */
    public String word() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
