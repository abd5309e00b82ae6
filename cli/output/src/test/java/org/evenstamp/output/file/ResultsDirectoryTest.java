package org.evenstamp.output.file;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.evenstamp.shared.problem.InputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ResultsDirectoryTest {
    @TempDir
    Path directory;

    private Path target() {
        return directory.resolve("out");
    }

    private void publish(String text, boolean replace) {
        try (ResultsDirectory results = ResultsDirectory.open(target(), replace)) {
            results.add("result.json", text);
            results.add("maps/a.png", text);
            results.publish();
        }
    }

    private List<String> entries() throws IOException {
        try (Stream<Path> list = Files.list(directory)) {
            return list.map(path -> path.getFileName().toString()).sorted().toList();
        }
    }

    @Test
    void nothing_is_at_the_target_before_everything_is_written() throws IOException {
        try (ResultsDirectory results = ResultsDirectory.open(target(), false)) {
            results.add("result.json", "{}");
            assertThat(target()).doesNotExist();
            results.publish();
        }

        assertThat(target().resolve("result.json")).hasContent("{}");
        assertThat(entries()).containsExactly("out");
    }

    @Test
    void what_was_not_published_is_removed() throws IOException {
        try (ResultsDirectory results = ResultsDirectory.open(target(), false)) {
            results.add("maps/a.png", "x");
        }

        assertThat(entries()).isEmpty();
    }

    @Test
    void old_results_are_refused_without_leave_to_replace() throws IOException {
        publish("old", false);

        assertThatThrownBy(() -> ResultsDirectory.open(target(), false))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("out: exists already")
                .hasMessageContaining("--replace");
        assertThat(target().resolve("result.json")).hasContent("old");
        assertThat(entries()).containsExactly("out");
    }

    @Test
    void old_results_stay_until_the_new_ones_are_complete() throws IOException {
        publish("old", false);

        try (ResultsDirectory results = ResultsDirectory.open(target(), true)) {
            results.add("result.json", "new");
            assertThat(target().resolve("result.json")).hasContent("old");
        }
        assertThat(target().resolve("result.json")).hasContent("old");

        publish("new", true);
        assertThat(target().resolve("result.json")).hasContent("new");
        assertThat(entries()).containsExactly("out");
    }

    @Test
    void a_directory_with_anything_else_in_it_is_never_replaced() throws IOException {
        publish("old", false);
        Files.writeString(target().resolve("thesis.txt"), "years of work");

        assertThatThrownBy(() -> ResultsDirectory.open(target(), true))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("holds thesis.txt, which is no result of evenstamp");
        assertThat(target().resolve("thesis.txt")).exists();
    }

    @Test
    void a_directory_without_a_result_is_not_replaced_but_an_empty_one_is_used() throws IOException {
        Files.createDirectories(target().resolve("maps"));
        assertThatThrownBy(() -> ResultsDirectory.open(target(), true))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("is not a directory of results");

        Files.delete(target().resolve("maps"));
        publish("new", false);
        assertThat(target().resolve("result.json")).hasContent("new");
    }

    @Test
    void a_file_in_the_place_is_refused() throws IOException {
        Files.writeString(target(), "text");

        assertThatThrownBy(() -> ResultsDirectory.open(target(), true))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("is a file");
    }

    @Test
    void a_place_below_a_file_is_refused() throws IOException {
        Files.writeString(target(), "text");

        assertThatThrownBy(() -> ResultsDirectory.open(target().resolve("deeper"), false))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("cannot be written")
                .hasMessageContaining("--out");
    }

    @Test
    void a_full_disk_is_told_with_the_file_and_leaves_nothing() throws IOException {
        try (ResultsDirectory results = ResultsDirectory.open(target(), false)) {
            assertThatThrownBy(() -> results.add("tiles.csv", file -> {
                        throw new FileSystemException(file.toString(), null, "No space left on device");
                    }))
                    .isInstanceOf(InputException.class)
                    .hasMessageContaining("out/tiles.csv: cannot be written: No space left on device")
                    .hasMessageContaining("make room");
            assertThatThrownBy(() -> results.add("tiles.csv", file -> {
                        throw new AccessDeniedException(file.toString());
                    }))
                    .hasMessageContaining("permission denied");
        }

        assertThat(entries()).isEmpty();
    }

    @Test
    void closing_twice_and_after_publishing_does_no_harm() {
        ResultsDirectory results = ResultsDirectory.open(target(), false);
        results.add("result.json", "{}");
        results.publish();

        assertThatCode(() -> {
                    results.close();
                    results.close();
                })
                .doesNotThrowAnyException();
        assertThat(target()).isDirectory();
    }
}
