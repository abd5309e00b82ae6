package org.evenstamp.shared.field;

import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.evenstamp.shared.grid.TileGrid;
import org.jspecify.annotations.Nullable;

/** Fields of one grid by id, in the order they were added. Immutable. */
public final class FieldSet {
    private final TileGrid grid;
    private final Map<String, Field> fields;
    private final @Nullable LandLinks links;
    private final List<NamedRegion> regions;
    private final Map<FieldName, Double> numbers;

    private FieldSet(
            TileGrid grid,
            Map<String, Field> fields,
            @Nullable LandLinks links,
            List<NamedRegion> regions,
            Map<FieldName, Double> numbers) {
        this.grid = grid;
        this.fields = fields;
        this.links = links;
        this.regions = List.copyOf(regions);
        this.numbers = Map.copyOf(numbers);
    }

    /** Returns a set without fields. */
    public static FieldSet empty(TileGrid grid) {
        return new FieldSet(grid, Map.of(), null, List.of(), Map.of());
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
        return new FieldSet(grid, all, links, regions, numbers);
    }

    /** Returns this set and how the land of its tiles is linked. */
    public FieldSet with(LandLinks land) {
        return new FieldSet(grid, fields, land, regions, numbers);
    }

    /** Returns this set on a stamp with these regions, in the order in which they are told. */
    public FieldSet withRegions(List<NamedRegion> all) {
        return new FieldSet(grid, fields, links, all, numbers);
    }

    /** Returns this set and numbers of the whole stamp, in SI, by what they are called, for limits to look at. */
    public FieldSet withNumbers(Map<FieldName, Double> more) {
        Map<FieldName, Double> all = new LinkedHashMap<>(numbers);
        all.putAll(more);
        return new FieldSet(grid, fields, links, regions, all);
    }

    /** Returns the numbers of the whole stamp that limits may look at. */
    public Map<FieldName, Double> numbers() {
        return numbers;
    }

    /** Returns the regions of the stamp: those with a name of their own first, then {@link NamedRegion#FEATURES}. */
    public List<NamedRegion> regions() {
        return regions;
    }

    /** Returns the region of this name, if the stamp has it. */
    public Optional<NamedRegion> region(String name) {
        return regions.stream().filter(region -> region.name().equals(name)).findFirst();
    }

    /** Returns how the land of the tiles is linked, where a map was measured and not made up. */
    public Optional<LandLinks> links() {
        return Optional.ofNullable(links);
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
