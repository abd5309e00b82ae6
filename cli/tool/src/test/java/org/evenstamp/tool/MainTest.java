package org.evenstamp.tool;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The tool as a process: colours, which depend on its context, and its exit codes. */
class MainTest {
    private static final String ESCAPE = "\u001b";

    @TempDir
    Path directory;

    private record Ended(int code, String said) {}

    private static Ended start(boolean terminal, String noColor, String... arguments)
            throws IOException, InterruptedException {
        List<String> command = command(List.of(arguments));
        command.add(1, "-Devenstamp.terminal.out=" + terminal);
        command.add(1, "-Devenstamp.terminal.err=" + terminal);
        ProcessBuilder builder = new ProcessBuilder(command).redirectErrorStream(true);
        builder.environment().remove("NO_COLOR");
        if (!noColor.isEmpty()) {
            builder.environment().put("NO_COLOR", noColor);
        }
        Process process = builder.start();
        String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        return new Ended(process.waitFor(), said);
    }

    private static List<String> command(List<String> arguments) {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:TieredStopAtLevel=1",
                "-cp",
                System.getProperty("java.class.path"),
                Main.class.getName()));
        command.addAll(arguments);
        return command;
    }

    @Test
    void a_terminal_gets_colours() throws IOException, InterruptedException {
        assertThat(start(true, "", "list", "analyses").said()).contains(ESCAPE);
    }

    @ParameterizedTest
    @ValueSource(strings = {"list", "--help"})
    void with_no_color_a_terminal_gets_none(String verb) throws IOException, InterruptedException {
        Ended ended = verb.equals("list") ? start(true, "1", "list", "analyses") : start(true, "1", verb);

        assertThat(ended.code()).isZero();
        assertThat(ended.said()).contains("film").doesNotContain(ESCAPE);
    }

    @ParameterizedTest
    @CsvSource({"list analyses, 0", "--help, 0", "press, 2", "check nowhere.yaml, 3"})
    void what_is_no_terminal_gets_none_and_the_exit_code_tells(String line, int code)
            throws IOException, InterruptedException {
        Ended ended = start(false, "", line.split(" "));

        assertThat(ended.code()).isEqualTo(code);
        assertThat(ended.said()).isNotBlank().doesNotContain(ESCAPE).doesNotContain("\r");
    }

    /** A device that takes nothing, as a full disk does. */
    @Test
    void output_that_cannot_be_written_is_exit_code_3() throws IOException, InterruptedException {
        Path full = Path.of("/dev/full");
        assumeTrue(Files.isWritable(full), "this system has no /dev/full");
        for (String verb : List.of("list fields", "list fields --json", "--help", "completion")) {
            List<String> command = command(List.of(verb.split(" ")));
            Process process = new ProcessBuilder(command)
                    .redirectOutput(full.toFile())
                    .redirectError(ProcessBuilder.Redirect.PIPE)
                    .start();
            String said = new String(process.getErrorStream().readAllBytes(), StandardCharsets.UTF_8);

            assertThat(process.waitFor()).as(verb).isEqualTo(3);
            assertThat(said).as(verb).contains("could not be written to standard output");
        }
    }

    @Test
    void too_little_memory_is_told_and_no_exit_code_that_means_something_else()
            throws IOException, InterruptedException {
        Path layout =
                Files.writeString(directory.resolve("layout.wkt"), "POLYGON ((0 0, 1000 0, 1000 1000, 0 1000, 0 0))\n");
        List<String> command =
                command(List.of("measure", layout.toString(), "--unit", "um", "--tile", "0.5 um", "--threads", "1"));
        command.add(1, "-Xmx40m");
        Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
        String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);

        assertThat(process.waitFor()).as(said).isEqualTo(3);
        assertThat(said).contains("memory").contains("-Xmx").doesNotContain("\tat ");
    }
}
