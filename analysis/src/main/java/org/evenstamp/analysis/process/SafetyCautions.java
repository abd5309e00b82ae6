package org.evenstamp.analysis.process;

import java.util.ArrayList;
import java.util.List;
import org.evenstamp.shared.spi.Parameters;

/**
 * What can hurt people in a process, by its kind, and who decides: the makers of the equipment and materials, local codes and
 * trained staff. Common practice, no source; lower explosive limits: ANSI/AARST SGM-SF-2017, reference chart.
 */
public final class SafetyCautions {
    private static final String LOADED =
            "a loaded press stores energy and moves with high force: guards closed, unload before you reach in";
    private static final String UV =
            "UV light harms eyes and skin: shields and interlocks stay in place; uncured resin can sensitise the skin";
    private static final String SHARDS = "a stamp that breaks throws sharp shards: wear eye protection";
    private static final String ETCH = "etch gases and what they leave are toxic and corrosive: purge before you open";
    private static final String DEFER =
            "computed, not tried: the instructions of the makers of equipment and materials, the"
                    + " local codes and trained staff decide, not these numbers";

    private SafetyCautions() {}

    /**
     * Returns the cautions of a job, one sentence each, with what can be computed for it.
     *
     * @param settings values of the job
     * @param etches whether the film is etched afterwards
     */
    public static List<String> of(Parameters settings, boolean etches) {
        List<String> cautions = new ArrayList<>(
                of(settings.findChoice(ProcessParameters.KIND.id()).orElse(""), etches));
        SolventVapour.caution(settings).ifPresent(caution -> cautions.add(1, caution));
        return List.copyOf(cautions);
    }

    /**
     * Returns the cautions, one sentence each.
     *
     * @param kind word of {@link ProcessParameters#KIND}
     * @param etches whether the film is etched afterwards
     */
    public static List<String> of(String kind, boolean etches) {
        List<String> cautions = new ArrayList<>();
        switch (kind) {
            case "hot-press" -> {
                cautions.add(
                        "hot plates and stamps burn, and overheated films give off fumes: let them cool, ventilate");
                cautions.add(LOADED);
            }
            case "uv-press" -> {
                cautions.add(UV);
                cautions.add(LOADED);
            }
            case "solvent-press" -> {
                cautions.add(
                        "solvent vapour is flammable and may be toxic: ventilate, no ignition sources, keep exposure limits; over a"
                                + " film that is swollen it is near saturation, far above the lower explosive limit (by volume of air:"
                                + " acetone 2.6 %, ethyl acetate 2 %, tetrahydrofuran 2 %, methyl ethyl ketone 1.8 %)");
                cautions.add(LOADED);
            }
            case "roller" -> {
                cautions.add("a nip draws in fingers, hair and clothes, and its cover may be hot: guards closed");
                cautions.add(UV);
            }
            default -> cautions.add(LOADED);
        }
        cautions.add(SHARDS);
        if (etches) {
            cautions.add(ETCH);
        }
        cautions.add(DEFER);
        return List.copyOf(cautions);
    }
}
