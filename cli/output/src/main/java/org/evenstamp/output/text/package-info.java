/** Numbers and limits in words. */
@NullMarked
package org.evenstamp.output.text;

import org.jspecify.annotations.NullMarked;
