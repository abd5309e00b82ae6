package org.evenstamp.geometry.dummy;

import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.read.LayoutFile;
import org.evenstamp.geometry.write.LayoutWriter;
import org.evenstamp.shared.progress.Progress;

/**
 * Where dummies are written: alone, and together with the layout they belong to. The names choose the format, GeoJSON or one
 * feature a line, each compressed or not, as {@link LayoutWriter} says.
 *
 * @param dummies gets the dummies
 * @param merged gets the layout and the dummies behind its features. A layout that is a GeoJSON collection in a file stays as
 *     it is, byte for byte, with every member, id and property, and the dummies are written in its unit; else every feature is
 *     written as it was read, in its order
 * @param properties what every dummy carries beside its role, by name: texts, numbers and truths
 */
public record DummyFiles(Path dummies, Path merged, Map<String, Object> properties) {
    /** Files of dummies that carry nothing but their role. */
    public DummyFiles(Path dummies, Path merged) {
        this(dummies, merged, Map.of());
    }

    /**
     * Places dummies and writes both files, feature by feature. Each appears under its name only when both are complete.
     *
     * @param layout the layout that the sites were found in
     * @return what was placed
     * @throws IOException when a file cannot be written
     * @throws IllegalArgumentException when a name's ending stands for no format or the areas are none, see {@link
     *     FreeSites#place}
     */
    public Placement write(PolygonSource layout, FreeSites sites, double[] askedSquareMetres, Progress progress)
            throws IOException {
        Path unfinishedDummies = unfinished(dummies);
        Path unfinishedMerged = unfinished(merged);
        try {
            Placement placement;
            try (LayoutWriter alone = LayoutWriter.create(unfinishedDummies).carrying(properties)) {
                placement = layout instanceof LayoutFile file && keepsAll(file)
                        ? add(file, unfinishedMerged, sites, askedSquareMetres, alone, progress)
                        : rewrite(layout, unfinishedMerged, sites, askedSquareMetres, alone, progress);
            }
            Files.move(unfinishedDummies, dummies, StandardCopyOption.REPLACE_EXISTING);
            Files.move(unfinishedMerged, merged, StandardCopyOption.REPLACE_EXISTING);
            return placement;
        } catch (UncheckedIOException e) {
            throw e.getCause();
        } finally {
            Files.deleteIfExists(unfinishedDummies);
            Files.deleteIfExists(unfinishedMerged);
        }
    }

    /**
     * Places dummies and writes them alone. The file appears under its name only when it is complete.
     *
     * @return what was placed
     * @throws IOException when it cannot be written
     * @throws IllegalArgumentException as from {@link #write}
     */
    public Placement writeAlone(FreeSites sites, double[] askedSquareMetres, Progress progress) throws IOException {
        Path unfinished = unfinished(dummies);
        try {
            Placement placement;
            try (LayoutWriter alone = LayoutWriter.create(unfinished).carrying(properties)) {
                placement = sites.place(askedSquareMetres, alone, progress);
            }
            Files.move(unfinished, dummies, StandardCopyOption.REPLACE_EXISTING);
            return placement;
        } catch (UncheckedIOException e) {
            throw e.getCause();
        } finally {
            Files.deleteIfExists(unfinished);
        }
    }

    /** Returns whether the merged file is the layout's own text with the dummies added. */
    public boolean keepsAll(LayoutFile layout) {
        return layout.isFeatureCollection() && LayoutWriter.Format.of(merged) == LayoutWriter.Format.GEOJSON;
    }

    private Placement add(
            LayoutFile layout, Path target, FreeSites sites, double[] asked, LayoutWriter alone, Progress progress)
            throws IOException {
        List<Placement> placed = new ArrayList<>();
        try (OutputStream out = LayoutWriter.open(target)) {
            layout.copy(
                    out,
                    first -> {
                        try (LayoutWriter together = LayoutWriter.continuing(out, layout.metresPerUnit(), first)
                                .carrying(properties)) {
                            placed.add(sites.place(asked, both(alone, together), progress));
                        }
                    },
                    progress);
        }
        return placed.get(0);
    }

    private Placement rewrite(
            PolygonSource layout, Path target, FreeSites sites, double[] asked, LayoutWriter alone, Progress progress)
            throws IOException {
        try (LayoutWriter together = LayoutWriter.create(target)) {
            layout.forEach(() -> together, 1, "copying the layout", progress);
            together.carrying(properties);
            return sites.place(asked, both(alone, together), progress);
        }
    }

    private static PolygonSink both(LayoutWriter alone, LayoutWriter together) {
        return dummy -> {
            alone.accept(dummy);
            together.accept(dummy);
        };
    }

    private static Path unfinished(Path file) {
        return file.resolveSibling("unfinished-" + file.getFileName());
    }
}
