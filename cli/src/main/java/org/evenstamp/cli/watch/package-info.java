/**
 * What it takes to compute a job again and again: {@link org.evenstamp.cli.watch.Recall} remembers what a stage made from the
 * same things, {@link org.evenstamp.cli.watch.RecalledAnalysis} makes an analysis such a stage, and {@link
 * org.evenstamp.cli.watch.Changes} waits for files to change.
 */
@NullMarked
package org.evenstamp.cli.watch;

import org.jspecify.annotations.NullMarked;
