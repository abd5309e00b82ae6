package org.evenstamp.samples.plugin;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.jar.JarEntry;
import java.util.jar.JarOutputStream;
import java.util.stream.Stream;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.analysis.pipeline.FoundAnalysis;
import org.evenstamp.analysis.pipeline.GivenParameters;
import org.evenstamp.analysis.pipeline.Outcome;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.spi.Parameters;
import org.evenstamp.shared.spi.kit.SampleFields;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The example comes in through the plug-in door, from a jar of what the build puts into the real one. */
class PluginJarTest {
    private static final Path CONTENT = Path.of("target", "plugin-classes");

    @TempDir
    Path plugins;

    @Test
    void the_example_is_not_found_without_its_directory() {
        assertThat(AnalysisFinder.find(List.of()))
                .extracting(FoundAnalysis::id)
                .contains("balance")
                .doesNotContain("contrast");
    }

    @Test
    void the_example_runs_beside_ours_from_its_jar() throws IOException {
        Path jar = plugins.resolve("contrast.jar");
        pack(jar);

        Pipeline pipeline = new Pipeline(AnalysisFinder.find(List.of(plugins)));

        assertThat(pipeline.analyses())
                .filteredOn(found -> found.id().equals("contrast"))
                .singleElement()
                .satisfies(found ->
                        assertThat(found.origin()).isEqualTo(jar.toRealPath().toString()));
        TileGrid grid = new TileGrid(0, 0, 1e-4, 5, 4);
        Outcome outcome = pipeline.plan(
                        TileFields.all(),
                        description -> description.id().equals("contrast")
                                ? new GivenParameters.Complete(Parameters.builder()
                                        .defaults(description.parameters())
                                        .build())
                                : new GivenParameters.Lacking(List.of("film.thickness")))
                .run(SampleFields.random(grid, 1), 2, new Progress());
        assertThat(outcome.fields().find("contrast.volume")).isPresent();
        assertThat(outcome.skipped())
                .anyMatch(skipped -> skipped.analysis().id().equals("balance"));
    }

    private static void pack(Path jar) throws IOException {
        try (OutputStream file = Files.newOutputStream(jar);
                JarOutputStream out = new JarOutputStream(file);
                Stream<Path> content = Files.walk(CONTENT)) {
            for (Path path : content.filter(Files::isRegularFile).sorted().toList()) {
                out.putNextEntry(
                        new JarEntry(CONTENT.relativize(path).toString().replace('\\', '/')));
                Files.copy(path, out);
            }
        }
    }
}
