/**
 * Dispensed films: how many drops each tile needs and where they go ({@link org.evenstamp.analysis.drops.DropMap}), and
 * whether they meet in time ({@link org.evenstamp.analysis.drops.DropSpreading}).
 */
@NullMarked
package org.evenstamp.analysis.drops;

import org.jspecify.annotations.NullMarked;
