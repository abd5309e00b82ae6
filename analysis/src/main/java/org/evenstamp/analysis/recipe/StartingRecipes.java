package org.evenstamp.analysis.recipe;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.analysis.material.Datum;
import org.evenstamp.analysis.material.FilmLaws;
import org.evenstamp.analysis.material.Material;
import org.evenstamp.analysis.material.MaterialKind;
import org.evenstamp.analysis.material.MaterialLibrary;
import org.evenstamp.analysis.material.Property;
import org.evenstamp.analysis.numeric.Slab;
import org.evenstamp.analysis.process.LineContact;
import org.evenstamp.analysis.rheology.MolarMass;
import org.evenstamp.analysis.rheology.Plasticizer;
import org.evenstamp.analysis.rheology.ShearThinning;
import org.evenstamp.analysis.rheology.SqueezeStress;
import org.evenstamp.analysis.rheology.TemperatureRange;
import org.evenstamp.analysis.rheology.ViscosityLaw;
import org.evenstamp.shared.problem.InputException;

/**
 * Proposes for a layout and a film thickness one recipe of each kind of process.
 *
 * <p>The time comes from the slowest tile: alone, it needs {@code ∫ p/η dt = T/2 (1/(h0-v)² - 1/h0²)} to fill (Stefan), η that
 * under the stress of the squeezing where the film thins, as in the film solve ({@link SqueezeStress}). The
 * pressures are those usual for each kind (common practice, no source); the hold is three times what the slowest tile needs,
 * since viscosities are known to a factor of about 3. Tiles that the film cannot fill alone are left out here; the film solve
 * shows whether their neighbours help.
 */
public final class StartingRecipes {
    /** Middle, on a logarithmic scale, of the range called fastest: 300 to 3000 Pa s (Heyderman and others, 2000, abstract). */
    private static final double WANTED_VISCOSITY = 1000;

    /** The least of that range, for stamps that would else take long. */
    private static final double LEAST_VISCOSITY = 300;

    /** Hold past which shorter chains are advised, s; this tool's choice. */
    private static final double ADVISED_HOLD = 3600;

    /** Pressure past which they are. */
    private static final double ADVISED_PASCALS = 20e6;

    private static final double SAFETY = 3;
    private static final double ROOM_KELVIN = 298.15;
    private static final double ZERO_CELSIUS = 273.15;
    private static final double BELOW_DECOMPOSITION = 20;
    private static final double HOT_PASCALS = 5e6;
    private static final double HOT_STEP_PASCALS = 1e6;
    private static final double HOT_MOST_PASCALS = 40e6;
    private static final double UV_PASCALS = 1e5;
    private static final double SOLVENT_PASCALS = 2e6;
    private static final double MOST_SOLVENT = 0.5;
    private static final double LONG_HOLD = 600;
    private static final double LEAST_HOLD = 1;
    private static final double USUAL_DRYING = 600;
    private static final double LONGER_DRYING = 1.1; // than the slowest place needs
    private static final double ROLLER_DIAMETER = 0.2;
    private static final double COVER_PASCALS = 20e6;
    private static final double COVER_POISSON = 0.49;
    private static final double LINE_FORCE = 1e4;
    private static final double MOST_SPEED = 0.1;
    private static final int HALVINGS = 60;
    private static final int THICKNESSES = 64; // on the way down, evenly in 1/h²

    private final MaterialLibrary library;
    private final double thickness;
    private final double[] volume;
    private final double[] fraction;
    private final double[] moment;
    private final double path;

    /**
     * Takes a layout.
     *
     * @param library the materials
     * @param thickness thickness of the film, m
     * @param volume cavity volume per area of each tile, m
     * @param fraction cavity share of each tile
     * @param moment squeeze moment of each tile, m²
     * @param path longest way under land to a cavity, m: what solvent has to go; 0 where it leaves through the stamp
     */
    public StartingRecipes(
            MaterialLibrary library,
            double thickness,
            double[] volume,
            double[] fraction,
            double[] moment,
            double path) {
        this.path = path;
        this.library = library;
        this.thickness = thickness;
        this.volume = volume.clone();
        this.fraction = fraction.clone();
        this.moment = moment.clone();
    }

