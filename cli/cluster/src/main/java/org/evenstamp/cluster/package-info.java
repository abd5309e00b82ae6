/**
 * Runs sweeps and measures layouts on a cluster of Apache Flink. {@link org.evenstamp.cluster.FlinkEngine} is the door. The
 * client's side copies what goes in to a store that all see ({@link org.evenstamp.cluster.StoreFolder}), sends a job ({@link
 * org.evenstamp.cluster.Cluster}) and takes results out of the store; the workers' side ({@link
 * org.evenstamp.cluster.PointFunction}) writes one file for each piece of work, so that whatever ended stays, whoever is killed.
 */
@NullMarked
package org.evenstamp.cluster;

import org.jspecify.annotations.NullMarked;
