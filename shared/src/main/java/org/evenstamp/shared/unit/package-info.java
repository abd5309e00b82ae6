/**
 * Quantities at the edges: text such as {@code "30 MPa"} becomes a number in SI, and back.
 *
 * <p>Inside the tool every number is a bare {@code double} in SI; a {@link org.evenstamp.shared.unit.Unit} appears only
 * where a person or a file is spoken to. This is not a units library: it knows the units of this trade and no arithmetic
 * on quantities.
 */
@NullMarked
package org.evenstamp.shared.unit;

import org.jspecify.annotations.NullMarked;
