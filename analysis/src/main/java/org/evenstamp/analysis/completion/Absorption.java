package org.evenstamp.analysis.completion;

import java.util.Map;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.process.LightPath;
import org.evenstamp.shared.spi.Parameter.Quantity;

/**
 * What stamp and substrate take of the light, by Beer and Lambert: {@code exp(-absorption thickness)}. Reflection at their faces is left out, about 4 %
 * each for glass in air (Fresnel at normal incidence, index 1.475).
 */
public final class Absorption {
    /** Absorption of the stamp. */
    public static final Quantity STAMP = Quantity.optional(
            "stamp.absorption",
            "1/cm",
            0,
            1e9,
            "absorption of the stamp at the lamp's wavelength, natural logarithm; with its thickness it answers stamp.transmission");
    /** Absorption of the substrate. */
    public static final Quantity SUBSTRATE = Quantity.optional(
            "process.substrate-absorption",
            "1/cm",
            0,
            1e9,
            "absorption of the substrate at the lamp's wavelength, natural logarithm; with its thickness it answers"
                    + " process.substrate-transmission");

    private Absorption() {}

    /**
     * Adds the transmissions that a job does not give and its absorptions tell. A bonded layer counts with its own thickness: what carries it is
     * counted as clear, since nothing is known of it.
     */
    static void complete(Map<String, Double> numbers, Map<String, String> words) {
        boolean layer = "bonded-layer".equals(words.get("stamp.kind"));
        Double thickness = layer
                ? numbers.get("stamp.layer.thickness")
                : Double.valueOf(thickness(numbers, CommonParameters.STAMP_THICKNESS));
        Double stamp = numbers.get(STAMP.id());
        if (stamp != null && thickness != null) {
            numbers.putIfAbsent(LightPath.STAMP_TRANSMISSION.id(), Math.exp(-stamp * thickness));
        }
        Double substrate = numbers.get(SUBSTRATE.id());
        if (substrate != null) {
            numbers.putIfAbsent(
                    LightPath.SUBSTRATE_TRANSMISSION.id(),
                    Math.exp(-substrate * thickness(numbers, CommonParameters.SUBSTRATE_THICKNESS)));
        }
    }

    private static double thickness(Map<String, Double> numbers, Quantity quantity) {
        return numbers.getOrDefault(
                quantity.id(), quantity.unit().toSi(quantity.standard().orElseThrow()));
    }
}
