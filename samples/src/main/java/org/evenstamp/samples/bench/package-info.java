/**
 * Benchmarks of whole processes: {@link org.evenstamp.samples.bench.BenchmarkMain} generates layouts, starts the program and
 * its yardsticks side by side and prints figures as JSON. {@code docs/performance.md} says how to run it and holds the last
 * figures. No test asserts a time.
 */
@NullMarked
package org.evenstamp.samples.bench;

import org.jspecify.annotations.NullMarked;
