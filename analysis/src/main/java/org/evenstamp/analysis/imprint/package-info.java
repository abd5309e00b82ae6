/**
 * What the analyses after filling have in common: the fields they read, the materials' numbers they share, and the
 * {@link org.evenstamp.analysis.imprint.Relief}, the film's features as the tile map knows them.
 */
@NullMarked
package org.evenstamp.analysis.imprint;

import org.jspecify.annotations.NullMarked;
