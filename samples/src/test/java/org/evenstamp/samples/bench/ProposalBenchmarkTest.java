package org.evenstamp.samples.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ProposalBenchmarkTest {
    @Test
    void a_tiny_stamp_is_counted_in_forward_solves(@TempDir Path folder) throws IOException {
        Files.writeString(folder.resolve("block.geojson"), """
                {"type": "Feature", "properties": {}, "geometry": {"type": "Polygon", "coordinates":
                 [[[0, 0], [160, 0], [160, 320], [0, 320], [0, 0]]]}}
                """.replace("\n ", " "));
        Path job = folder.resolve("job.yaml");
        Files.writeString(job, """
                layout:
                  file: block.geojson
                  unit: um
                  drawn: cavities
                  outline: {min: ["0 um", "0 um"], max: ["640 um", "320 um"]}
                tiles: {side: "40 um", resolution: off}
                stamp: {depth: "150 nm", kind: bonded-layer, layer.modulus: "10 MPa", layer.poisson: "0.4 1", layer.thickness: "50 um"}
                film: {thickness: "250 nm", viscosity: "1e3 Pa s"}
                process: {pressure: "5 MPa", hold: "100 s"}
                dummy: {size: "5 um", gap: "5 um", spacing: "5 um", rim: "5 um", rounds: 1}
                """);

        String figures = ProposalBenchmark.run(job, 2);

        assertThat(figures).contains("\"tiles\": 128,", "\"rounds\": 1,").containsPattern("forward\": [0-9]");
    }
}
