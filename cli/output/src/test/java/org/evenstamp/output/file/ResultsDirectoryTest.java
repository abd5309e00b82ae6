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
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicReference;
import java.util.stream.Stream;
import org.evenstamp.shared.problem.InputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

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
    void a_file_that_a_thread_is_still_writing_is_waited_for_and_removed() throws Exception {
        CountDownLatch begun = new CountDownLatch(1);
        CountDownLatch goOn = new CountDownLatch(1);
        AtomicReference<Throwable> late = new AtomicReference<>();
        ResultsDirectory results = ResultsDirectory.open(target(), false);
        Thread writer = new Thread(() -> {
            results.add("slow.txt", file -> {
                begun.countDown();
                try {
                    goOn.await();
                } catch (InterruptedException e) {
                    throw new IllegalStateException(e);
                }
                Files.writeString(file, "x");
            });
            try {
                results.add("late.txt", "x");
            } catch (IllegalStateException e) {
                late.set(e);
            }
        });
        writer.start();
        begun.await();
        Thread closer = new Thread(results::close);
        closer.start();
        while (closer.isAlive() && closer.getState() != Thread.State.TIMED_WAITING) {
            Thread.onSpinWait();
        }
        goOn.countDown();
        closer.join();
        writer.join();

        assertThat(directory).isEmptyDirectory();
        assertThat(late.get()).hasMessageContaining("late.txt");
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
    void a_file_written_beside_one_that_was_added_is_replaced_with_it() throws IOException {
        for (String text : List.of("first", "second", "third")) {
            try (ResultsDirectory results = ResultsDirectory.open(target(), true)) {
                results.add("result.json", "{}");
                results.add("dummies.geojson", file -> Files.writeString(file.resolveSibling("both.txt"), text));
                results.publish();
                assertThat(results.kept()).isEmpty();
            }
            assertThat(target().resolve("both.txt")).hasContent(text);
        }
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

    /** Files of the user's own at every depth, one of them with the name of a new result, a link and an empty directory. */
    private void scatterNotes() throws IOException {
        Files.writeString(target().resolve("thesis.txt"), "years of work");
        Files.writeString(target().resolve("maps/my-notes.txt"), "look here");
        Files.createDirectories(target().resolve("maps/mine/deep"));
        Files.writeString(target().resolve("maps/mine/deep/a.png"), "my own picture");
        Files.writeString(target().resolve("tiles.csv"), "my own table");
        Files.createSymbolicLink(target().resolve("curves"), directory.resolve("elsewhere"));
    }

    private void notesAreThere() {
        assertThat(target().resolve("thesis.txt")).hasContent("years of work");
        assertThat(target().resolve("maps/my-notes.txt")).hasContent("look here");
        assertThat(target().resolve("maps/mine/deep/a.png")).hasContent("my own picture");
        assertThat(target().resolve("curves")).isSymbolicLink();
    }

    @Test
    void what_is_not_ours_stays_at_every_depth_and_is_named() throws IOException {
        publish("old", false);
        Files.createDirectories(directory.resolve("elsewhere"));
        Files.writeString(directory.resolve("elsewhere/x.csv"), "far away");
        scatterNotes();

        List<String> kept;
        try (ResultsDirectory results = ResultsDirectory.open(target(), true)) {
            results.add("result.json", "new");
            results.add("tiles.csv", "new table");
            results.publish();
            kept = results.kept();
        }

        assertThat(kept)
                .containsExactly("curves", "maps/mine/deep/a.png", "maps/my-notes.txt", "thesis.txt", "tiles.csv.kept");
        notesAreThere();
        assertThat(target().resolve("tiles.csv")).hasContent("new table");
        assertThat(target().resolve("tiles.csv.kept")).hasContent("my own table");
        assertThat(target().resolve("maps/a.png")).doesNotExist();
        assertThat(target().resolve("result.json")).hasContent("new");
        assertThat(directory.resolve("elsewhere/x.csv")).hasContent("far away");
        assertThat(entries()).containsExactly("elsewhere", "out");
    }

    @Test
    void results_without_a_list_of_files_are_known_by_their_names() throws IOException {
        publish("old", false);
        Files.delete(target().resolve(WrittenFiles.LIST));
        Files.writeString(target().resolve("maps/my-notes.txt"), "look here");

        publish("new", true);

        assertThat(target().resolve("maps/my-notes.txt")).hasContent("look here");
        assertThat(target().resolve("maps/a.png")).hasContent("new");
        assertThat(entries()).containsExactly("out");
    }

    @Test
    void a_symbolic_link_is_followed_and_not_replaced() throws IOException {
        Path real = directory.resolve("disk/real");
        Files.createDirectories(real.getParent());
        Files.createSymbolicLink(target(), Path.of("disk", "real"));

        publish("first", false);
        publish("second", true);

        assertThat(target()).isSymbolicLink();
        assertThat(real.resolve("result.json")).hasContent("second");
        assertThat(entries()).containsExactly("disk", "out");
        try (Stream<Path> beside = Files.list(real.getParent())) {
            assertThat(beside).containsExactly(real);
        }
    }

    @Test
    void a_link_to_itself_is_the_users_to_mend() throws IOException {
        Files.createSymbolicLink(target(), target());

        assertThatThrownBy(() -> ResultsDirectory.open(target(), true))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("too many symbolic links");
    }

    @Test
    void two_dots_are_taken_out_as_they_stand() throws IOException {
        try (ResultsDirectory results =
                ResultsDirectory.open(directory.resolve("nowhere/../out/maps/../../out"), false)) {
            results.add("result.json", "{}");
            results.publish();
        }

        assertThat(entries()).containsExactly("out");
    }

    @Test
    void of_two_runs_into_one_directory_one_wins_and_the_other_is_told() throws IOException {
        try (ResultsDirectory first = ResultsDirectory.open(target(), false)) {
            for (boolean replace : new boolean[] {false, true}) {
                assertThatThrownBy(() -> ResultsDirectory.open(target(), replace))
                        .isInstanceOf(InputException.class)
                        .hasMessageContaining("out: another evenstamp is writing there");
            }
            first.add("result.json", "first");
            first.publish();
        }

        assertThat(target().resolve("result.json")).hasContent("first");
        publish("second", true);
        assertThat(entries()).containsExactly("out");
    }

    @Test
    void where_somebody_else_made_results_meanwhile_they_stay() throws IOException {
        try (ResultsDirectory results = ResultsDirectory.open(target(), false)) {
            results.add("result.json", "mine");
            Files.createDirectories(target());
            Files.writeString(target().resolve("result.json"), "theirs");
            assertThatThrownBy(results::publish).isInstanceOf(InputException.class);
        }

        assertThat(target().resolve("result.json")).hasContent("theirs");
        assertThat(entries()).containsExactly("out");
    }

    /** The process is gone: nothing after this happens in it. */
    private static final class Killed extends Error {
        private static final long serialVersionUID = 1;
    }

    /** Replaces results and is killed before or after the n-th renaming; returns whether it came so far. */
    private boolean killedAt(int step, boolean after) {
        AtomicInteger moves = new AtomicInteger();
        ResultsDirectory results = ResultsDirectory.open(target(), true, (from, to) -> {
            boolean here = moves.incrementAndGet() == step;
            if (here && !after) {
                throw new Killed();
            }
            Files.move(from, to);
            if (here) {
                throw new Killed();
            }
        });
        results.add("result.json", "new");
        results.add("maps/a.png", "new");
        try {
            results.publish();
            return false;
        } catch (Killed e) {
            return true;
        } finally {
            results.forsake();
        }
    }

    @ParameterizedTest
    @ValueSource(booleans = {false, true})
    void a_process_killed_at_any_renaming_leaves_old_or_new_results_and_all_that_is_not_ours(boolean after)
            throws IOException {
        boolean killed = true;
        int step = 0;
        while (killed) {
            step++;
            try (Stream<Path> left = Files.walk(directory)) {
                for (Path path : left.sorted(java.util.Comparator.reverseOrder())
                        .filter(path -> !path.equals(directory))
                        .toList()) {
                    Files.delete(path);
                }
            }
            publish("old", false);
            scatterNotes();
            Files.delete(target().resolve("tiles.csv"));

            killed = killedAt(step, after);
            ResultsDirectory.putBack(target());

            assertThat(entries()).as("step %d", step).contains("out").noneMatch(name -> name.contains(".old-"));
            notesAreThere();
            assertThat(Files.readString(target().resolve("result.json")))
                    .isEqualTo(Files.readString(target().resolve("maps/a.png")))
                    .isIn("old", "new");
            publish("newest", true);
            notesAreThere();
            assertThat(target().resolve("result.json")).hasContent("newest");
            assertThat(entries()).as("swept after step %d", step).containsExactly("out");
        }
        assertThat(step).isEqualTo(7); // two renamings of directories, four of files that are not ours, and none
    }

    @Test
    void a_renaming_that_fails_puts_the_old_results_back() throws IOException {
        publish("old", false);
        AtomicInteger moves = new AtomicInteger();
        try (ResultsDirectory results = ResultsDirectory.open(target(), true, (from, to) -> {
            if (moves.incrementAndGet() == 2) {
                throw new FileSystemException(from.toString(), null, "No space left on device");
            }
            Files.move(from, to);
        })) {
            results.add("result.json", "new");
            assertThatThrownBy(results::publish).hasMessageContaining("No space left on device");
        }

        assertThat(target().resolve("result.json")).hasContent("old");
        assertThat(entries()).containsExactly("out");
    }

    @Test
    void what_only_looks_like_litter_is_not_swept() throws IOException {
        Files.createDirectories(directory.resolve(".out.partial-mine"));
        Files.createDirectories(directory.resolve(".other.partial-123"));
        Files.createDirectories(directory.resolve(".out.partial-123"));

        publish("new", false);

        assertThat(entries()).containsExactly(".other.partial-123", ".out.partial-mine", "out");
    }

    @Test
    void a_directory_without_a_result_is_not_replaced_but_an_empty_one_is_used() throws IOException {
        Files.createDirectories(target().resolve("maps"));
        assertThatThrownBy(() -> ResultsDirectory.open(target(), true))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("so it is not a directory of results");

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
