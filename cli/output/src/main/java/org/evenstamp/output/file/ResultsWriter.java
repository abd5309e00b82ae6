package org.evenstamp.output.file;

import java.nio.file.Files;
import java.util.List;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.StageMemory;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.output.picture.MapPicture;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.spi.Curve;
import org.evenstamp.shared.thread.Workers;

/** Writes all files of a run into a directory of results. */
public final class ResultsWriter {
    private ResultsWriter() {}

    /**
     * Writes the files; publishing is left to the caller.
     *
     * @param run what may differ from run to run
     */
    public static void write(Results results, RunRecord run, ResultsDirectory directory, Progress progress) {
        write(results, run, directory, new StageMemory(0), progress);
    }

    /** A picture of a field; a field equals itself alone. */
    private record Pictured(Field field, MapOptions.Outline outline) {}

    /**
     * Writes the files; a map whose field is remembered from before is not drawn again.
     *
     * @param pictures remembers the maps
     */
    public static void write(
            Results results, RunRecord run, ResultsDirectory directory, StageMemory pictures, Progress progress) {
        int curves =
                results.analyses().stream().mapToInt(a -> a.curves().size()).sum();
        int files = 6 + results.fields().all().size() + curves;
        try (Stage stage = progress.stage("writing results", files, "files")) {
            MapOptions.Outline outline = results.map().outline();
            MapPicture picture = new MapPicture(outline);
            Workers.forEach(List.copyOf(results.fields().all()), run.threads(), field -> {
                String name = "maps/" + field.name().id() + ".png";
                byte[] png = pictures.of(name, () -> new Pictured(field, outline), () -> picture.png(field));
                directory.add(name, file -> Files.write(file, png));
                stage.advance(1);
            });
            directory.add("tiles.csv", file -> TilesCsv.write(file, results.fields()));
            stage.advance(1);
            if (!results.map().dies().isEmpty()) {
                directory.add("dies.csv", file -> DiesCsv.write(file, results));
            }
            directory.add("fields.npz", file -> FieldsNpz.write(file, results.fields()));
            stage.advance(1);
            if (!results.snapshots().isEmpty()) {
                directory.add("snapshots.npz", file -> FieldsNpz.writeSnapshots(file, results.snapshots()));
            }
            directory.add("fields.json", FieldsJson.write(results.fields()));
            stage.advance(1);
            for (Results.AnalysisPart part : results.analyses()) {
                for (Curve curve : part.curves()) {
                    directory.add("curves/" + part.id() + "." + curve.id() + ".csv", CurvesCsv.write(curve));
                    stage.advance(1);
                }
            }
            directory.add("findings.junit.xml", FindingsJunit.write(results));
            stage.advance(1);
            directory.add("findings.sarif", FindingsSarif.write(results));
            stage.advance(1);
            directory.add("run.json", run.json());
            // Last, so that it also marks the directory as complete.
            directory.add("result.json", ResultJson.write(results));
            stage.advance(1);
        }
    }
}
