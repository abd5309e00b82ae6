package org.evenstamp.cluster;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Sweeps on a cluster within this process, from polygons through the whole tool to the files that are written. */
class SweepOnClusterTest {
    private static final String LOCAL = "flink://local";

    @TempDir
    Path directory;

    /** Two of six points cannot be computed: no film is thinner than nothing. */
    @BeforeEach
    void job() throws IOException {
        StringBuilder text = new StringBuilder();
        for (int x = 0; x < 400; x += 50) {
            text.append(String.format(
                    Locale.ROOT,
                    "POLYGON((%d 0, %d 0, %d 400, %d 400, %d 0))%n",
                    x + 10,
                    x + 30,
                    x + 30,
                    x + 10,
                    x + 10));
        }
        Files.createDirectories(directory.resolve("layouts"));
        Files.createDirectories(directory.resolve("jobs"));
        Files.writeString(directory.resolve("layouts/lines.wkt"), text);
        Files.writeString(directory.resolve("jobs/job.yaml"), """
                layout: {file: ../layouts/lines.wkt, unit: um, drawn: cavities, outline: {min: ["0 um", "0 um"], max: ["400 um", "400 um"]}}
                tiles: {side: "50 um"}
                stamp: {depth: "100 nm"}
                film: {thickness: "250 nm", viscosity: "1e4 Pa s"}
                process: {pressure: "5 MPa", hold: "20 s"}
                limits: {residual.local: {each: ">= 210 nm"}}
                sweep:
                  design: grid
                  keep: [residual.local]
                  vary:
                    - {key: film.thickness, values: ["-3 nm", "240 nm", "260 nm"]}
                    - {key: process.pressure, values: ["4 MPa", "5 MPa"]}
                """);
    }

    private ToolCall sweep(String out, Object... more) {
        return new ToolCall(Stream.concat(
                        Stream.of("sweep", directory.resolve("jobs/job.yaml"), "--out", directory.resolve(out)),
                        Stream.of(more))
                .toArray());
    }

    private List<Path> results(String out) throws IOException {
        try (Stream<Path> files = Files.walk(directory.resolve(out))) {
            return files.filter(Files::isRegularFile)
                    .map(directory.resolve(out)::relativize)
                    // in the order in which points ended
                    .filter(file ->
                            !List.of("journal.jsonl", "fields.dat", "lock").contains(file.toString()))
                    .sorted()
                    .toList();
        }
    }

    private void assertSameBytes(String one, String other) throws IOException {
        assertThat(results(one)).hasSizeGreaterThan(6).isEqualTo(results(other));
        for (Path file : results(one)) {
            assertThat(directory.resolve(other).resolve(file))
                    .hasSameBinaryContentAs(directory.resolve(one).resolve(file));
        }
    }

    private Path folder() throws IOException {
        try (Stream<Path> folders = Files.list(directory.resolve("store"))) {
            return folders.findFirst().orElseThrow();
        }
    }

    /** One story, because every part of it starts a cluster. */
    @Test
    void a_sweep_on_a_cluster_writes_the_same_bytes_and_goes_on_where_it_ended() throws IOException {
        ToolCall here = sweep("here", "--threads", 1);
        ToolCall there = sweep("there", "--engine", LOCAL, "--store", directory.resolve("store"), "--threads", 2);

        assertThat(there.err.toString()).isEqualTo(here.err.toString());
        assertThat(there.code).isEqualTo(here.code);
        assertThat(here.out.toString()).contains("2 runs could not be computed");
        assertSameBytes("here", "there");

        // The store goes away before the last point is there.
        Path shelf = PointFunction.file(folder(), 0).getParent();
        Files.delete(PointFunction.file(folder(), 5));
        Files.move(shelf, folder().resolve("kept"));
        Files.writeString(shelf, "whatever is written below this fails, as it does where a store is full or gone");

        ToolCall gone = sweep("again", "--engine", LOCAL, "--store", directory.resolve("store"));

        assertThat(gone.code).isEqualTo(3);
        assertThat(gone.err.toString()).contains("a worker cannot write here").contains("and run again");
        assertThat(gone.err.toString().lines()).hasSize(1);

        // It comes back. Whoever computed point 3 again would not find what stands there now.
        Files.delete(shelf);
        Files.move(folder().resolve("kept"), shelf);
        Path point = PointFunction.file(folder(), 3);
        String bytes = Files.readString(point, StandardCharsets.ISO_8859_1);
        Files.writeString(
                point, bytes.replaceFirst("\"limits\":\\[[^]]*", "\"limits\":[1.25e-7"), StandardCharsets.ISO_8859_1);

        assertThat(sweep("again", "--engine", LOCAL, "--store", directory.resolve("store")).code)
                .isEqualTo(here.code);

        List<String> first = Files.readAllLines(directory.resolve("here/points.csv"));
        List<String> second = Files.readAllLines(directory.resolve("again/points.csv"));
        assertThat(second.get(6)).isEqualTo(first.get(6));
        assertThat(second.get(4)).isNotEqualTo(first.get(4)).contains("125");
    }

    @Test
    void one_problem_says_what_is_wrong_with_the_engine_or_its_store() throws IOException {
        int port;
        try (ServerSocket free = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            port = free.getLocalPort();
        }
        assertProblem("no cluster answers there", "--engine", "flink://127.0.0.1:" + port, "--store", directory);
        assertProblem("this is no address of a cluster", "--engine", "flink://somewhere", "--store", directory);
        assertProblem("this is no address of an engine", "--engine", "local", "--store", directory);
        Path file = Files.writeString(directory.resolve("file"), "");
        assertProblem("the store cannot be used", "--engine", LOCAL, "--store", file);
    }

    private void assertProblem(String said, Object... options) {
        ToolCall call = sweep("out", options);
        assertThat(call.code).isEqualTo(3);
        assertThat(call.err.toString()).contains(said);
        assertThat(call.err.toString().lines()).hasSize(1);
    }

    @Test
    void engine_and_store_go_together() {
        assertThat(sweep("out", "--engine", LOCAL).code).isEqualTo(2);
        assertThat(sweep("out", "--store", directory).err.toString()).contains("--engine and --store go together");
    }
}
