/**
 * What a person sees while the tool works and when it is done: {@link org.evenstamp.tool.console.ProgressLine} on a
 * terminal, {@link org.evenstamp.tool.console.Summary} at the end, both through a {@link org.evenstamp.tool.console.Console}
 * that knows what the terminal can show.
 */
@NullMarked
package org.evenstamp.tool.console;

import org.jspecify.annotations.NullMarked;
