/**
 * How a run ends: the {@link org.evenstamp.tool.exit.ExitCode} a script can rely on, and {@link
 * org.evenstamp.tool.exit.Failure}, which turns every exception into lines for a person and one of those codes.
 */
@NullMarked
package org.evenstamp.tool.exit;

import org.jspecify.annotations.NullMarked;
