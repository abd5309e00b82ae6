/**
 * Named maps over the tile grid: what one part of the tool measures and another reads.
 *
 * <p>{@link org.evenstamp.shared.field.FieldName} is id, display unit and meaning; {@link
 * org.evenstamp.shared.field.Field} is one read-only value a tile, in SI; {@link org.evenstamp.shared.field.FieldSet}
 * holds fields of one grid by id; {@link org.evenstamp.shared.field.TileFields} names the fields that the tile map
 * gives to every analysis.
 */
@NullMarked
package org.evenstamp.shared.field;

import org.jspecify.annotations.NullMarked;
