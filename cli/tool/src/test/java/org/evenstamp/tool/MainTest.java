package org.evenstamp.tool;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The tool as a process: colours, which depend on its context, and its exit codes. */
class MainTest {
    private static final String ESCAPE = "\u001b";

    private record Ended(int code, String said) {}

    private static Ended start(boolean terminal, String noColor, String... arguments)
            throws IOException, InterruptedException {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:TieredStopAtLevel=1",
                "-Devenstamp.terminal.out=" + terminal,
                "-Devenstamp.terminal.err=" + terminal,
                "-cp",
                System.getProperty("java.class.path"),
                Main.class.getName()));
        command.addAll(List.of(arguments));
        ProcessBuilder builder = new ProcessBuilder(command).redirectErrorStream(true);
        builder.environment().remove("NO_COLOR");
        if (!noColor.isEmpty()) {
            builder.environment().put("NO_COLOR", noColor);
        }
        Process process = builder.start();
        String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        return new Ended(process.waitFor(), said);
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
}
