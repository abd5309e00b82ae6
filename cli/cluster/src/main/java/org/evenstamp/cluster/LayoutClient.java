package org.evenstamp.cluster;

import java.io.DataInputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import org.apache.flink.api.common.eventtime.WatermarkStrategy;
import org.apache.flink.streaming.api.environment.StreamExecutionEnvironment;
import org.apache.flink.streaming.api.functions.sink.v2.DiscardingSink;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.remote.RemotePlace;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.OpenLayout;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.geometry.draw.Sketch;
import org.evenstamp.geometry.merge.Survey;
import org.evenstamp.geometry.read.LayoutFile;
import org.evenstamp.geometry.read.ReadReport;
import org.evenstamp.geometry.tile.BandSpec;
import org.evenstamp.geometry.tile.BandedMap;
import org.evenstamp.geometry.tile.TileMap;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;

/** Has a layout measured by a cluster, in four jobs whose pieces are files in the store, and puts its map together. */
final class LayoutClient {
    private static final long LEAST_PART = 1L << 20;
    private static final long MOST_PART = 32L << 20;
    private static final int PARTS = 16;
    /** Polygons of a band take about so many bytes, and several times as much while they are looked at. */
    private static final long BAND_BYTES = 64L << 20;

    private static final int BANDS_A_SLOT = 2;
    private static final int FEWEST_ROWS = 8;

    private final Cluster cluster;
    private final StoreFolder store;
    private final int threads;
    private final Progress progress;

    LayoutClient(Cluster cluster, StoreFolder store, int threads, Progress progress) {
        this.cluster = cluster;
        this.store = store;
        this.threads = threads;
        this.progress = progress;
    }

    /** Returns a name that tells this work from other work in a store. */
    static String folder(Path layout, Map<String, String> options) {
        try {
            return "layout-"
                    + Long.toHexString(fingerprint(Simulation.version()
                            + new TreeMap<>(options)
                            + layout.getFileName()
                            + Files.size(layout)
                            + Files.getLastModifiedTime(layout)));
        } catch (IOException e) {
            return "layout-" + Long.toHexString(fingerprint(layout.toString())); // whoever opens it says what is wrong
        }
    }

    private static long fingerprint(String text) {
        long hash = 0xcbf29ce484222325L; // FNV-1a
        for (int i = 0; i < text.length(); i++) {
            hash = (hash ^ text.charAt(i)) * 0x100000001b3L;
        }
        return hash;
    }

    Results.MeasuredLayout measure(RemotePlace place, Path layout, Map<String, String> options) {
        Job job = Job.ofLayout(layout, options);
        OpenLayout opened = OpenLayout.open(job.layout());
        LayoutFile file = opened.source().files().get(0);
        long size = size(layout);
        List<Long> cuts = file.cuts(Math.max(LEAST_PART, Math.min(MOST_PART, size / PARTS)));
        store.lastJob().ifPresent(cluster::cancel);
        LayoutWork work = new LayoutWork(
                store.directory().toString(),
                store.token(),
                Simulation.version(),
                seen(place, layout).toString(),
                new TreeMap<>(options),
                cuts);
        try {
            return measure(work, job, opened);
        } catch (IOException e) {
            throw StoreFolder.unusable(store.directory(), e);
        }
    }

    private static long size(Path layout) {
        try {
            return Files.size(layout);
        } catch (IOException e) {
            throw StoreFolder.unusable(layout, e);
        }
    }

    /** A layout that lies in the store is read where it is; another one is copied there. */
    private Path seen(RemotePlace place, Path layout) {
        Path normal = layout.toAbsolutePath().normalize();
        if (normal.startsWith(place.store().toAbsolutePath().normalize())) {
            return normal;
        }
        Path copy = store.directory().resolve(String.valueOf(normal.getFileName()));
        store.copy(normal, copy);
        return copy;
    }

    private Results.MeasuredLayout measure(LayoutWork work, Job job, OpenLayout opened) throws IOException {
        run(new LayoutFunction(work, LayoutFunction.Kind.SURVEY, null, new long[0]), "surveying", work.parts());
        Survey.Totals totals = null;
        long[] lines = new long[work.parts()];
        long line = 1;
        for (int part = 0; part < lines.length; part++) {
            LayoutWork.Surveyed found = work.surveyed(part);
            totals = totals == null ? found.totals() : totals.plus(found.totals());
            lines[part] = line;
            line += found.lines();
        }
        long bytes = 16 * Objects.requireNonNull(totals).vertices();
        int bands = (int) Math.max(BANDS_A_SLOT * (long) cluster.slots(), bytes / BAND_BYTES);
        BandedMap map = new BandedMap(Simulation.mapOptions(job, threads), totals, bands, FEWEST_ROWS, progress);
        BandSpec spec = map.spec();
        run(new LayoutFunction(work, LayoutFunction.Kind.SORT, spec, lines), "sorting into bands", work.parts());
        opened.source().files().get(0).readElsewhere(report(work, spec, job));
        run(new LayoutFunction(work, LayoutFunction.Kind.SUM, spec, lines), "measuring bands", spec.bands());
        for (int band = 0; band < spec.bands(); band++) {
            try (DataInputStream in = LayoutWork.in(work.sums(spec, band))) {
                map.takeSums(band, in);
            }
        }
        byte[] shared = map.shared();
        Worker.write(work.shared(spec), partial -> Files.write(partial, shared));
        run(new LayoutFunction(work, LayoutFunction.Kind.LOOK, spec, lines), "looking at bands", spec.bands());
        for (int band = 0; band < spec.bands(); band++) {
            try (DataInputStream in = LayoutWork.in(work.look(spec, band))) {
                map.takeLook(band, in);
            }
        }
        TileMap found = map.map();
        return new Results.MeasuredLayout(found.warning(opened.warnings()), opened.count(), Sketch.EMPTY);
    }

    /** Puts the reports of all parts together, with the file named as the user knows it. */
    private static ReadReport report(LayoutWork work, BandSpec spec, Job job) throws IOException {
        ReadReport all = null;
        for (int part = 0; part < work.parts(); part++) {
            ReadReport one = work.report(spec, part);
            all = all == null ? one : all.plus(one);
        }
        String own = job.layout().layers().get(0).file().toString();
        return Objects.requireNonNull(all).withPlaces(place -> place.replace(work.layout(), own));
    }

    /** Runs the pieces of one kind that are not there. */
    private void run(LayoutFunction function, String name, int pieces) {
        try (Stage stage = progress.stage(name, pieces, "pieces")) {
            List<Integer> missing = new ArrayList<>();
            for (int piece = 0; piece < pieces; piece++) {
                missing.add(piece);
            }
            count(function, missing, stage);
            if (missing.isEmpty()) {
                return;
            }
            StreamExecutionEnvironment environment = cluster.environment(Math.min(pieces, cluster.tasks()));
            environment
                    .fromSource(new PointSource(pieces), WatermarkStrategy.noWatermarks(), "pieces")
                    .map(function)
                    .name(name)
                    .sinkTo(new DiscardingSink<>());
            cluster.run(
                    environment, "evenstamp measure: " + name, store, () -> count(function, missing, stage), progress);
            count(function, missing, stage);
            if (!missing.isEmpty()) {
                throw new IllegalStateException("the job ended without " + function.file(missing.get(0)));
            }
        }
    }

    private static void count(LayoutFunction function, List<Integer> missing, Stage stage) {
        int before = missing.size();
        missing.removeIf(piece -> Files.exists(function.file(piece)));
        stage.advance(before - missing.size());
    }
}
