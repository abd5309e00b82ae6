/**
 * Holds fields against limits: {@link org.evenstamp.analysis.limit.LimitCheck} says which limits of the job are broken, {@link
 * org.evenstamp.analysis.limit.Ranking} puts the worst places of all analyses in one order.
 */
@NullMarked
package org.evenstamp.analysis.limit;

import org.jspecify.annotations.NullMarked;
