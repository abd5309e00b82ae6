package org.evenstamp.shared.spi.kit;

import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Arrays;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import org.assertj.core.api.ThrowableAssert.ThrowingCallable;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameters;
import org.junit.jupiter.api.Test;

/** The contract must catch those who break it. */
class AnalysisContractTest {
    private static final FieldName GIVEN = FieldName.of("given", "1", "given");
    private static final Parameter.Quantity DIVISOR =
            Parameter.Quantity.standard("test.divisor", "1", 2, 0, 10, "the fields are divided by it");

    @Test
    void an_honest_analysis_passes() {
        AnalysisContract contract = contract((context, divisor) -> value(context, Math.min(divisor, 1)));

        assertThatCode(contract::it_delivers_what_it_declared_on_any_grid).doesNotThrowAnyException();
        assertThatCode(contract::the_ends_of_every_range_run_or_are_refused).doesNotThrowAnyException();
        assertThatCode(contract::it_copes_with_a_stamp_without_cavities_and_one_without_protrusions)
                .doesNotThrowAnyException();
        assertThatCode(contract::the_same_input_gives_the_same_bits_with_any_number_of_threads)
                .doesNotThrowAnyException();
        assertThatCode(contract::stages_are_closed_and_a_wish_to_stop_is_heard_there)
                .doesNotThrowAnyException();
    }

    @Test
    void a_missing_field_is_caught() {
        assertCaught(
                contract((context, divisor) -> AnalysisResult.of(List.of()))::it_delivers_what_it_declared_on_any_grid);
    }

    @Test
    void a_gap_that_was_not_announced_is_caught() {
        assertCaught(
                contract((context, divisor) -> value(context, context.grid().columns() == 1 ? Double.NaN : 1))
                        ::it_delivers_what_it_declared_on_any_grid);
    }

    @Test
    void a_division_by_zero_at_the_end_of_a_range_is_caught() {
        assertThatThrownBy(
                        contract((context, divisor) -> value(context, 1 / divisor))
                                ::the_ends_of_every_range_run_or_are_refused)
                .hasMessageContaining("infinite");
    }

    @Test
    void an_answer_that_depends_on_the_threads_is_caught() {
        assertCaught(
                contract((context, divisor) -> value(context, context.threads()))
                        ::the_same_input_gives_the_same_bits_with_any_number_of_threads);
    }

    @Test
    void an_answer_that_changes_from_call_to_call_is_caught() {
        AtomicInteger calls = new AtomicInteger();
        assertCaught(
                contract((context, divisor) -> value(context, calls.incrementAndGet()))
                        ::the_same_input_gives_the_same_bits_with_any_number_of_threads);
    }

    @Test
    void a_stage_left_open_and_a_wish_to_stop_unheard_are_caught() {
        assertCaught(contract((context, divisor) -> {
            context.progress().stage("left open", 1, "steps");
            return value(context, 1);
        })::stages_are_closed_and_a_wish_to_stop_is_heard_there);
    }

    @Test
    void a_class_that_no_service_loader_can_make_is_caught() {
        assertThatThrownBy(
                        contract((context, divisor) -> value(context, 1))::the_provider_can_be_made_by_a_service_loader)
                .isInstanceOfAny(AssertionError.class, NoSuchMethodException.class);
    }

    private static void assertCaught(ThrowingCallable test) {
        assertThatThrownBy(test).isInstanceOf(AssertionError.class);
    }

    private static AnalysisResult value(AnalysisContext context, double value) {
        double[] values = new double[context.grid().size()];
        Arrays.fill(values, value);
        return AnalysisResult.of(List.of(Field.of(GIVEN, context.grid(), values)));
    }

    private interface Answer {
        AnalysisResult answer(AnalysisContext context, double divisor);
    }

    private static AnalysisContract contract(Answer answer) {
        AnalysisProvider provider = new AnalysisProvider() {
            @Override
            public AnalysisDescription description() {
                return new AnalysisDescription(
                        "test",
                        "made for a test",
                        List.of(DIVISOR),
                        List.of(TileFields.CAVITY_FRACTION),
                        List.of(),
                        List.of(GIVEN));
            }

            @Override
            public Analysis create(Parameters parameters) {
                return context -> answer.answer(context, parameters.quantity(DIVISOR.id()));
            }
        };
        return new AnalysisContract() {
            @Override
            protected AnalysisProvider provider() {
                return provider;
            }
        };
    }
}
