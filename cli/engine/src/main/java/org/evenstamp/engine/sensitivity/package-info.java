/** How the numbers that a job is about go with everything it says and with its drawing: the film solve asked backwards. */
@NullMarked
package org.evenstamp.engine.sensitivity;

import org.jspecify.annotations.NullMarked;
