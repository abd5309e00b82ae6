package org.evenstamp.engine.sweep;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.grid.TileGrid;

/**
 * A point of a sweep in a file of its own: a line of JSON, then its fields as little-endian doubles. It is written under another
 * name and then moved, so that a file that is there is whole, and several may write the same.
 */
public final class PointFile {
    private PointFile() {}

    /**
     * Writes a point.
     *
     * @throws IOException when it cannot be written; then nothing is there
     */
    public static void write(Path file, PointRun.Found found) throws IOException {
        Files.createDirectories(file.toAbsolutePath().getParent());
        Path partial = file.resolveSibling(file.getFileName() + "." + UUID.randomUUID() + ".partial");
        try {
            try (OutputStream out = Files.newOutputStream(partial)) {
                out.write(PointText.MAPPER.writeValueAsBytes(PointText.of(found.point(), found.kept())));
                out.write('\n');
                for (Field field : found.kept()) {
                    out.write(PointText.bytes(field));
                }
            }
            Files.move(partial, file, StandardCopyOption.REPLACE_EXISTING, StandardCopyOption.ATOMIC_MOVE);
        } finally {
            Files.deleteIfExists(partial);
        }
    }

    /**
     * Reads a point.
     *
     * @param plan the plan that it is of
     * @return nothing when it is not there, or is not what was written
     * @throws IOException when it cannot be read
     */
    public static Optional<PointRun.Found> read(Path file, SweepPlan plan) throws IOException {
        if (!Files.exists(file)) {
            return Optional.empty();
        }
        byte[] bytes = Files.readAllBytes(file);
        int end = 0;
        while (end < bytes.length && bytes[end] != '\n') {
            end++;
        }
        JsonNode line = PointText.MAPPER.readTree(new String(bytes, 0, end, StandardCharsets.UTF_8));
        int values = line.path("values").asInt();
        if (!line.has("point") || bytes.length != end + 1L + 8L * values) {
            return Optional.empty();
        }
        List<Field> kept = new ArrayList<>();
        if (values > 0) {
            TileGrid grid = PointText.grid(line);
            int at = end + 1;
            for (String id : plan.kept()) {
                double[] numbers = new double[grid.size()];
                ByteBuffer.wrap(bytes, at, 8 * numbers.length)
                        .order(ByteOrder.LITTLE_ENDIAN)
                        .asDoubleBuffer()
                        .get(numbers);
                kept.add(Field.of(plan.job().fieldName(id), grid, numbers));
                at += 8 * numbers.length;
            }
        }
        return Optional.of(new PointRun.Found(PointText.point(line), kept));
    }
}
