package org.evenstamp.output.compare;

import java.nio.file.Path;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.Problems;
import org.jspecify.annotations.Nullable;

/**
 * A run as it lies on disk, but for its maps. Maps keep the order of the file; keys say what is the same thing in another run.
 *
 * @param place the directory, as the user named it
 * @param arrays its {@code fields.npz}
 * @param version version of the tool that wrote it
 * @param name name of the job
 * @param verdict as {@code Results.verdictWords()} says it
 * @param job every value of the job by its dotted key
 * @param inputs SHA-256 of every file that was read, by its name
 * @param grid the tiles
 * @param fields display unit of every field by its id
 * @param figures numbers of the layout and of the analyses, by {@code analysis:id}
 * @param analyses reason why it did not run by analysis; empty for those that did
 * @param limits the limits
 * @param findings the broken ones
 * @param warnings the warnings
 */
public record StoredRun(
        String place,
        Path arrays,
        String version,
        String name,
        String verdict,
        Map<String, String> job,
        Map<String, String> inputs,
        TileGrid grid,
        Map<String, String> fields,
        Map<String, Figure> figures,
        Map<String, String> analyses,
        Map<String, StoredLimit> limits,
        Map<String, StoredFinding> findings,
        Map<String, StoredWarning> warnings) {
    /**
     * A number of a run.
     *
     * @param value the number
     * @param unit its unit
     */
    public record Figure(double value, String unit) {}

    /** Copies the maps. */
    public StoredRun {
        job = copy(job);
        inputs = copy(inputs);
        fields = copy(fields);
        figures = copy(figures);
        analyses = copy(analyses);
        limits = copy(limits);
        findings = copy(findings);
        warnings = copy(warnings);
    }

    private static <T> Map<String, T> copy(Map<String, T> map) {
        return Collections.unmodifiableMap(new LinkedHashMap<>(map));
    }

    /**
     * Reads a run back: the whole of its {@code result.json}, and every array once, for damage.
     *
     * @param given a directory of results, or the {@code result.json} in one
     * @param problems where everything that is wrong with it is put
     * @return the run; null when something is wrong with it
     */
    public static @Nullable StoredRun read(Path given, Problems problems) {
        return new StoredRunReader(given, problems).read();
    }
}
