/** Recipes to start from: one of each kind of process that a film can take, proposed for a layout with its reasons. */
@NullMarked
package org.evenstamp.analysis.recipe;

import org.jspecify.annotations.NullMarked;
