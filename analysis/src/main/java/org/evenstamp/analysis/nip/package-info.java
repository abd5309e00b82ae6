/** What a roller's nip and the way behind it make of the patterns: filled in time, sprung back, flattened before the film has set. */
@NullMarked
package org.evenstamp.analysis.nip;

import org.jspecify.annotations.NullMarked;
