package org.evenstamp.samples.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class DummyBenchmarkTest {
    @Test
    void a_tiny_run_writes_the_dummies_it_was_asked_for(@TempDir Path folder) throws IOException {
        Path file = folder.resolve("dummies.ndjson");
        String figures = DummyBenchmark.run(1600, 2, file, 4);
        assertThat(figures).contains("\"dummies\": 1600,", "\"tiles\": 16,", "\"short_tiles\": 0}");
        assertThat(Files.readAllLines(file)).hasSize(1600);
    }
}
