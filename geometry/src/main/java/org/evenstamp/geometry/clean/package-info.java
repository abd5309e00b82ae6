/**
 * Whether a drawn polygon is one, and how to mend it when it is not.
 *
 * <p>A polygon is sound when it obeys the OGC simple feature rules: every ring is simple (it neither crosses, touches nor
 * retraces itself), holes lie inside the outline, rings meet each other in single points at most, and the interior hangs
 * together. {@link org.evenstamp.geometry.clean.RingCheck} decides it quickly; {@link
 * org.evenstamp.geometry.clean.RingRepair} turns an unsound polygon into sound ones where that has an answer.
 */
@NullMarked
package org.evenstamp.geometry.clean;

import org.jspecify.annotations.NullMarked;
