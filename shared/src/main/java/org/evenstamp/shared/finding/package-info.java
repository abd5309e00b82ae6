/**
 * What a run has to say to a person beyond its numbers: limits, and the places where they are broken.
 */
@NullMarked
package org.evenstamp.shared.finding;

import org.jspecify.annotations.NullMarked;
