package org.evenstamp.engine.run;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.JobVocabulary;
import org.evenstamp.engine.result.Results;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.read.LayoutFile;
import org.evenstamp.geometry.read.ReadOptions;
import org.evenstamp.geometry.read.ReadReport;

/**
 * An open layout file, which tells afterwards what was in it.
 *
 * @param file the file
 * @param choice how the job names it and wants it read
 */
public record OpenLayout(LayoutFile file, Job.LayoutChoice choice) {
    private static final int MOST_EXAMPLES = 20;

    /**
     * Opens a layout.
     *
     * @throws org.evenstamp.shared.problem.InputException when it cannot be read
     */
    public static OpenLayout open(Job.LayoutChoice choice) {
        LayoutFile file = LayoutFile.open(
                choice.file(),
                new ReadOptions(
                        choice.format(),
                        choice.metresPerUnit(),
                        choice.repair() ? ReadOptions.Policy.REPAIR : ReadOptions.Policy.SKIP));
        return new OpenLayout(file, choice);
    }

    /** Returns its polygons. */
    public PolygonSource source() {
        return file;
    }

    /** Returns what became of its features, once they were gone through. */
    public Results.ReadCount count() {
        return count(file.report(), choice);
    }

    private static Results.ReadCount count(ReadReport report, Job.LayoutChoice choice) {
        Map<String, Long> counts = new LinkedHashMap<>();
        counts.put("features", report.features().total());
        counts.put("polygons", report.polygons());
        counts.put("vertices", report.vertices());
        put(counts, "skipped features", report.features().skipped());
        put(counts, "partly skipped features", report.features().partly());
        put(counts, "features without area", report.features().withoutArea());
        report.skipped().forEach(tally -> put(counts, "skipped: " + tally.meaning(), tally.count()));
        report.repaired().forEach(tally -> put(counts, "repaired: " + tally.meaning(), tally.count()));
        report.ignored().forEach((kind, count) -> put(counts, "ignored: " + kind, count));
        List<String> examples = new ArrayList<>();
        Stream.concat(report.skipped().stream(), report.repaired().stream())
                .forEach(tally -> tally.places()
                        .forEach(place -> examples.add(asWritten(place, choice) + ": " + tally.meaning())));
        return new Results.ReadCount(
                JobVocabulary.word(report.format()),
                counts,
                examples.subList(0, Math.min(MOST_EXAMPLES, examples.size())));
    }

    /** Names the file as the job does: results must not depend on where the job lies. */
    private static String asWritten(String place, Job.LayoutChoice choice) {
        String path = choice.file().toString();
        return place.startsWith(path) ? choice.asWritten() + place.substring(path.length()) : place;
    }

    private static void put(Map<String, Long> counts, String what, long count) {
        if (count > 0) {
            counts.put(what, count);
        }
    }
}