    /**
     * Returns a recipe of each kind.
     *
     * @param melt film for the kinds that need a glass temperature
     * @param liquid film for those that cure a liquid
     * @throws InputException when a film lacks a number
     */
    public List<StartingRecipe> of(Material melt, Material liquid) {
        return List.of(hot(melt), uv(liquid), solvent(melt), roller(liquid));
    }

    /** Returns the time, in s, after which every tile that can fill alone has filled at a pressure and a viscosity at rest. */
    private double seconds(double filmThickness, double eta, ShearThinning thinning, double pascals) {
        double most = 0;
        for (int i = 0; i < volume.length; i++) {
            double h = filmThickness - volume[i];
            if (volume[i] > 0 && h > 0) {
                double first = 1 / (filmThickness * filmThickness);
                double last = 1 / (h * h);
                double viscosity = 0;
                for (int n = 0; n < THICKNESSES; n++) {
                    double gap = 1 / Math.sqrt(first + (last - first) * (n + 0.5) / THICKNESSES);
                    double stress = SqueezeStress.pascals(pascals, gap, fraction[i], moment[i]);
                    viscosity += thinning.underStress(eta, stress) / THICKNESSES;
                }
                most = Math.max(most, 0.5 * moment[i] * (last - first) * viscosity / pascals);
            }
        }
        return most;
    }

