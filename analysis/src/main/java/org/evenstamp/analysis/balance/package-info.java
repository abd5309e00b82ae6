/**
 * The balance of displaced volume: what the film thickness alone decides, before any solver.
 *
 * <p>The film is incompressible. Where nothing flows from tile to tile, a tile of cavity volume {@code v} per area turns a
 * film {@code h0} into a residual layer {@code h0 - v}; where {@code v > h0} its cavities starve. {@link
 * org.evenstamp.analysis.balance.BalanceProvider} reports that per tile, the surplus against the mean of the stamp, how far
 * the surplus has to travel until the residual layer is even, and how long a tile takes to fill when it bears just the
 * applied pressure.
 */
@NullMarked
package org.evenstamp.analysis.balance;

import org.jspecify.annotations.NullMarked;
