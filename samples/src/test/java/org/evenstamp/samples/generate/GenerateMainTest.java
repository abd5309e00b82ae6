package org.evenstamp.samples.generate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class GenerateMainTest {
    @Test
    void writes_as_many_polygons_as_asked_for(@TempDir Path folder) throws IOException {
        Path file = folder.resolve("random.wkt");
        String[] command = {"random", "--polygons", "120", "--vertices", "8", "--width", "500 um", file.toString()};
        assertThat(GenerateMain.generate(command)).isEqualTo(120);
        assertThat(Files.readAllLines(file)).hasSize(120).allMatch(line -> line.startsWith("POLYGON (("));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "random",
                "FILE",
                "spiral FILE",
                "random --polygons",
                "random --colour 3 FILE",
                "random --polygons ten FILE",
                "random --polygons 0 FILE",
                "water-sensor --polygons 3 FILE"
            })
    void a_command_that_is_not_understood_leaves_an_old_file_alone(String command, @TempDir Path folder)
            throws IOException {
        Path file = Files.writeString(folder.resolve("old.wkt"), "old");
        String[] words = command.replace("FILE", file.toString()).split(" ", -1);
        assertThatIllegalArgumentException().isThrownBy(() -> GenerateMain.generate(words));
        assertThat(file).hasContent("old");
    }
}
