/** Holds fields against the limits that a job sets. */
@NullMarked
package org.evenstamp.analysis.limit;

import org.jspecify.annotations.NullMarked;
