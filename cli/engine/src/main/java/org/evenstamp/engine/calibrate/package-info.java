/**
 * A job held against a measurement: {@link org.evenstamp.engine.calibrate.Readings} are the measured places, {@link
 * org.evenstamp.engine.calibrate.Calibration} finds the values of free keys with which the job agrees with them best, and {@link
 * org.evenstamp.engine.calibrate.CalibrationResult} says how well, how sure, what these places cannot tell, and where to measure
 * next.
 */
@NullMarked
package org.evenstamp.engine.calibrate;

import org.jspecify.annotations.NullMarked;
