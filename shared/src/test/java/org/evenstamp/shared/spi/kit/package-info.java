/**
 * What every analysis has to keep, as a test to inherit from: {@link org.evenstamp.shared.spi.kit.AnalysisContract}. It
 * comes as the test jar of this module, for ours and for a stranger's analyses alike.
 */
@NullMarked
package org.evenstamp.shared.spi.kit;

import org.jspecify.annotations.NullMarked;
