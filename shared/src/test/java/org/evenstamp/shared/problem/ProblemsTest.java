package org.evenstamp.shared.problem;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import org.junit.jupiter.api.Test;

class ProblemsTest {
    @Test
    void all_problems_are_thrown_at_once_in_the_order_found() {
        Problems problems = new Problems();
        problems.add("job.unknown-key", "job.yaml:3:1", "unknown key \"flim\"", "did you mean \"film\"?");
        problems.add(new InputException("job.missing", "", "the job has no stamp", ""));

        assertThatThrownBy(problems::throwIfAny).isInstanceOfSatisfying(InputException.class, e -> {
            assertThat(e.problems()).extracting(Problem::code).containsExactly("job.unknown-key", "job.missing");
            assertThat(e)
                    .hasMessage("job.yaml:3:1: unknown key \"flim\" (did you mean \"film\"?)" + System.lineSeparator()
                            + "the job has no stamp");
        });
    }

    @Test
    void without_a_problem_nothing_is_thrown() {
        assertThat(new Problems().isEmpty()).isTrue();
        assertThatCode(new Problems()::throwIfAny).doesNotThrowAnyException();
        assertThatThrownBy(() -> new InputException(List.of())).isInstanceOf(IllegalArgumentException.class);
    }
}
