/** What a run gives: fields, figures, curves, findings, and statistics of them. */
@NullMarked
package org.evenstamp.engine.result;

import org.jspecify.annotations.NullMarked;
