package org.evenstamp.geometry.read;

/** Parses the features of one chunk after the other into an {@link FeatureCollector}. Every worker has its own. */
interface RecordParser {
    /**
     * Parses all features of a chunk.
     *
     * @throws org.evenstamp.shared.problem.InputException at the first error of syntax
     */
    void parse(Chunk chunk);
}
