/** Heat of a hot press from place to place: {@link org.evenstamp.analysis.heat.HeatProvider}. */
@NullMarked
package org.evenstamp.analysis.heat;

import org.jspecify.annotations.NullMarked;
