/**
 * Whether patterns stay upright and keep their shape: the film's features after release, and the reliefs of a soft stamp
 * under pressure.
 *
 * <p>{@link org.evenstamp.analysis.standing.Pairing}, {@link org.evenstamp.analysis.standing.Buckling}, {@link
 * org.evenstamp.analysis.standing.RoofSag} and {@link org.evenstamp.analysis.standing.Levelling} are the laws; {@link
 * org.evenstamp.analysis.standing.StandingProvider} and {@link org.evenstamp.analysis.standing.SlumpProvider} ask them for
 * every tile. Each index is demand over capacity with 1 as the limit.
 */
@NullMarked
package org.evenstamp.analysis.standing;

import org.jspecify.annotations.NullMarked;
