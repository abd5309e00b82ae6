package org.evenstamp.cluster;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.BufferedInputStream;
import java.io.BufferedOutputStream;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.RandomAccessFile;
import java.io.Serializable;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.run.OpenLayout;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.geometry.coverage.LayerRules;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.PolygonStore;
import org.evenstamp.geometry.merge.Survey;
import org.evenstamp.geometry.read.LayoutFile;
import org.evenstamp.geometry.read.ReadReport;
import org.evenstamp.geometry.tile.BandSpec;
import org.evenstamp.geometry.tile.BandWorker;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.progress.Progress;

/**
 * The pieces into which measuring a layout is cut, each of which comes to a file in the store: parts of the text are surveyed and
 * then sorted into bands of rows of tiles, bands are summed and then looked at.
 *
 * @param folder the folder in the store
 * @param token mark of the client
 * @param version version of the client
 * @param layout the layout as workers see it
 * @param options how it is measured, by keys of a job
 * @param cuts the bytes at which its parts begin, and its end
 */
record LayoutWork(
        String folder, String token, String version, String layout, Map<String, String> options, List<Long> cuts)
        implements Serializable {
    private static final ObjectMapper MAPPER = new ObjectMapper();
    private static final int BUFFER = 1 << 18;

    /** What a part holds. */
    record Surveyed(Survey.Totals totals, long lines, ReadReport report) {}

    /** Copies what may be of another kind where it comes from. */
    LayoutWork {
        cuts = new ArrayList<>(cuts);
    }

    int parts() {
        return cuts.size() - 1;
    }

    Path survey(int part) {
        return Path.of(folder, "survey", String.valueOf(part));
    }

    private Path bands(BandSpec spec, String what, int number) {
        return Path.of(folder, "bands-" + spec.bands(), what, String.valueOf(number));
    }

    Path sorted(BandSpec spec, int part) {
        return bands(spec, "sorted", part);
    }

    Path sums(BandSpec spec, int band) {
        return bands(spec, "sums", band);
    }

    private Path merged(BandSpec spec, int band) {
        return bands(spec, "merged", band);
    }

    Path look(BandSpec spec, int band) {
        return bands(spec, "look", band);
    }

    Path shared(BandSpec spec) {
        return bands(spec, "shared", 0);
    }

    private Job job() {
        return Job.ofLayout(Path.of(layout), options);
    }

    private static LayoutFile file(Job job) {
        return OpenLayout.open(job.layout()).source().files().get(0);
    }

    private LayoutFile part(Job job, int part, long line) {
        return file(job).part(cuts.get(part), cuts.get(part + 1), line);
    }

    /** Surveys a part of the text. */
    void surveyPart(int part, Progress progress) {
        Job job = job();
        MapOptions choices = Simulation.mapOptions(job, 1);
        LayerRules rules = new LayerRules(choices.drawn() == MapOptions.Drawn.CAVITIES, choices.depthMetres());
        LayoutFile file = part(job, part, 1);
        Survey.Totals totals = Survey.of(file, traits -> rules.layerOf(traits) != null, 0, 1, progress)
                .totals();
        Worker.write(
                survey(part),
                partial -> Files.write(
                        partial,
                        MAPPER.writeValueAsBytes(
                                new Surveyed(totals, file.report().lines(), file.report()))));
    }

    /** Reads what a part holds. */
    Surveyed surveyed(int part) throws IOException {
        return MAPPER.readValue(Files.readAllBytes(survey(part)), Surveyed.class);
    }

    /**
     * Sorts the polygons of a part into bands.
     *
     * @param line first line of the part
     */
    void sortPart(BandSpec spec, int part, long line, Progress progress) {
        Job job = job();
        LayoutFile file = part(job, part, line);
        List<ByteArrayOutputStream> bytes = new ArrayList<>();
        List<DataOutputStream> bands = new ArrayList<>();
        for (int band = 0; band < spec.bands(); band++) {
            bytes.add(new ByteArrayOutputStream());
            bands.add(new DataOutputStream(bytes.get(band)));
        }
        double[] box = new double[4];
        int[] wanted = new int[spec.bands()];
        file.forEach(() -> (PolygonSink) polygon -> sort(polygon, spec, box, wanted, bands), 1, "sorting", progress);
        byte[] report = json(file.report());
        Worker.write(sorted(spec, part), partial -> {
            try (DataOutputStream out =
                    new DataOutputStream(new BufferedOutputStream(Files.newOutputStream(partial), BUFFER))) {
                for (ByteArrayOutputStream band : bytes) {
                    out.writeInt(band.size());
                }
                out.writeInt(report.length);
                for (ByteArrayOutputStream band : bytes) {
                    band.writeTo(out);
                }
                out.write(report);
            }
        });
    }

    private static byte[] json(ReadReport report) {
        try {
            return MAPPER.writeValueAsBytes(report);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static void sort(
            PackedPolygon polygon, BandSpec spec, double[] box, int[] wanted, List<DataOutputStream> bands) {
        if (polygon.traits.repeat() != null || polygon.traits.texture() != null || polygon.traits.region() != null) {
            throw new WorkerProblem(
                    "layout.not-in-bands",
                    "line " + polygon.line,
                    "arrays, textures and regions are not measured on a cluster",
                    "measure without --engine");
        }
        int count = spec.bandsOf(polygon, box, wanted);
        try {
            for (int i = 0; i < count; i++) {
                PolygonStore.write(polygon, bands.get(wanted[i]));
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e); // nobody writes to a disk here
        }
    }

    /** Reads what a part was sorted into: a section for each band, and its report as the last. */
    private byte[] section(BandSpec spec, int part, int section) throws IOException {
        try (RandomAccessFile in = new RandomAccessFile(sorted(spec, part).toFile(), "r")) {
            byte[] head = new byte[4 * (spec.bands() + 1)];
            in.readFully(head);
            long from = head.length;
            DataInputStream sizes = new DataInputStream(new ByteArrayInputStream(head));
            for (int i = 0; i < section; i++) {
                from += sizes.readInt();
            }
            byte[] bytes = new byte[sizes.readInt()];
            in.seek(from);
            in.readFully(bytes);
            return bytes;
        }
    }

    /** Returns what became of the features of a part. */
    ReadReport report(BandSpec spec, int part) throws IOException {
        return MAPPER.readValue(section(spec, part, spec.bands()), ReadReport.class);
    }

    /** Sums a band. */
    void sumBand(BandSpec spec, int band, Progress progress) throws IOException {
        PolygonStore polygons = new PolygonStore();
        for (int part = 0; part < parts(); part++) {
            polygons.addWritten(new DataInputStream(new ByteArrayInputStream(section(spec, part, band))));
            progress.checkCancelled();
        }
        BandWorker worker = BandWorker.merging(spec, band, polygons, progress);
        Worker.write(merged(spec, band), partial -> {
            try (DataOutputStream out = out(partial)) {
                worker.writePolygons(out);
            } catch (UncheckedIOException e) {
                throw e.getCause();
            }
        });
        Worker.write(sums(spec, band), partial -> {
            try (DataOutputStream out = out(partial)) {
                worker.sum(out);
            }
        });
    }

    /** Looks at a band. */
    void lookAtBand(BandSpec spec, int band, Progress progress) throws IOException {
        PolygonStore polygons = new PolygonStore();
        try (DataInputStream in = in(merged(spec, band))) {
            polygons.addWritten(in);
        }
        byte[] shared = Files.readAllBytes(shared(spec));
        BandWorker worker = BandWorker.merged(spec, band, polygons, progress);
        Worker.write(look(spec, band), partial -> {
            try (DataOutputStream out = out(partial)) {
                worker.look(shared, out);
            }
        });
    }

    static DataInputStream in(Path file) throws IOException {
        return new DataInputStream(new BufferedInputStream(Files.newInputStream(file), BUFFER));
    }

    private static DataOutputStream out(Path file) throws IOException {
        return new DataOutputStream(new BufferedOutputStream(Files.newOutputStream(file), BUFFER));
    }
}
