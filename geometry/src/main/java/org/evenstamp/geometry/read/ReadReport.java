package org.evenstamp.geometry.read;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/**
 * What one complete pass through a layout file met. Every feature is in exactly one of the four counts of {@link Features}.
 *
 * @param format the format
 * @param compression how the file is packed
 * @param fileBytes size of the file
 * @param bytes size of the text in it, without what stands before the first feature
 * @param lines lines of the text
 * @param features what became of the features
 * @param polygons polygons handed over
 * @param vertices their vertices
 * @param skipped what was left out, by defect, in the order of the catalogue; polygons, or features for wrong properties
 * @param repaired polygons that were mended, by defect
 * @param ignored geometries that enclose no area, by kind, counted
 * @param unused properties of features that mean nothing to a layout, by name: features that carry them. For a table its columns
 * @param srids reference system numbers in front of geometries, ignored: coordinates are planar
 * @param metresPerUnit length of one unit of the file's coordinates
 */
public record ReadReport(
        LayoutFormat format,
        Compression compression,
        long fileBytes,
        long bytes,
        long lines,
        Features features,
        long polygons,
        long vertices,
        List<Tally> skipped,
        List<Tally> repaired,
        Map<String, Long> ignored,
        Map<String, Long> unused,
        long srids,
        double metresPerUnit) {

    /** Of each tally at most this many places are kept, the first ones. */
    public static final int PLACES_KEPT = 20;

    /** Copies the collections. */
    public ReadReport {
        skipped = List.copyOf(skipped);
        repaired = List.copyOf(repaired);
        unused = java.util.Collections.unmodifiableMap(new TreeMap<>(unused));
        ignored = java.util.Collections.unmodifiableMap(new TreeMap<>(ignored));
    }

    /**
     * The features of a file, each counted once.
     *
     * @param accepted all that they drew was handed over, mended or not
     * @param partly some of what they drew was handed over, some skipped
     * @param skipped nothing was handed over, something was skipped
     * @param withoutArea nothing but points, lines or no geometry
     */
    public record Features(long accepted, long partly, long skipped, long withoutArea) {
        /** Returns the number of features in the file. */
        public long total() {
            return accepted + partly + skipped + withoutArea;
        }
    }

    /**
     * How often something happened and where first.
     *
     * @param code catalogued code, such as {@code layout.open-ring}
     * @param meaning a few words for a person
     * @param count how often
     * @param places the first {@value ReadReport#PLACES_KEPT} places as {@code file:line:column}, in file order
     */
    public record Tally(String code, String meaning, long count, List<String> places) {
        /** Copies the list. */
        public Tally {
            places = List.copyOf(places);
        }
    }
}
