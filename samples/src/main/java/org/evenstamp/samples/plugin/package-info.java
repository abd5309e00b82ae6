/**
 * The smallest honest plug-in: one class, one field, one figure, one warning. Start your own from it.
 *
 * <p>A plug-in is a jar with a public class that implements {@link org.evenstamp.shared.spi.AnalysisProvider}, named in
 * {@code META-INF/services/org.evenstamp.shared.spi.AnalysisProvider} (here {@code src/main/plugin}). Put the jar into a
 * directory and name that with {@code --plugins}; the build leaves this one in {@code samples/target/plugins}. Its test
 * inherits what every analysis has to keep and adds what this one computes.
 */
@NullMarked
package org.evenstamp.samples.plugin;

import org.jspecify.annotations.NullMarked;
