/**
 * Long work counts, others look: a {@link org.evenstamp.shared.progress.Stage} is a counter that the worker raises and
 * the console samples. The same object carries the wish to stop.
 */
@NullMarked
package org.evenstamp.shared.progress;

import org.jspecify.annotations.NullMarked;
