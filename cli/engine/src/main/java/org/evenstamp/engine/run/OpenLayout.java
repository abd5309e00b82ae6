package org.evenstamp.engine.run;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.evenstamp.engine.job.JobVocabulary;
import org.evenstamp.engine.job.LayerChoice;
import org.evenstamp.engine.job.LayoutChoice;
import org.evenstamp.engine.job.NearestWord;
import org.evenstamp.engine.result.Results;
import org.evenstamp.geometry.layout.Joined;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.layout.Stepped;
import org.evenstamp.geometry.read.LayeredLayout;
import org.evenstamp.geometry.read.LayoutFile;
import org.evenstamp.geometry.read.ReadOptions;
import org.evenstamp.geometry.read.ReadReport;
import org.evenstamp.geometry.tile.Die;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;
import org.jspecify.annotations.Nullable;

/**
 * An open layout, which tells afterwards what was in its files.
 *
 * @param source the files
 * @param choice how the job names them and wants them read
 */
public record OpenLayout(LayeredLayout source, LayoutChoice choice) {
    private static final int MOST_EXAMPLES = 20;

    private static final List<String> PROPERTIES = List.of("depth", "role", "repeat", "texture");

    /**
     * Opens a layout.
     *
     * @throws InputException with the problems of every file that cannot be read
     */
    public static OpenLayout open(LayoutChoice choice) {
        ReadOptions.Policy policy = choice.repair() ? ReadOptions.Policy.REPAIR : ReadOptions.Policy.SKIP;
        Problems problems = new Problems();
        List<LayoutFile> files = new ArrayList<>();
        for (LayerChoice layer : choice.layers()) {
            try {
                files.add(LayoutFile.open(
                        layer.file(),
                        new ReadOptions(layer.format(), layer.metresPerUnit(), policy, layer.assigned())));
            } catch (InputException e) {
                problems.add(e);
            }
        }
        problems.throwIfAny();
        return new OpenLayout(new LayeredLayout(files), choice);
    }

    /** Returns the files that are stepped over the stamp where the job has an array of dies, and all files where it has none. */
    public LayeredLayout stepped() {
        return choice.array() == null ? source : part(true);
    }

    /** Returns the files that stand once on a stamp of dies; null when there are none. */
    public @Nullable LayeredLayout once() {
        return choice.array() == null || choice.layers().stream().allMatch(LayerChoice::stepped) ? null : part(false);
    }

    private LayeredLayout part(boolean stepped) {
        return new LayeredLayout(IntStream.range(0, choice.layers().size())
                .filter(i -> choice.layers().get(i).stepped() == stepped)
                .mapToObj(source.files()::get)
                .toList());
    }

    /** Returns all polygons that stand on a stamp with these dies, which its map has told. */
    public PolygonSource onStamp(List<Die> dies) {
        if (dies.isEmpty()) {
            return source;
        }
        PolygonSource copies =
                new Stepped(stepped(), dies.stream().map(Die::pose).toList(), Stepped.Wanted.ALL);
        LayeredLayout alone = once();
        return alone == null ? copies : new Joined(List.of(copies, alone));
    }

    /** Returns what became of the features, once they were gone through. */
    public Results.ReadCount count() {
        Map<String, Long> counts = new LinkedHashMap<>();
        if (reports().size() > 1) {
            counts.put("files", (long) reports().size());
        }
        for (String always : List.of("features", "polygons", "vertices")) {
            counts.put(always, 0L);
        }
        Map<String, Long> skipped = new LinkedHashMap<>();
        Map<String, Long> repaired = new LinkedHashMap<>();
        Map<String, Long> ignored = new LinkedHashMap<>();
        for (ReadReport report : reports()) {
            add(counts, "features", report.features().total());
            add(counts, "polygons", report.polygons());
            add(counts, "vertices", report.vertices());
            report.skipped().forEach(tally -> add(skipped, "skipped: " + tally.meaning(), tally.count()));
            report.repaired().forEach(tally -> add(repaired, "repaired: " + tally.meaning(), tally.count()));
            report.ignored().forEach((kind, count) -> add(ignored, "ignored: " + kind, count));
        }
        for (ReadReport report : reports()) {
            add(counts, "skipped features", report.features().skipped());
        }
        for (ReadReport report : reports()) {
            add(counts, "partly skipped features", report.features().partly());
        }
        for (ReadReport report : reports()) {
            add(counts, "features without area", report.features().withoutArea());
        }
        counts.putAll(skipped);
        counts.putAll(repaired);
        counts.putAll(ignored);
        return new Results.ReadCount(
                reports().stream()
                        .map(report -> JobVocabulary.word(report.format()))
                        .distinct()
                        .collect(Collectors.joining(", ")),
                counts,
                examples());
    }

    private List<ReadReport> reports() {
        return source.files().stream().map(LayoutFile::report).toList();
    }

    private List<String> examples() {
        List<String> examples = new ArrayList<>();
        for (int i = 0; i < reports().size(); i++) {
            LayerChoice layer = choice.layers().get(i);
            ReadReport report = reports().get(i);
            Stream.concat(report.skipped().stream(), report.repaired().stream())
                    .forEach(tally -> tally.places()
                            .forEach(place -> examples.add(asWritten(place, layer) + ": " + tally.meaning())));
        }
        return examples.subList(0, Math.min(MOST_EXAMPLES, examples.size()));
    }

    /** Returns a warning for every file whose features carry properties that nobody reads. */
    public List<Finding.Warning> warnings() {
        List<Finding.Warning> warnings = new ArrayList<>();
        for (int i = 0; i < reports().size(); i++) {
            Map<String, Long> unused = reports().get(i).unused();
            if (!unused.isEmpty()) {
                warnings.add(new Finding.Warning(
                        "layout",
                        "layout.unused-property",
                        choice.layers().get(i).asWritten() + ": properties that say nothing to this tool: "
                                + unused.entrySet().stream()
                                        .map(entry -> entry.getKey() + " (" + entry.getValue()
                                                + (entry.getValue() == 1 ? " feature" : " features")
                                                + NearestWord.of(entry.getKey(), PROPERTIES)
                                                        .map(near -> "; did you mean " + near + "?")
                                                        .orElse("")
                                                + ")")
                                        .collect(Collectors.joining(", ")),
                        new Place.WholeStamp()));
            }
        }
        return warnings;
    }

    /** Names the file as the job does: results must not depend on where the job lies. */
    private static String asWritten(String place, LayerChoice layer) {
        String path = layer.file().toString();
        return place.startsWith(path) ? layer.asWritten() + place.substring(path.length()) : place;
    }

    private static void add(Map<String, Long> counts, String what, long count) {
        if (count > 0) {
            counts.merge(what, count, Long::sum);
        }
    }
}
