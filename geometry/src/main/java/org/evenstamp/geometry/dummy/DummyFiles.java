package org.evenstamp.geometry.dummy;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.write.LayoutWriter;
import org.evenstamp.shared.progress.Progress;

/**
 * Where dummies are written: alone, and together with the layout they belong to. The names choose the format, GeoJSON or one
 * feature a line, each compressed or not, as {@link LayoutWriter} says.
 *
 * @param dummies gets the dummies
 * @param merged gets every feature of the layout as it was read, in its order, and the dummies behind them
 */
public record DummyFiles(Path dummies, Path merged) {

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
            try (LayoutWriter alone = LayoutWriter.create(unfinishedDummies);
                    LayoutWriter together = LayoutWriter.create(unfinishedMerged)) {
                layout.forEach(() -> together, 1, "copying the layout", progress);
                placement = sites.place(
                        askedSquareMetres,
                        dummy -> {
                            alone.accept(dummy);
                            together.accept(dummy);
                        },
                        progress);
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

    private static Path unfinished(Path file) {
        return file.resolveSibling("unfinished-" + file.getFileName());
    }
}
