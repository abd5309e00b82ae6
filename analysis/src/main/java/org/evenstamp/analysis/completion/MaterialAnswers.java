package org.evenstamp.analysis.completion;

import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.material.Datum;
import org.evenstamp.analysis.material.Material;
import org.evenstamp.analysis.material.MaterialKind;
import org.evenstamp.analysis.material.Property;
import org.evenstamp.analysis.process.CureLaw;
import org.evenstamp.analysis.process.FloryHuggins;
import org.evenstamp.analysis.process.ProcessParameters;
import org.evenstamp.analysis.rheology.FilmParameters;

/** Which keys of a job its materials answer. */
public final class MaterialAnswers {
    static final Map<Property, List<String>> FILM = Map.ofEntries(
            Map.entry(Property.GLASS_TEMPERATURE, List.of(FilmParameters.GLASS.id())),
            Map.entry(Property.DECOMPOSITION_TEMPERATURE, List.of(FilmParameters.DECOMPOSITION.id())),
            Map.entry(Property.WLF_C1, List.of(FilmParameters.WLF_C1.id())),
            Map.entry(Property.WLF_C2, List.of(FilmParameters.WLF_C2.id())),
            Map.entry(Property.WLF_REFERENCE, List.of(FilmParameters.WLF_REFERENCE.id())),
            Map.entry(Property.ARRHENIUS_TEMPERATURE, List.of(FilmParameters.ARRHENIUS.id())),
            Map.entry(Property.THINNING_STRESS, List.of(FilmParameters.THINNING_STRESS.id())),
            Map.entry(Property.THINNING_EXPONENT, List.of(FilmParameters.THINNING_EXPONENT.id())),
            Map.entry(Property.THINNING_SHARPNESS, List.of(FilmParameters.THINNING_SHARPNESS.id())),
            Map.entry(Property.DOSE, List.of(ProcessParameters.DOSE.id())),
            Map.entry(Property.CURE_CONVERSION, List.of(CureLaw.AT_DOSE.id())),
            Map.entry(Property.GEL_CONVERSION, List.of(CureLaw.AT_GEL.id())),
            Map.entry(Property.CURE_SHRINKAGE, List.of("film.cure-shrinkage")),
            Map.entry(Property.PLATEAU_MODULUS, List.of("film.plateau-modulus")),
            Map.entry(Property.YOUNG_MODULUS, List.of("film.modulus")),
            Map.entry(Property.POISSON, List.of("film.poisson")),
            Map.entry(Property.EXPANSION, List.of("film.expansion")),
            Map.entry(Property.BULK_MODULUS, List.of("film.bulk-modulus")),
            Map.entry(Property.STRENGTH, List.of("film.strength")),
            Map.entry(Property.SURFACE_ENERGY, List.of("film.surface-energy")));
    static final Map<Property, List<String>> SOLVENT = Map.of(
            Property.GLASS_TEMPERATURE, List.of(FilmParameters.SOLVENT_GLASS.id()),
            Property.EXPLOSIVE_LIMIT, List.of(ProcessParameters.SOLVENT_LIMIT.id()),
            Property.VAPOUR_PRESSURE, List.of(ProcessParameters.SOLVENT_VAPOUR.id()),
            Property.MOLAR_MASS, List.of(ProcessParameters.SOLVENT_MASS.id()),
            Property.DENSITY, List.of(ProcessParameters.SOLVENT_DENSITY.id()),
            Property.CHI, List.of(FloryHuggins.CHI.id()),
            Property.DIFFUSIVITY, List.of("film.solvent-diffusivity"));
    static final String SOLVENT_FACTOR = "film.solvent-diffusivity-factor";
    static final Map<Property, List<String>> STAMP = Map.of(
            Property.YOUNG_MODULUS, List.of("stamp.modulus"),
            Property.POISSON, List.of("stamp.poisson"),
            Property.EXPANSION, List.of("stamp.expansion"),
            Property.STRENGTH, List.of("stamp.strength"),
            Property.ABSORPTION, List.of(Absorption.STAMP.id()),
            Property.THERMAL_DIFFUSIVITY, List.of("stamp.thermal-diffusivity"),
            Property.SURFACE_ENERGY, List.of("release.stamp-energy"));
    static final Map<Property, List<String>> LAYER = Map.of(
            Property.YOUNG_MODULUS, List.of("stamp.layer.modulus"), Property.POISSON, List.of("stamp.layer.poisson"));
    static final Map<Property, List<String>> COATING = Map.of(Property.SURFACE_ENERGY, List.of("release.stamp-energy"));
    static final Map<Property, List<String>> SUBSTRATE = Map.of(
            Property.EXPANSION,
            List.of("release.substrate-expansion"),
            Property.ABSORPTION,
            List.of(Absorption.SUBSTRATE.id()),
            Property.THERMAL_DIFFUSIVITY,
            List.of("process.substrate-thermal-diffusivity"));

