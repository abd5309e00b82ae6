/**
 * The job file: what it may say, what it says, and everything that is wrong with it.
 *
 * <p>{@link org.evenstamp.engine.job.JobVocabulary} is the set of keys and fields that a job may name: the tool's own and
 * those of the analyses at hand. {@link org.evenstamp.engine.job.JobReader} turns a YAML or JSON file into a checked {@link
 * org.evenstamp.engine.job.Job}, or into all its problems at once, each with file, line and column. {@link
 * org.evenstamp.engine.job.JobSchema} writes the same vocabulary as a JSON Schema for editors.
 */
@NullMarked
package org.evenstamp.engine.job;

import org.jspecify.annotations.NullMarked;
