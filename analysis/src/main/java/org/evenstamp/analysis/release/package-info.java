/**
 * Taking the stamp off: what holds it, and where the film tears.
 *
 * <p>{@link org.evenstamp.analysis.release.Adhesion} is the work to part film and stamp, {@link
 * org.evenstamp.analysis.release.Grip} the pressure and bending by which shrinking film and drifting stamp hold each other,
 * {@link org.evenstamp.analysis.release.RootTension} the stress at a feature's foot while its walls slide, {@link
 * org.evenstamp.analysis.release.PeelFront} the line along which the stamp parts. {@link
 * org.evenstamp.analysis.release.ReleaseProvider} adds the terms up tile by tile and keeps each.
 */
@NullMarked
package org.evenstamp.analysis.release;

import org.jspecify.annotations.NullMarked;
