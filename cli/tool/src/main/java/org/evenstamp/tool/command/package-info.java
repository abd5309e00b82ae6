/**
 * The verbs of the command line, a class each, and what they share: {@link org.evenstamp.tool.command.ToolContext}, the
 * world they run in. A verb parses options, calls the engine, and prints or writes what it answers.
 *
 * <p>{@link org.evenstamp.tool.command.Evenstamp} puts them together; nothing but this package knows the command line
 * library.
 */
@NullMarked
package org.evenstamp.tool.command;

import org.jspecify.annotations.NullMarked;
