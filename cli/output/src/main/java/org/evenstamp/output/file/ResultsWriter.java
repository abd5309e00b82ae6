package org.evenstamp.output.file;

import java.nio.file.Files;
import java.util.concurrent.ForkJoinPool;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.StageMemory;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.output.picture.MapPicture;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.spi.Curve;

/** Writes all files of a run into a directory of results. */
public final class ResultsWriter {
    private ResultsWriter() {}

    /**
     * Writes the files; publishing is left to the caller.
     *
     * @param runJson the text of {@code run.json}, which may differ from run to run
     * @param threads number of threads, at least 1
     */
    public static void write(
            Results results, String runJson, ResultsDirectory directory, int threads, Progress progress) {
        write(results, runJson, directory, new StageMemory(0), threads, progress);
    }

    /** A picture of a field; a field equals itself alone. */
    private record Pictured(Field field, MapOptions.Outline outline) {}

    /**
     * Writes the files; a map whose field is remembered from before is not drawn again.
     *
     * @param pictures remembers the maps
     */
    public static void write(
            Results results,
            String runJson,
            ResultsDirectory directory,
            StageMemory pictures,
            int threads,
            Progress progress) {
        int curves =
                results.analyses().stream().mapToInt(a -> a.curves().size()).sum();
        int files = 6 + results.fields().all().size() + curves;
        try (Stage stage = progress.stage("writing results", files, "files")) {
            MapOptions.Outline outline = results.map().outline();
            MapPicture picture = new MapPicture(outline);
            ForkJoinPool pool = new ForkJoinPool(threads);
            try {
                pool.submit(() -> results.fields().all().parallelStream().forEach(field -> {
                            String name = "maps/" + field.name().id() + ".png";
                            byte[] png =
                                    pictures.of(name, () -> new Pictured(field, outline), () -> picture.png(field));
                            directory.add(name, file -> Files.write(file, png));
                            stage.advance(1);
                        }))
                        .join();
            } finally {
                pool.shutdownNow();
            }
            directory.add("tiles.csv", file -> TilesCsv.write(file, results.fields()));
            stage.advance(1);
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
            directory.add("run.json", runJson);
            // Last, so that it also marks the directory as complete.
            directory.add("result.json", ResultJson.write(results));
            stage.advance(1);
        }
    }
}
