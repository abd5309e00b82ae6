/**
 * Dispensed films: how many drops each tile needs and where they go ({@link org.evenstamp.analysis.drops.DropMap}),
 * whether they meet in time ({@link org.evenstamp.analysis.drops.DropSpreading}), and the film that given drops make ({@link
 * org.evenstamp.analysis.drops.DispensedFilm}).
 */
@NullMarked
package org.evenstamp.analysis.drops;

import org.jspecify.annotations.NullMarked;
