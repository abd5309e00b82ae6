/**
 * What the lamp does to the film, tile by tile: {@link org.evenstamp.analysis.cure.CureProvider} gives dose, conversion, gel time and shrinkage
 * by the laws of {@link org.evenstamp.analysis.process}.
 */
@NullMarked
package org.evenstamp.analysis.cure;

import org.jspecify.annotations.NullMarked;
