/**
 * Etch-back: removing the residual layer everywhere before the features are gone.
 *
 * <p>{@link org.evenstamp.analysis.etch.Uniformity} names the measures of evenness, {@link
 * org.evenstamp.analysis.etch.EtchWindow} holds the earliest and latest time that serve all tiles, {@link
 * org.evenstamp.analysis.etch.EtchProvider} turns both into maps. All etching starts together; the features lose height
 * at the same vertical rate as the residual layer and width at the lateral rate from both sides.
 */
@NullMarked
package org.evenstamp.analysis.etch;

import org.jspecify.annotations.NullMarked;
