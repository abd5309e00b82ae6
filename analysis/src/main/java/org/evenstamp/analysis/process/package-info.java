/**
 * What the press does, and what a film makes of it: steps and ramps become histories of temperature, pressure and
 * viscosity that a film solver can follow, and the film itself is made by spinning or from drops.
 *
 * <p>A {@link org.evenstamp.analysis.process.ProcessKind} (hot press, UV press, solvent press, roller) turns the inputs
 * its users know into {@link org.evenstamp.analysis.process.ProcessStep}s; a user may also write the steps down.
 * {@link org.evenstamp.analysis.process.ProcessHistory} puts steps and film together, finds when the film starts to flow
 * and when it sets, and refuses processes that cannot work. {@link org.evenstamp.analysis.process.StefanSqueeze} integrates a
 * single protrusion through a history without any solver, as a reference. Beside these stand closed forms: the roller's
 * contact, thermal mismatch, capillarity, trapped gas, spin coating, drops.
 *
 * <p>Times are seconds from the start of the first step, temperatures absolute, pressures above the surroundings unless
 * said otherwise.
 */
@NullMarked
package org.evenstamp.analysis.process;

import org.jspecify.annotations.NullMarked;
