package org.evenstamp.shared.field;

import org.evenstamp.shared.unit.Unit;

/**
 * What a field is called, in which unit people read it, and what it means.
 *
 * @param id dotted lower-case words, such as {@code residual.local}
 * @param unit display unit; values themselves are SI
 * @param meaning one sentence for a person
 */
public record FieldName(String id, Unit unit, String meaning) {

    /** Checks the form of the id. */
    public FieldName {
        if (!id.matches("[a-z][a-z0-9]*(\\.[a-z0-9]+)*")) {
            throw new IllegalArgumentException("a field id is dotted lower-case words, was \"" + id + "\"");
        }
    }

    /** Makes a name from the unit's symbol. */
    public static FieldName of(String id, String unit, String meaning) {
        return new FieldName(id, Unit.parse(unit), meaning);
    }
}
