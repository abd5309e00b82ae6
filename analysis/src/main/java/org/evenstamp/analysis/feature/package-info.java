/**
 * What stands on the residual layer when the stamp is off: the height of the film's features.
 *
 * <p>{@link org.evenstamp.analysis.feature.FilmLevel} divides the film of a tile among cavities of two depths, {@link
 * org.evenstamp.analysis.feature.FeatureProvider} does so tile by tile. All that comes after the press reads these heights, not the
 * stamp's depths.
 */
@NullMarked
package org.evenstamp.analysis.feature;

import org.jspecify.annotations.NullMarked;
