package org.evenstamp.shared.spi;

import java.util.List;
import org.evenstamp.shared.field.FieldName;

/**
 * A field that is demand over capacity: below 1 it holds, 1 is the limit, in every index of every analysis.
 *
 * @param field the field; its unit is 1
 * @param terms the fields that make it up, each with what lowers it. All have one unit: the term with the largest value in a
 *     tile dominates there. An index without parts is its own only term.
 */
public record Index(FieldName field, List<Remedy> terms) {
    /** Copies the list. */
    public Index {
        terms = List.copyOf(terms);
        if (terms.stream().map(term -> term.field().unit()).distinct().count() != 1) {
            throw new IllegalArgumentException("the index " + field.id() + " needs terms, all of one unit");
        }
        if (!field.unit().symbol().equals("1")) {
            throw new IllegalArgumentException("the index " + field.id() + " is a ratio, its unit must be 1");
        }
    }

    /** Returns an index that is its own only term. */
    public static Index of(FieldName field, String help) {
        return new Index(field, List.of(new Remedy(field, help)));
    }
}
