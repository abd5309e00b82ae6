package org.evenstamp.analysis.material;

import java.util.List;
import java.util.Optional;
import org.evenstamp.shared.problem.InputException;

/**
 * A material.
 *
 * @param kind what it is used as
 * @param id short name, unique within its kind
 * @param about one line for people
 * @param data its numbers, in the order of the file
 */
public record Material(MaterialKind kind, String id, String about, List<Datum> data) {
    /** Copies the numbers. */
    public Material {
        data = List.copyOf(data);
    }

    /** Returns all numbers of one property. */
    public List<Datum> all(Property property) {
        return data.stream().filter(datum -> datum.property() == property).toList();
    }

    /** Returns the first number of a property, if it has one. */
    public Optional<Datum> find(Property property) {
        return data.stream().filter(datum -> datum.property() == property).findFirst();
    }

    /**
     * Returns a number in SI.
     *
     * @throws InputException when the material lacks it
     */
    public double si(Property property) {
        return find(property)
                .orElseThrow(() -> new InputException(
                        "material.missing",
                        kind.word() + " " + id,
                        "nothing says what its " + property.word() + " is",
                        "add it in " + property.unit().symbol() + " to a material file"))
                .si();
    }
}
