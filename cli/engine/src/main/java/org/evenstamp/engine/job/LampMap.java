package org.evenstamp.engine.job;

import java.nio.file.Path;
import org.evenstamp.geometry.scatter.PointValues;

/**
 * The lamp of a job, measured at points.
 *
 * @param file the file
 * @param asWritten how the job names it
 * @param points the points, irradiance in W/m², positive
 * @param mean mean of the points, W/m²
 */
public record LampMap(Path file, String asWritten, PointValues points, double mean) {}
