/**
 * How a film flows: viscosity against temperature, molar mass, shear rate and solvent, and how its thickness changes when
 * it swells, dries or cures.
 *
 * <p>A {@link org.evenstamp.analysis.rheology.ViscosityLaw} gives the zero-shear viscosity at a temperature; it refuses
 * below the glass temperature, where a film is a solid, and says outside its validity range that the number is an
 * extrapolation. {@link org.evenstamp.analysis.rheology.ShearThinning} lowers it at a shear rate,
 * {@link org.evenstamp.analysis.rheology.Plasticizer} moves the glass temperature, and a
 * {@link org.evenstamp.analysis.rheology.FilmLaw} puts these together for one film. Temperatures are absolute, logarithms
 * are to base 10.
 */
@NullMarked
package org.evenstamp.analysis.rheology;

import org.jspecify.annotations.NullMarked;
