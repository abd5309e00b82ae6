/** Maps, curves and charts as PNG and SVG. */
@NullMarked
package org.evenstamp.output.picture;

import org.jspecify.annotations.NullMarked;
