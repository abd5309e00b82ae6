/**
 * What a person sees while the tool works and when it is done: {@link org.evenstamp.cli.console.ProgressLine} on a
 * terminal, {@link org.evenstamp.cli.console.Summary} at the end, both through a {@link org.evenstamp.cli.console.Console}
 * that knows what the terminal can show.
 */
@NullMarked
package org.evenstamp.cli.console;

import org.jspecify.annotations.NullMarked;
