package org.evenstamp.analysis.feature;

import java.util.Locale;
import java.util.Optional;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;

/**
 * The tiles whose cavities are not full, by the film solve, or without one by their own film.
 *
 * @param tiles how many there are
 * @param cavityTiles how many tiles have cavities
 * @param leastShare filled share of the emptiest
 * @param emptiest the first tile with it
 */
public record Unfilled(int tiles, int cavityTiles, double leastShare, int emptiest) {
    /**
     * Share from which a tile counts as full: what lacks of a depth of 200 nm is then 0.2 nm, less than a molecule. Roofs that sagged onto
     * the film lift off ever more slowly, and never quite.
     */
    public static final double FULL_SHARE = 0.999;

    /** Code of the warning that the film solve came to no end: its maps show an earlier time. */
    public static final String INCOMPLETE = "film.incomplete";

    /** Code of the warning that tiles are too wide to tell whether their cavities fill. */
    public static final String UNDECIDED = "film.unfilled-undecided";

    /** Returns those of a run; empty when all are full, or nothing says how full they are. */
    public static Optional<Unfilled> of(FieldSet fields) {
        Optional<Field> share =
                fields.find(ImprintFields.FILL_SHARE.id()).or(() -> fields.find(ImprintFields.FILL_SHARE_LOCAL.id()));
        if (share.isEmpty()) {
            return Optional.empty();
        }
        Field fraction = fields.get(TileFields.CAVITY_FRACTION);
        int tiles = 0;
        int cavityTiles = 0;
        int emptiest = -1;
        for (int i = 0; i < fields.grid().size(); i++) {
            if (fraction.at(i) > 0 && share.get().known(i)) {
                cavityTiles++;
                double here = share.get().at(i);
                tiles += here < FULL_SHARE ? 1 : 0;
                emptiest = emptiest < 0 || here < share.get().at(emptiest) ? i : emptiest;
            }
        }
        return tiles == 0
                ? Optional.empty()
                : Optional.of(new Unfilled(tiles, cavityTiles, share.get().at(emptiest), emptiest));
    }

    /** Returns it as a sentence without a full stop. */
    public String sentence() {
        return String.format(
                Locale.ROOT,
                "not filled: %d of %d tiles with cavities, the emptiest only to %.4g %%",
                tiles,
                cavityTiles,
                100 * leastShare);
    }
}
