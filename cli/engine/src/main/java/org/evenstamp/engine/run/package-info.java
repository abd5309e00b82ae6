/** A run of a job: its files hashed, its layout opened, its stages remembered. */
@NullMarked
package org.evenstamp.engine.run;

import org.jspecify.annotations.NullMarked;
