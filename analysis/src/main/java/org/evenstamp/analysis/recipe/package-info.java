/**
 * From what a job names to the numbers the analyses need: materials and process answer what the job leaves out, and for a film
 * and a layout a first recipe of each kind is proposed.
 */
@NullMarked
package org.evenstamp.analysis.recipe;

import org.jspecify.annotations.NullMarked;
