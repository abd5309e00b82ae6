/**
 * Materials as data: films, solvents, stamps, coatings and substrates, each a list of numbers that carry unit, published
 * spread, the temperatures they hold for, their standing and their source.
 *
 * <p>The {@link org.evenstamp.analysis.material.MaterialLibrary} reads them from a table of tab-separated text, the built-in
 * one and the user's alike; {@link org.evenstamp.analysis.material.FilmLaws} makes the flow law of a film from its numbers.
 * Names are generic. The built-in numbers are starting values: a film's own datasheet or measurement is better.
 */
@NullMarked
package org.evenstamp.analysis.material;

import org.jspecify.annotations.NullMarked;
