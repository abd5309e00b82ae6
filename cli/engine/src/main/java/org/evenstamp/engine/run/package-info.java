/**
 * A run of a job: {@link org.evenstamp.engine.run.Simulation} computes it and returns its results; {@link
 * org.evenstamp.engine.run.RunOptions} says how, {@link org.evenstamp.engine.run.StageMemory} what is left of runs before.
 */
@NullMarked
package org.evenstamp.engine.run;

import org.jspecify.annotations.NullMarked;
