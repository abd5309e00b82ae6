/** Sample jobs, the generator that drew them, an example plug-in and the benchmarks. Nothing depends on this. */
@NullMarked
package org.evenstamp.samples;

import org.jspecify.annotations.NullMarked;
