/** Waits for files to change. What a computation remembers meanwhile is in {@code engine.run}. */
@NullMarked
package org.evenstamp.tool.watch;

import org.jspecify.annotations.NullMarked;
