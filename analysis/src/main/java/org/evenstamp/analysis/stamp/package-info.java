/**
 * Whether the stamp survives: bending, contact peaks, dust.
 *
 * <p>{@link org.evenstamp.analysis.stamp.PlateBending} turns a deflection into surface stress, {@link
 * org.evenstamp.analysis.stamp.ParticleStandOff} says what one particle under a plate does, and {@link
 * org.evenstamp.analysis.stamp.StampSafetyProvider} compares both with a stated strength. A brittle stamp's strength
 * is a matter of its flaws: the margin is no promise, and whoever works at the press follows the makers' instructions and
 * wears what the site's rules ask for.
 */
@NullMarked
package org.evenstamp.analysis.stamp;

import org.jspecify.annotations.NullMarked;
