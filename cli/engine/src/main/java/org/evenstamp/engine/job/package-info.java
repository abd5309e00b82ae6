/**
 * The job: what it may say, what it says, and everything that is wrong with it.
 *
 * <p>{@link org.evenstamp.engine.job.Job} is a value, made in steps that each take the one before and look at nothing else:
 *
 * <ol>
 *   <li>{@link org.evenstamp.engine.job.JobText}: a YAML or JSON file as groups of keys, each with its line and column. It is read
 *       here and never again; a text that differs in a value is made from it.
 *   <li>{@code JobValues}: the values by what their keys may be, in SI. {@link org.evenstamp.engine.job.JobVocabulary} is the set
 *       of keys and fields that a job may name: the tool's own and those of the analyses at hand.
 *   <li>{@code Resolution}: these values completed by materials, film map and process, of which each file is read once.
 *   <li>{@code JobPlan}: the analyses that they are enough for.
 * </ol>
 *
 * <p>Every step adds its problems, each with file, line, column and key, and marks what it could not understand as doubtful, so
 * that later steps do not complain of what follows from it: one mistake is one problem. {@link
 * org.evenstamp.engine.job.JobSchema} writes the vocabulary as a JSON Schema for editors.
 */
@NullMarked
package org.evenstamp.engine.job;

import org.jspecify.annotations.NullMarked;
