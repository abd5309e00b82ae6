package org.evenstamp.engine.result;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.evenstamp.analysis.feature.Unfilled;
import org.evenstamp.analysis.limit.Ranking;
import org.evenstamp.engine.job.JobNode;
import org.evenstamp.engine.job.JobText;
import org.evenstamp.geometry.draw.Sketch;
import org.evenstamp.geometry.tile.TileMap;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.spi.Curve;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Snapshot;
import org.evenstamp.shared.unit.Unit;

/**
 * What a run has to tell.
 *
 * @param provenance what was run, by which version, on which files
 * @param layout the measured layout
 * @param fields all fields, those of the tile map first
 * @param analyses the analyses that ran, in that order
 * @param skipped analyses that did not run, with the reason
 * @param verdict what became of the limits
 * @param warnings what a reader must know
 */
public record Results(
        Provenance provenance,
        MeasuredLayout layout,
        FieldSet fields,
        List<AnalysisPart> analyses,
        Map<String, String> skipped,
        Verdict verdict,
        List<Finding.Warning> warnings) {

    /**
     * What was run, by which version, on which files.
     *
     * @param toolVersion version of the tool
     * @param name name of the job or of the layout
     * @param job the job as written
     * @param inputs the files that were read; empty where they were not to be hashed
     * @param cautions what can hurt people in it
     */
    public record Provenance(
            String toolVersion, String name, JobNode.Mapping job, List<InputFile> inputs, List<String> cautions) {
        /** Copies the lists. */
        public Provenance {
            inputs = List.copyOf(inputs);
            cautions = List.copyOf(cautions);
        }
    }

    /**
     * A measured layout.
     *
     * @param map its tiles
     * @param read how many features were read, skipped and repaired, word by number
     * @param sketch its polygons to draw; empty where they were not wanted
     */
    public record MeasuredLayout(TileMap map, ReadCount read, Sketch sketch) {}

    /**
     * What became of the limits.
     *
     * @param limits the limits of the job
     * @param broken those that are exceeded
     * @param close limits whose numbers are known too badly to tell whether they are kept
     * @param ranking the worst places over all analyses
     */
    public record Verdict(List<Limit> limits, List<Finding.LimitBroken> broken, List<Limit> close, Ranking ranking) {
        /** Copies the lists. */
        public Verdict {
            limits = List.copyOf(limits);
            broken = List.copyOf(broken);
            close = List.copyOf(close);
        }
    }

    /** Copies the lists. */
    public Results {
        analyses = List.copyOf(analyses);
        warnings = List.copyOf(warnings);
    }

    /** Returns the version of the tool. */
    public String toolVersion() {
        return provenance.toolVersion();
    }

    /** Returns the name of the job or of the layout. */
    public String name() {
        return provenance.name();
    }

    /** Returns the job as written. */
    public JobNode.Mapping job() {
        return provenance.job();
    }

    /** Returns the files that were read; empty where they were not to be hashed. */
    public List<InputFile> inputs() {
        return provenance.inputs();
    }

    /** Returns how many features were read, skipped and repaired. */
    public ReadCount read() {
        return layout.read();
    }

    /** Returns the tiles of the layout. */
    public TileMap map() {
        return layout.map();
    }

    /** Returns the layout's polygons to draw; empty where they were not wanted. */
    public Sketch sketch() {
        return layout.sketch();
    }

    /** Returns the limits of the job. */
    public List<Limit> limits() {
        return verdict.limits();
    }

    /** Returns the limits that are exceeded. */
    public List<Finding.LimitBroken> broken() {
        return verdict.broken();
    }

    /** Returns the limits that are too close to call on these tiles, whether they are kept or exceeded. */
    public List<Limit> close() {
        return verdict.close();
    }

    /** Returns the worst places over all analyses. */
    public Ranking ranking() {
        return verdict.ranking();
    }

    /** Returns the tiles whose cavities are not full; empty where all are, or nothing says how full they are. */
    public Optional<Unfilled> unfilled() {
        return Unfilled.of(fields);
    }

    /** Returns that the film solve came to no end, where it did not: its maps then show an earlier time. */
    public Optional<Finding.Warning> incomplete() {
        return warnings.stream()
                .filter(warning -> warning.code().equals(Unfilled.INCOMPLETE))
                .findFirst();
    }

    /** Returns what the run comes to, in words: that tiles are not full before anything of limits. */
    public String verdictWords() {
        return (unfilled().isPresent() ? "tiles not full, " : "")
                + (broken().isEmpty() ? "within limits" : "limit exceeded");
    }

    /** Returns these results with others' record of what was run. */
    public Results with(Provenance other) {
        return new Results(other, layout, fields, analyses, skipped, verdict, warnings);
    }

    /** Returns these results with more fields. */
    public Results with(Collection<Field> more) {
        return new Results(provenance, layout, fields.with(more), analyses, skipped, verdict, warnings);
    }

    /** Returns what can hurt people in the job's process; nothing when the layout was only measured. */
    public List<String> cautions() {
        return analyses.isEmpty() ? List.of() : provenance.cautions();
    }

    /** Returns what the job calls itself, or else its name. */
    public String title() {
        return word("output", "title").orElse(name());
    }

    /** Returns the layout file as the job names it, the first of several; empty when it names none. */
    public String layoutName() {
        return word("layout", "file")
                .or(() -> JobText.layerFiles(job()).stream().findFirst())
                .or(() -> word("layout", "table"))
                .orElse("");
    }

    /** Returns the length of one coordinate step of the layout as the job writes it; {@code um} when the job leaves it to the file. */
    public String layoutUnit() {
        return word("layout", "unit").orElse("um");
    }

    /** Returns the snapshots of the fields that have any, by the id of the field, in the order of the analyses. */
    public Map<String, List<Snapshot>> snapshots() {
        Map<String, List<Snapshot>> byField = new LinkedHashMap<>();
        for (AnalysisPart part : analyses) {
            for (Snapshot snapshot : part.snapshots()) {
                byField.computeIfAbsent(snapshot.field().name().id(), id -> new ArrayList<>())
                        .add(snapshot);
            }
        }
        return byField;
    }

    /** Returns the display unit of the field or figure that a limit bounds. */
    public Unit unit(Limit limit) {
        return Stream.concat(fields.all().stream().map(Field::name), fields.numbers().keySet().stream())
                .filter(name -> name.id().equals(limit.fieldId()))
                .findFirst()
                .map(FieldName::unit)
                .orElse(Unit.ONE);
    }

    private Optional<String> word(String section, String key) {
        return Optional.ofNullable(job().entries().get(section))
                .map(entry -> entry.value() instanceof JobNode.Mapping keys
                        ? keys.entries().get(key)
                        : null)
                .map(entry -> entry.value() instanceof JobNode.Scalar word ? word.text() : null);
    }

    /**
     * A file that was read.
     *
     * @param name as the job names it
     * @param bytes its size
     * @param sha256 its hash, lower-case hexadecimal
     */
    public record InputFile(String name, long bytes, String sha256) {}

    /**
     * What became of the features of the layout file.
     *
     * @param format word for the format
     * @param counts number by what it counts, in the order they are shown
     * @param examples places of bad features, the first few
     */
    public record ReadCount(String format, Map<String, Long> counts, List<String> examples) {}

    /**
     * What one analysis answered beside its fields.
     *
     * @param id the analysis
     * @param summary one sentence for a person
     * @param figures its numbers
     * @param curves its series
     * @param snapshots fields of it as they came to be, those of one field in order of time
     */
    public record AnalysisPart(
            String id, String summary, List<Figure> figures, List<Curve> curves, List<Snapshot> snapshots) {}
}
