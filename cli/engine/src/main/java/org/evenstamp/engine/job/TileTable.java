package org.evenstamp.engine.job;

import java.nio.file.Path;
import java.util.List;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.grid.TileGrid;

/**
 * A layout that is known tile by tile and not drawn.
 *
 * @param file where it stands
 * @param asWritten how the job names it
 * @param grid the tiles
 * @param fields what is known of them, in the order of {@link org.evenstamp.shared.field.TileFields}
 */
public record TileTable(Path file, String asWritten, TileGrid grid, List<Field> fields) {
    /** Copies the list. */
    public TileTable {
        fields = List.copyOf(fields);
    }

    /** Returns the names of what is known. */
    public List<FieldName> names() {
        return fields.stream().map(Field::name).toList();
    }
}