    /** Returns the lowest temperature at which the melt is as fluid as wanted, within what the law and the film bear. */
    private static double pressKelvin(Material melt, ViscosityLaw law, double wanted) {
        double high = law.valid().mostKelvin();
        high = Math.min(
                high,
                melt.find(Property.DECOMPOSITION_TEMPERATURE)
                        .map(datum -> datum.si() - BELOW_DECOMPOSITION)
                        .orElse(high));
        double low = law.glassKelvin() + 1;
        if (law.pascalSeconds(high) > wanted) {
            return Math.floor(high - ZERO_CELSIUS) + ZERO_CELSIUS;
        }
        for (int i = 0; i < HALVINGS; i++) {
            double middle = 0.5 * (low + high);
            if (law.pascalSeconds(middle) > wanted) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return Math.ceil(high - ZERO_CELSIUS) + ZERO_CELSIUS;
    }

    private static String hold(double seconds) {
        return String.format(Locale.ROOT, "%.0f s", Math.ceil(Math.max(LEAST_HOLD, seconds)));
    }

    private StartingRecipe hot(Material melt) {
        ViscosityLaw law = FilmLaws.of(melt).viscosity();
        ShearThinning thinning = FilmLaws.of(melt).thinning();
        double kelvin = pressKelvin(melt, law, WANTED_VISCOSITY);
        if (SAFETY * seconds(thickness, law.pascalSeconds(kelvin), thinning, HOT_PASCALS) > LONG_HOLD) {
            kelvin = pressKelvin(melt, law, LEAST_VISCOSITY);
        }
        double eta = law.pascalSeconds(kelvin);
        double pascals = HOT_PASCALS;
        while (pascals < HOT_MOST_PASCALS && SAFETY * seconds(thickness, eta, thinning, pascals) > LONG_HOLD) {
            pascals += HOT_STEP_PASCALS;
        }
        double fill = seconds(thickness, eta, thinning, pascals);
        Map<String, String> values = start("hot-press", melt);
        values.put("process.temperature", TemperatureRange.celsius(kelvin));
        values.put("process.pressure", String.format(Locale.ROOT, "%.0f MPa", pascals * 1e-6));
        values.put("process.hold", hold(SAFETY * fill));
        values.put("process.cooling-rate", "20 K/min");
        values.put("release.temperature", TemperatureRange.celsius(law.glassKelvin() - 40));
        StartingRecipe recipe = new StartingRecipe(
                "hot-press",
                values,
                List.of(
                        String.format(
                                Locale.ROOT,
                                "at %s the film has %.3g Pa s; 300 to 3000 Pa s were called fastest (Heyderman and"
                                        + " others, Microelectron. Eng. 54 (2000) 229, abstract)",
                                TemperatureRange.celsius(kelvin),
                                eta),
                        pascals > HOT_PASCALS
                                ? "the pressure is raised to keep the hold near 10 min"
                                : "5 MPa is usual (common practice, no source)",
                        why(fill, seconds(thickness, eta, new ShearThinning.None(), pascals))));
        return pascals > ADVISED_PASCALS || SAFETY * fill > ADVISED_HOLD
                ? recipe.because(shorterChains(melt, eta, thinning))
                : recipe;
    }

    /** Says which molar mass would fill in {@value #LONG_HOLD} s at {@value #HOT_PASCALS} Pa and the same temperature. */
    private String shorterChains(Material melt, double eta, ShearThinning thinning) {
        double low = 0;
        double high = eta;
        for (int i = 0; i < HALVINGS; i++) {
            double middle = 0.5 * (low + high);
            if (SAFETY * seconds(thickness, middle, thinning, HOT_PASCALS) > LONG_HOLD) {
                high = middle;
            } else {
                low = middle;
            }
        }
        String advice = String.format(
                Locale.ROOT,
                "shorter chains serve better than time and pressure: %.0f s at %.0f MPa want a film that is %.3g times as viscous",
                LONG_HOLD,
                HOT_PASCALS * 1e-6,
                low / eta);
        Optional<Double> mass = melt.find(Property.MOLAR_MASS).map(Datum::si);
        Optional<Double> critical = melt.find(Property.CRITICAL_MOLAR_MASS).map(Datum::si);
        if (mass.isEmpty() || critical.isEmpty()) {
            return advice;
        }
        double wanted = mass.get() * Math.pow(low / eta, 1 / MolarMass.ENTANGLED_EXPONENT);
        return wanted > critical.get()
                ? advice + String.format(Locale.ROOT, ", about %.2g kg/mol in place of %.3g", wanted, mass.get())
                : advice
                        + String.format(
                                Locale.ROOT,
                                ", shorter than the %.3g kg/mol from which chains entangle",
                                critical.get());
    }

    private static String why(double fill, double fillAtRest) {
        String thinned = fill < fillAtRest
                ? String.format(Locale.ROOT, " (%.3g s if the film did not thin under the shear)", fillAtRest)
                : "";
        return String.format(
                Locale.ROOT,
                "the slowest tile alone fills in %.3g s%s; three times that, as viscosities are known to a factor 3",
                fill,
                thinned);
    }

    private StartingRecipe uv(Material liquid) {
        double eta = FilmLaws.of(liquid).viscosity().pascalSeconds(ROOM_KELVIN);
        double fill = seconds(thickness, eta, FilmLaws.of(liquid).thinning(), UV_PASCALS);
        Map<String, String> values = start("uv-press", liquid);
        values.put("process.temperature", "25 degC");
        values.put("process.pressure", "0.1 MPa");
        values.put("process.hold", hold(SAFETY * fill));
        values.put("process.irradiance", "50 mW/cm^2");
        values.put("release.temperature", "25 degC");
        return new StartingRecipe(
                "uv-press",
                values,
                List.of(
                        String.format(Locale.ROOT, "the resin has %.3g Pa s: about 1 bar is usual and enough", eta)
                                + " (common practice, no source)",
                        why(fill, seconds(thickness, eta, new ShearThinning.None(), UV_PASCALS)),
                        "irradiance of a common lamp (common practice, no source); the dose is the film's"));
    }

    /** Returns when solvent has left the slowest place far enough for it to set, s; empty where nothing tells how fast it moves. */
    private OptionalDouble drying(Material solvent, Plasticizer fox, double share, double swollen) {
        Optional<Datum> diffusivity = solvent.find(Property.DIFFUSIVITY);
        if (diffusivity.isEmpty()) {
            return OptionalDouble.empty();
        }
        double low = 0;
        double high = share;
        for (int i = 0; i < HALVINGS; i++) {
            double middle = 0.5 * (low + high);
            if (fox.glassKelvin(middle) > ROOM_KELVIN) {
                low = middle;
            } else {
                high = middle;
            }
        }
        double reach = Math.max(path, swollen);
        return OptionalDouble.of(Slab.whenMiddle(Math.max(1e-6, low / share))
                * reach
                * reach
                / diffusivity.get().si());
    }

    private StartingRecipe solvent(Material melt) {
        ViscosityLaw law = FilmLaws.of(melt).viscosity();
        Material solvent = library.get(MaterialKind.SOLVENT, "generic");
        Plasticizer fox = new Plasticizer.Fox(law.glassKelvin(), solvent.si(Property.GLASS_TEMPERATURE));
        double wanted = pressKelvin(melt, law, WANTED_VISCOSITY) - law.glassKelvin();
        double share = 0;
        while (share < MOST_SOLVENT && ROOM_KELVIN - fox.glassKelvin(share) < wanted) {
            share += 0.01;
        }
        double eta = law.pascalSeconds(
                Math.max(law.glassKelvin(), ROOM_KELVIN + law.glassKelvin() - fox.glassKelvin(share)));
        double swollen = thickness / (1 - share);
        double fill = seconds(swollen, eta, FilmLaws.of(melt).thinning(), SOLVENT_PASCALS);
        Map<String, String> values = start("solvent-press", melt);
        values.put("film.solvent", "generic");
        values.put("process.temperature", "25 degC");
        values.put("process.solvent-share", String.format(Locale.ROOT, "%.0f %%", share * 100));
        values.put("process.pressure", "2 MPa");
        values.put("process.hold", hold(SAFETY * fill));
        values.put("process.swell-time", "300 s");
        OptionalDouble needed = drying(solvent, fox, share, swollen);
        double dry = needed.isEmpty() ? USUAL_DRYING : Math.ceil(LONGER_DRYING * needed.getAsDouble() / 60) * 60;
        values.put("process.dry-time", String.format(Locale.ROOT, "%.0f s", dry));
        values.put("release.temperature", "25 degC");
        return new StartingRecipe(
                "solvent-press",
                values,
                List.of(
                        String.format(
                                Locale.ROOT,
                                "with %.0f %% of solvent the glass temperature is %s (Fox), the film has %.3g Pa s at room"
                                        + " temperature; dilution is left out, so real films flow faster",
                                share * 100,
                                TemperatureRange.celsius(fox.glassKelvin(share)),
                                eta),
                        why(fill, seconds(swollen, eta, new ShearThinning.None(), SOLVENT_PASCALS)),
                        needed.isEmpty()
                                ? "times of swelling and drying are assumptions: nothing says how fast the solvent moves"
                                : String.format(
                                        Locale.ROOT,
                                        "solvent leaves the middle of the widest land in %.3g s (Crank's series for a strip); its diffusivity is known"
                                                + " to a factor 10, and dry.time of a run tells where the film is still soft; the time of swelling is an assumption",
                                        needed.getAsDouble())));
    }

    private StartingRecipe roller(Material liquid) {
        double eta = FilmLaws.of(liquid).viscosity().pascalSeconds(ROOM_KELVIN);
        LineContact contact = new LineContact(
                LINE_FORCE,
                ROLLER_DIAMETER / 2,
                LineContact.modulus(COVER_PASCALS, COVER_POISSON, Double.POSITIVE_INFINITY, 0));
        double dwell = SAFETY * seconds(thickness, eta, FilmLaws.of(liquid).thinning(), contact.meanPascals());
        double speed = Math.min(MOST_SPEED, 2 * contact.halfWidthMetres() / dwell);
        Map<String, String> values = start("roller", liquid);
        values.put("process.temperature", "25 degC");
        values.put("process.roller-diameter", "200 mm");
        values.put("process.cover-modulus", "20 MPa");
        values.put("process.line-force", "10 N/mm");
        values.put("process.web-speed", String.format(Locale.ROOT, "%.3g mm/s", speed * 1e3));
        values.put("process.exposure", "10 s");
        values.put("release.temperature", "25 degC");
        return new StartingRecipe(
                "roller",
                values,
                List.of(
                        String.format(
                                Locale.ROOT,
                                "the nip is %.3g mm wide, its pressure %.3g MPa in the mean and %.3g MPa at its peak (Hertz);"
                                        + " roller and force are assumptions",
                                2e3 * contact.halfWidthMetres(),
                                contact.meanPascals() * 1e-6,
                                contact.peakPascals() * 1e-6),
                        String.format(
                                Locale.ROOT,
                                "the slowest tile alone fills in %.3g s; the film is in the nip three times that or, at no"
                                        + " more than 100 mm/s, longer",
                                dwell / SAFETY)));
    }

    private static Map<String, String> start(String kind, Material film) {
        Map<String, String> values = new LinkedHashMap<>();
        values.put("film.material", film.id());
        values.put("process.kind", kind);
        return values;
    }

    /** Returns whether a film is a melt, which a glass temperature makes it. */
    public static boolean isMelt(Material film) {
        return film.find(Property.GLASS_TEMPERATURE).isPresent();
    }
}
