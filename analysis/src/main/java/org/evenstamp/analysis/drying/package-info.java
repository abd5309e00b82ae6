/** Where a film that solvent has swollen is still soft: {@link org.evenstamp.analysis.drying.DryingProvider}. */
@NullMarked
package org.evenstamp.analysis.drying;

import org.jspecify.annotations.NullMarked;
