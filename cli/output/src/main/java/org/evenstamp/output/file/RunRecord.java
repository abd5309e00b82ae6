package org.evenstamp.output.file;

import com.fasterxml.jackson.core.io.JsonStringEncoder;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import org.evenstamp.output.text.ShortDecimal;

/**
 * What may differ between two runs of the same job; it stands apart from the results, in {@code run.json}.
 *
 * @param started when the run began
 * @param computeSeconds how long it computed, s
 * @param threads number of threads, at least 1
 */
public record RunRecord(Instant started, double computeSeconds, int threads) {
    /** Begins a record now. */
    public static RunRecord start(int threads) {
        return new RunRecord(Instant.now(), 0, threads);
    }

    /** Returns the record of the run that ends now. */
    public RunRecord end() {
        return new RunRecord(started, ChronoUnit.MILLIS.between(started, Instant.now()) * 1e-3, threads);
    }

    /** Returns {@code run.json}. */
    String json() {
        return "{\n  \"started\": \"" + started.truncatedTo(ChronoUnit.SECONDS) + "\",\n  \"compute_seconds\": "
                + ShortDecimal.of(Math.rint(computeSeconds * 1000) / 1000) + ",\n  \"threads\": " + threads
                + ",\n  \"java\": \""
                + new String(JsonStringEncoder.getInstance()
                        .quoteAsString(Runtime.version().toString()))
                + "\"\n}\n";
    }
}
