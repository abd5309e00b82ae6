package org.evenstamp.cluster;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Path;
import java.util.List;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.shared.problem.InputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a worker refuses, and what the client hears of it. */
class WorkerTest {
    @TempDir
    Path directory;

    private SharedInputs inputs(String token, String version) {
        return new SharedInputs(directory.resolve("work").toString(), token, version, "job.yaml", List.of(), List.of());
    }

    private static InputException heard(Throwable failure) {
        // On its way through the engine the exception is wrapped, and its text becomes part of others.
        return WorkerProblem.in(new IllegalStateException("job failed", new RuntimeException("task: " + failure)))
                .orElseThrow();
    }

    @Test
    void a_worker_that_does_not_see_the_store_says_so() {
        try (StoreFolder store = StoreFolder.open(directory, "work")) {
            inputs(store.token(), Simulation.version()).check();

            assertThatThrownBy(() ->
                            inputs("of another store", Simulation.version()).check())
                    .satisfies(
                            e -> assertThat(heard(e).problems().get(0).code()).isEqualTo("engine.store-unseen"));
        }
    }

    @Test
    void a_worker_of_another_version_says_which() {
        try (StoreFolder store = StoreFolder.open(directory, "work")) {
            assertThatThrownBy(() -> inputs(store.token(), "0.0.1").check())
                    .satisfies(e -> assertThat(heard(e).problems().get(0).message())
                            .isEqualTo("the client is of version 0.0.1, a worker of " + Simulation.version()));
        }
    }

    @Test
    void a_second_client_of_the_same_work_is_refused_until_the_first_has_ended() {
        try (StoreFolder first = StoreFolder.open(directory, "work")) {
            assertThat(first.lastJob()).isEmpty();
            assertThatThrownBy(() -> StoreFolder.open(directory, "work"))
                    .isInstanceOf(InputException.class)
                    .hasMessageContaining("another process is running the same work");
            StoreFolder.open(directory, "other work").close();
        }
        StoreFolder.open(directory, "work").close();
    }
}
