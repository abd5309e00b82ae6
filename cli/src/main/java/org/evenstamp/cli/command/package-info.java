/**
 * The verbs of the command line, a class each, and what they share: {@link org.evenstamp.cli.command.Surroundings}, the
 * world they run in, and {@link org.evenstamp.cli.command.Computation}, the way from a job to its results.
 *
 * <p>{@link org.evenstamp.cli.command.Evenstamp} puts them together; nothing but this package knows the command line
 * library.
 */
@NullMarked
package org.evenstamp.cli.command;

import org.jspecify.annotations.NullMarked;
