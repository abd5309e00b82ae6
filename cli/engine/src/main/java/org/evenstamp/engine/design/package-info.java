/**
 * Proposals: dummies, drops, a film thickness, recipes, and how a changed stamp compares. Each is a function of a job that runs
 * what it needs and returns values.
 */
@NullMarked
package org.evenstamp.engine.design;

import org.jspecify.annotations.NullMarked;
