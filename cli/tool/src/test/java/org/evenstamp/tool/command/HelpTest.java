package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.evenstamp.shared.spi.kit.Golden;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import picocli.CommandLine;
import picocli.CommandLine.Help.Ansi;

/** What the help says, and that its examples work. */
class HelpTest {
    private static final Pattern WORD = Pattern.compile("\"([^\"]*)\"|(\\S+)");

    private static final Pattern PLACE = Pattern.compile("(first|trial|map|changed|dropped|~)($|/)");

    private static CommandLine line() {
        return Evenstamp.line(new TriedTool().context());
    }

    private static CommandLine verb(String name) {
        return Objects.requireNonNull(line().getSubcommands().get(name));
    }

    static Stream<String> verbs() {
        return line().getSubcommands().keySet().stream();
    }

    /** Returns the words of every example of a verb, without the name of the tool. */
    private static List<List<String>> examples(String verb) {
        List<List<String>> examples = new ArrayList<>();
        for (String footer : verb(verb).getCommandSpec().usageMessage().footer()) {
            List<String> words = new ArrayList<>();
            Matcher word = WORD.matcher(footer);
            while (word.find() && !word.group().equals(">")) { // what follows is the shell's
                words.add(word.group(1) == null ? word.group(2) : word.group(1));
            }
            if (!words.isEmpty() && words.remove(0).equals("evenstamp")) {
                examples.add(words);
            }
        }
        return examples;
    }

    @Test
    void the_help_of_the_tool_is_as_published() {
        Golden.check("src/test/resources/golden/help/evenstamp.txt", line().getUsageMessage(Ansi.OFF));
    }

    @ParameterizedTest
    @MethodSource("verbs")
    void the_help_of_a_verb_is_as_published(String verb) {
        Golden.check(
                "src/test/resources/golden/help/" + verb + ".txt", verb(verb).getUsageMessage(Ansi.OFF));
    }

    @ParameterizedTest
    @MethodSource("verbs")
    void every_verb_has_examples_that_the_command_line_takes(String verb) {
        assertThat(examples(verb))
                .isNotEmpty()
                .allSatisfy(words -> assertThat(
                                line().parseArgs(words.toArray(String[]::new)).subcommand())
                        .extracting(parsed -> parsed.commandSpec().name())
                        .isEqualTo(verb));
    }

    /** The first of each verb, and all of run, whose results are compared. */
    @Test
    @Tag("slow")
    void examples_run_for_someone_who_begins_with_the_starter_job(@TempDir Path directory) {
        List<String> order = new ArrayList<>(List.of("new", "check", "run"));
        // Watch has no end.
        verbs().filter(verb -> !order.contains(verb) && !verb.equals("watch")).forEach(order::add);
        for (String verb : order) {
            for (List<String> words :
                    verb.equals("run") ? examples(verb) : examples(verb).subList(0, 1)) {
                TriedTool tool = new TriedTool();
                Object[] here = words.stream()
                        .map(word -> PLACE.matcher(word).lookingAt()
                                ? directory.resolve(word).toString()
                                : word)
                        .toArray();

                assertThat(tool.run(here))
                        .as("%s%n%s%n%s", words, tool.out, tool.err)
                        .isZero();
            }
        }
    }
}
