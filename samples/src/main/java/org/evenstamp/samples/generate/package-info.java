/**
 * Layouts made by rule and seed: {@link org.evenstamp.samples.generate.WaterSensorLayout} is the sample that the project
 * ships, {@link org.evenstamp.samples.generate.RandomLayout} makes layouts of any size for tests and benchmarks, and {@link
 * org.evenstamp.samples.generate.GenerateMain} writes either to a file. The same seed and options give the same bytes.
 */
@NullMarked
package org.evenstamp.samples.generate;

import org.jspecify.annotations.NullMarked;
