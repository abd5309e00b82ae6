package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.evenstamp.shared.spi.kit.Golden;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ManualCommandTest {
    /** Macros of man(7) and requests that the pages use. */
    private static final List<String> MACROS = List.of(".TH", ".SH", ".PP", ".TP", ".nf", ".fi", ".ad", ".nh", ".hy");

    @TempDir
    Path directory;

    private final TriedTool tool = new TriedTool();

    @Test
    void every_verb_has_a_page_with_all_its_options() throws IOException {
        assertThat(tool.run("manual", directory)).isZero();
        assertThat(tool.run("--help")).isZero();
        String main = Files.readString(directory.resolve("evenstamp.1"));
        List<String> verbs = tool.out
                .toString()
                .lines()
                .dropWhile(line -> !line.equals("Commands:"))
                .skip(1)
                .takeWhile(line -> line.startsWith("  "))
                .filter(line -> !line.startsWith("   "))
                .map(line -> line.strip().split(" +", 2)[0])
                .toList();
        assertThat(verbs).contains("run", "compare", "manual");
        for (String verb : verbs) {
            String page = Files.readString(directory.resolve("evenstamp-" + verb + ".1"));
            assertThat(main).contains("\\fB" + verb + "\\fR");
            TriedTool asked = new TriedTool();
            assertThat(asked.run(verb, "--help")).isZero();
            asked.out
                    .toString()
                    .lines()
                    .map(String::strip)
                    .filter(line -> line.startsWith("--"))
                    .map(line -> line.split("[ =,\\[]", 2)[0])
                    .forEach(option -> assertThat(page)
                            .as("%s of %s", option, verb)
                            .contains("\\fB" + option.replace("-", "\\-")));
        }
    }

    @Test
    void the_pages_hold_nothing_that_the_typesetter_would_mistake() throws IOException {
        assertThat(tool.run("manual", directory)).isZero();
        try (Stream<Path> pages = Files.list(directory)) {
            for (Path page : pages.toList()) {
                List<String> lines = Files.readAllLines(page);
                assertThat(lines.get(0)).startsWith(".TH EVENSTAMP").endsWith("\"evenstamp 1.2.3\"");
                assertThat(lines).allSatisfy(line -> {
                    assertThat(line).doesNotStartWith("'").doesNotContain("%n").doesNotContain("%%");
                    assertThat(!line.startsWith(".") || MACROS.contains(line.split(" ", 2)[0]))
                            .as(line)
                            .isTrue();
                    assertThat(line.replaceAll("\\\\(e|-|&|fB|fR)", "")).doesNotContain("\\");
                });
            }
        }
    }

    @Test
    void the_pages_and_the_completion_are_as_published() throws IOException {
        assertThat(tool.run("manual", directory)).isZero();
        try (Stream<Path> pages = Files.list(directory)) {
            for (Path page : pages.toList()) {
                Golden.check("src/test/resources/golden/manual/" + page.getFileName(), Files.readString(page));
            }
        }
        tool.out.getBuffer().setLength(0);
        assertThat(tool.run("completion")).isZero();
        Golden.check("src/test/resources/golden/completion.bash", tool.out.toString());
    }

    @Test
    void a_place_that_cannot_be_written_is_told() throws IOException {
        Path file = Files.writeString(directory.resolve("file"), "");

        assertThat(tool.run("manual", file)).isEqualTo(3);
        assertThat(tool.err.toString()).contains("cannot be written");
    }

    @Test
    void bash_takes_the_completion_and_completes_verbs_and_options() throws IOException, InterruptedException {
        assertThat(tool.run("completion")).isZero();
        Path script = Files.writeString(directory.resolve("try.sh"), tool.out + """
                        COMP_WORDS=(evenstamp com) COMP_CWORD=1 COMP_LINE="evenstamp com" COMP_POINT=13
                        _complete_evenstamp && echo "verbs: ${COMPREPLY[*]}"
                        COMP_WORDS=(evenstamp run --rep) COMP_CWORD=2 COMP_LINE="evenstamp run --rep" COMP_POINT=19
                        _complete_evenstamp && echo "options: ${COMPREPLY[*]}"
                        """);
        Process bash = new ProcessBuilder("bash", script.toString())
                .redirectErrorStream(true)
                .start();
        String said = new String(bash.getInputStream().readAllBytes(), java.nio.charset.StandardCharsets.UTF_8);
        assertThat(bash.waitFor()).as(said).isZero();
        assertThat(said).contains("verbs: compare completion").contains("options: --replace");
    }
}
