/**
 * Failure comes in two families. What the user can mend is a {@link org.evenstamp.shared.problem.Problem}, collected
 * with others and thrown once as an {@link org.evenstamp.shared.problem.InputException}. Everything else is our bug and
 * stays an ordinary unchecked exception. Only the outermost layer turns either into text and an exit code.
 */
@NullMarked
package org.evenstamp.shared.problem;

import org.jspecify.annotations.NullMarked;