    private MaterialAnswers() {}

    /** Returns the keys that a material of a kind may answer. */
    public static Set<String> answeredBy(MaterialKind kind) {
        Set<String> keys = new HashSet<>();
        List<Map<Property, List<String>>> answers = switch (kind) {
            case FILM -> List.of(FILM);
            case SOLVENT -> List.of(SOLVENT);
            case STAMP -> List.of(STAMP, LAYER);
            case COATING -> List.of(COATING);
            case SUBSTRATE -> List.of(SUBSTRATE);
        };
        answers.forEach(answer -> answer.values().forEach(keys::addAll));
        if (kind == MaterialKind.STAMP) {
            keys.add(CommonParameters.STAMP_VALID_FROM.id());
            keys.add(CommonParameters.STAMP_VALID_TO.id());
        }
        if (kind == MaterialKind.SOLVENT) {
            keys.add(SOLVENT_FACTOR);
        }
        if (kind == MaterialKind.FILM) {
            keys.addAll(List.of(
                    CommonParameters.FILM_VISCOSITY.id(),
                    FilmParameters.VISCOSITIES.id(),
                    FilmParameters.VALID_FROM.id(),
                    FilmParameters.VALID_TO.id()));
        }
        return keys;
    }

    /** Returns the factor up and down to which a solvent's diffusivity is known: the root of the largest published over the least. */
    static Optional<Double> factor(Material solvent) {
        return solvent.find(Property.DIFFUSIVITY)
                .flatMap(Datum::spread)
                .map(spread -> Math.sqrt(spread.most() / spread.least()));
    }

    /**
     * Returns what the named materials state of a key: the number that {@link JobCompletion#complete} takes where the job is silent. Of
     * {@code film.viscosity} it is the material's single viscosity, at its own temperature.
     */
    public static Optional<Datum> stated(String key, NamedMaterials materials) {
        if (key.equals(CommonParameters.FILM_VISCOSITY.id())) {
            return materials
                    .film()
                    .filter(film -> film.all(Property.VISCOSITY).size() == 1)
                    .flatMap(film -> film.find(Property.VISCOSITY));
        }
        return stated(key, materials.coating(), COATING)
                .or(() -> stated(key, materials.solvent(), SOLVENT))
                .or(() -> stated(key, materials.stamp(), STAMP))
                .or(() -> stated(key, materials.stamp(), LAYER))
                .or(() -> stated(key, materials.substrate(), SUBSTRATE))
                .or(() -> stated(key, materials.film(), FILM));
    }

    private static Optional<Datum> stated(
            String key, Optional<Material> material, Map<Property, List<String>> answers) {
        return answers.entrySet().stream()
                .filter(answer -> answer.getValue().contains(key))
                .findFirst()
                .flatMap(answer -> material.flatMap(one -> one.find(answer.getKey())));
    }
}
