package org.evenstamp.shared.field;

import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import org.evenstamp.shared.grid.TileGrid;

/** Fields of one grid by id, in the order they were added. Immutable. */
public final class FieldSet {
    private final TileGrid grid;
    private final Map<String, Field> fields;

    private FieldSet(TileGrid grid, Map<String, Field> fields) {
        this.grid = grid;
        this.fields = fields;
    }

    /** Returns a set without fields. */
    public static FieldSet empty(TileGrid grid) {
        return new FieldSet(grid, Map.of());
    }

    /**
     * Returns this set and more.
     *
     * @throws IllegalArgumentException when an id is there already or a field is on another grid
     */
    public FieldSet with(Collection<Field> more) {
        Map<String, Field> all = new LinkedHashMap<>(fields);
        for (Field field : more) {
            if (!field.grid().equals(grid)) {
                throw new IllegalArgumentException(field.name().id() + " is on another grid");
            }
            if (all.putIfAbsent(field.name().id(), field) != null) {
                throw new IllegalArgumentException(
                        "two fields with the id " + field.name().id());
            }
        }
        return new FieldSet(grid, all);
    }

    /** Returns the grid of all fields. */
    public TileGrid grid() {
        return grid;
    }

    /** Returns the field with this id, if it is here. */
    public Optional<Field> find(String id) {
        return Optional.ofNullable(fields.get(id));
    }

    /**
     * Returns the field with this name.
     *
     * @throws IllegalStateException when it is not here: whoever asks has not declared the need
     */
    public Field get(FieldName name) {
        return find(name.id()).orElseThrow(() -> new IllegalStateException("no field " + name.id() + " here"));
    }

    /** Returns all fields in the order they were added. */
    public Collection<Field> all() {
        return java.util.Collections.unmodifiableCollection(fields.values());
    }
}
