package org.evenstamp.geometry.read;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.UnaryOperator;
import java.util.stream.Stream;
import org.evenstamp.geometry.clean.Defect;

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

    /** Returns the report of this part of a file and of the one that follows it. */
    public ReadReport plus(ReadReport next) {
        return new ReadReport(
                format,
                compression,
                fileBytes,
                bytes + next.bytes,
                Math.max(lines, next.lines),
                new Features(
                        features.accepted + next.features.accepted,
                        features.partly + next.features.partly,
                        features.skipped + next.features.skipped,
                        features.withoutArea + next.features.withoutArea),
                polygons + next.polygons,
                vertices + next.vertices,
                joined(skipped, next.skipped),
                joined(repaired, next.repaired),
                joined(ignored, next.ignored),
                joined(unused, next.unused),
                srids + next.srids,
                metresPerUnit);
    }

    /** Returns this report with its places named otherwise. */
    public ReadReport withPlaces(UnaryOperator<String> names) {
        return new ReadReport(
                format,
                compression,
                fileBytes,
                bytes,
                lines,
                features,
                polygons,
                vertices,
                named(skipped, names),
                named(repaired, names),
                ignored,
                unused,
                srids,
                metresPerUnit);
    }

    private static List<Tally> named(List<Tally> tallies, UnaryOperator<String> names) {
        return tallies.stream()
                .map(tally -> new Tally(
                        tally.code,
                        tally.meaning,
                        tally.count,
                        tally.places.stream().map(names).toList()))
                .toList();
    }

    /** Tallies come in the order of the catalogue. */
    private static List<Tally> joined(List<Tally> one, List<Tally> other) {
        List<Tally> all = new ArrayList<>();
        for (Defect defect : Defect.values()) {
            List<Tally> its = Stream.concat(one.stream(), other.stream())
                    .filter(tally -> tally.code.equals(defect.code()))
                    .toList();
            if (!its.isEmpty()) {
                all.add(new Tally(
                        defect.code(),
                        defect.meaning(),
                        its.stream().mapToLong(Tally::count).sum(),
                        its.stream()
                                .flatMap(tally -> tally.places.stream())
                                .limit(PLACES_KEPT)
                                .toList()));
            }
        }
        return all;
    }

    private static Map<String, Long> joined(Map<String, Long> one, Map<String, Long> other) {
        Map<String, Long> all = new TreeMap<>(one);
        other.forEach((name, count) -> all.merge(name, count, Long::sum));
        return all;
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
