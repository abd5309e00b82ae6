package org.evenstamp.output.page;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.evenstamp.engine.design.FileSink;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.JobNode;
import org.evenstamp.engine.job.SweepChoice;
import org.evenstamp.engine.run.FileHash;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.engine.sweep.ProcessWindow;
import org.evenstamp.engine.sweep.SweepMaps;
import org.evenstamp.engine.sweep.SweepPlan;
import org.evenstamp.engine.sweep.SweepStore;
import org.evenstamp.engine.sweep.SweepSummary;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.output.file.FieldsNpz;
import org.evenstamp.output.file.SweepFiles;
import org.evenstamp.output.picture.MapPicture;
import org.evenstamp.output.picture.WeightsDrawing;
import org.evenstamp.output.picture.WindowDrawing;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;

/**
 * Writes what a sweep found beside its points: {@code points.csv}, {@code sweep.json}, for a grid of two keys {@code window.svg}
 * and {@code window.png}, what matters as {@code weights.svg} and {@code weights.png}, a page {@code sweep.html}, for kept fields {@code statistics.npz} and a map of each statistic. Each file is written under another
 * name and moved into place when it is whole. The same points give the same bytes.
 */
public final class SweepResults {
    /** Sections of a job that decide no point; of the limits their bounds do, and of the sweep what its plan holds. */
    private static final Set<String> NO_PART = Set.of("output", "sweep", "calibrate", "limits");

    /** Name of the table. */
    public static final String POINTS = "points.csv";

    /** Name of the page. */
    public static final String PAGE = "sweep.html";

    private SweepResults() {}

    /**
     * Returns what tells one sweep from another: version, job, files that go in, and what decides the points. A number of samples
     * that may grow does not; neither does the place of the results.
     */
    public static String identity(SweepPlan plan, Progress progress) {
        Job job = plan.job();
        StringBuilder text = new StringBuilder(Simulation.version());
        JobNode.Mapping content = job.content().withoutMarks();
        for (Map.Entry<String, JobNode.Entry> section : content.entries().entrySet()) {
            if (!NO_PART.contains(section.getKey())) {
                text.append('\n')
                        .append(section.getKey())
                        .append(section.getValue().value());
            }
        }
        for (Limit limit : job.limits()) {
            text.append('\n')
                    .append(limit.subject())
                    .append(limit.measure())
                    .append(limit.side())
                    .append(limit.boundSi());
        }
        text.append('\n').append(plan.design()).append(plan.axes()).append(plan.kept());
        text.append(job.settings().quantity(SweepChoice.SEED.id()));
        job.nested(SweepChoice.CORRELATE).ifPresent(node -> text.append(node.withoutMarks()));
        if (plan.design() == SweepPlan.Design.LATIN) {
            text.append(plan.samples());
        }
        List<FileHash> hashes = job.inputs().stream()
                .skip(1) // the job file itself may say more or less about the sweep
                .map(input -> FileHash.start(input.file(), input.asWritten(), progress))
                .toList();
        hashes.forEach(hash -> text.append('\n').append(hash.await().sha256()));
        try {
            byte[] digest =
                    MessageDigest.getInstance("SHA-256").digest(text.toString().getBytes(StandardCharsets.UTF_8));
            return HexFormat.of().formatHex(digest);
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }

    /** Writes the files into the directory of the store. */
    public static void write(
            SweepPlan plan, SweepStore store, SweepSummary summary, Path directory, Progress progress) {
        put(directory, POINTS, SweepFiles.points(plan, summary.points()).getBytes(StandardCharsets.UTF_8));
        List<ProcessWindow> windows = ProcessWindow.of(plan, summary.points());
        String window = "";
        if (!windows.isEmpty()) {
            List<String> limits = SweepFiles.limits(plan);
            window = WindowDrawing.svg(windows, limits);
            put(directory, "window.svg", window.getBytes(StandardCharsets.UTF_8));
            put(directory, "window.png", WindowDrawing.png(windows, limits));
        }
        String weights = "";
        if (WeightsDrawing.has(summary)) {
            List<String> limits = SweepFiles.limits(plan, summary);
            weights = WeightsDrawing.svg(summary, plan.keys(), limits);
            put(directory, "weights.svg", weights.getBytes(StandardCharsets.UTF_8));
            put(directory, "weights.png", WeightsDrawing.png(summary, plan.keys(), limits));
        }
        Optional<FieldSet> maps = store.grid().map(grid -> maps(plan, store, grid, directory, progress));
        String page = SweepPage.of(plan, summary, window, weights, maps);
        put(directory, PAGE, page.getBytes(StandardCharsets.UTF_8));
        // Last, so that it also says that the others are whole.
        put(directory, "sweep.json", SweepFiles.summary(plan, summary).getBytes(StandardCharsets.UTF_8));
    }

    private static FieldSet maps(SweepPlan plan, SweepStore store, TileGrid grid, Path directory, Progress progress) {
        List<FieldName> names = new ArrayList<>();
        plan.kept().forEach(id -> names.add(plan.job().fieldName(id)));
        FieldSet maps = SweepMaps.of(plan, store, names, grid, progress);
        MapPicture picture = new MapPicture(new MapOptions.Outline(
                grid.originXMetres(),
                grid.originYMetres(),
                grid.originXMetres() + grid.columns() * grid.pitchMetres(),
                grid.originYMetres() + grid.rows() * grid.pitchMetres()));
        for (Field map : maps.all()) {
            put(directory, "maps/" + map.name().id() + ".png", picture.png(map));
        }
        replace(directory, "statistics.npz", file -> FieldsNpz.write(file, maps));
        return maps;
    }

    private static void put(Path directory, String name, byte[] content) {
        replace(directory, name, file -> Files.write(file, content));
    }

    private static void replace(Path directory, String name, FileSink.FileWriter writer) {
        Path target = directory.resolve(name);
        Path partial = target.resolveSibling(target.getFileName() + ".partial");
        try {
            Files.createDirectories(target.toAbsolutePath().getParent());
            writer.write(partial);
            Files.move(partial, target, StandardCopyOption.REPLACE_EXISTING, StandardCopyOption.ATOMIC_MOVE);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
