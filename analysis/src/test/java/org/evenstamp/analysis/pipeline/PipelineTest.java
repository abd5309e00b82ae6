package org.evenstamp.analysis.pipeline;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.SplittableRandom;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameters;
import org.evenstamp.shared.spi.Snapshot;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

@Timeout(30)
class PipelineTest {
    private static final TileGrid GRID = new TileGrid(0, 0, 1e-4, 2, 1);

    @Test
    void an_analysis_runs_after_those_whose_fields_it_reads() {
        Fake last = Fake.of("last", List.of("b"), List.of("c"));
        Fake middle = Fake.of("middle", List.of("a"), List.of("b"));
        Fake first = Fake.of("first", List.of("tile"), List.of("a"));

        Outcome outcome = run(last, middle, first);

        assertThat(outcome.fields().get(Fake.name("c")).at(0)).isEqualTo(10 + 3);
        assertThat(outcome.fields().all())
                .extracting(field -> field.name().id())
                .containsExactly("tile", "c", "b", "a");
        assertThat(outcome.results())
                .extracting(answer -> answer.analysis().id())
                .containsExactly("last", "middle", "first");
    }

    @Test
    void a_used_field_is_waited_for_when_somebody_gives_it_and_done_without_when_not() {
        Fake reader = Fake.of("reader", List.of("tile"), List.of("r")).using("a", "nobodys");
        Fake giver = Fake.of("giver", List.of("tile"), List.of("a"));

        assertThat(run(reader, giver).fields().get(Fake.name("r")).at(0)).isEqualTo(1 + 10 + 11);
        assertThat(run(reader).fields().get(Fake.name("r")).at(0)).isEqualTo(1 + 10);
    }

    @Test
    void an_analysis_sees_the_fields_it_declared_and_no_others() {
        Fake nosy = Fake.of("nosy", List.of("a"), List.of("n")).running(context -> {
            assertThat(context.fields().all())
                    .extracting(field -> field.name().id())
                    .containsExactly("a");
            return Fake.sum(context, List.of("n"));
        });

        run(nosy, Fake.of("giver", List.of("tile"), List.of("a")));
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
    void any_order_of_finding_and_any_number_of_threads_give_the_same_fields(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        List<FoundAnalysis> analyses = new ArrayList<>();
        for (int i = 0; i < 12; i++) { // each reads the tile field and some of those before it
            List<String> needs = new ArrayList<>(List.of("tile"));
            for (int k = 0; k < i; k++) {
                if (random.nextInt(3) == 0) {
                    needs.add("f" + k);
                }
            }
            analyses.add(Fake.of("analysis" + i, needs, List.of("f" + i)).found());
        }
        Outcome plain = run(analyses, 1);
        Collections.shuffle(analyses, new java.util.Random(seed));
        Outcome shuffled = run(analyses, 4);

        for (Field field : plain.fields().all()) {
            assertThat(shuffled.fields().get(field.name()).toArray()).isEqualTo(field.toArray());
        }
        assertThat(shuffled.results()).extracting(Outcome.Answer::analysis).containsExactlyElementsOf(analyses);
    }

    /** Each waits for the other to have started: one after the other they would never end. */
    @Test
    void independent_analyses_run_side_by_side() {
        CyclicBarrier both = new CyclicBarrier(2);
        Fake one = meeting("one", both);
        Fake other = meeting("other", both);

        assertThat(run(Fake.found(one, other), 2).results()).hasSize(2);
    }

    private static Fake meeting(String id, CyclicBarrier barrier) {
        return Fake.of(id, List.of("tile"), List.of(id)).running(context -> {
            try {
                barrier.await(20, TimeUnit.SECONDS);
            } catch (Exception e) {
                throw new IllegalStateException(e);
            }
            return Fake.sum(context, List.of(id));
        });
    }

    @Test
    void what_lacks_parameters_or_fields_is_skipped_with_every_reason() {
        Fake poor = Fake.of("poor", List.of("tile"), List.of("p"));
        Fake dependent = Fake.of("dependent", List.of("p", "nobodys"), List.of("d"));
        Fake fine = Fake.of("fine", List.of("tile"), List.of("f"));

        Outcome outcome = new Pipeline(Fake.found(dependent, poor, fine))
                .plan(
                        tileNames(),
                        description -> description.id().equals("poor")
                                ? new GivenParameters.Lacking(List.of("film.viscosity"))
                                : complete())
                .run(tileMap(), 1, new Progress());

        assertThat(outcome.results())
                .extracting(answer -> answer.analysis().id())
                .containsExactly("fine");
        assertThat(outcome.skipped())
                .extracting(skipped -> skipped.analysis().id())
                .containsExactly("dependent", "poor");
        assertThat(outcome.skipped().get(0).reason())
                .contains("p comes from poor, which is skipped")
                .contains("nobody gives the field nobodys");
        assertThat(outcome.skipped().get(1).reason()).isEqualTo("the job does not give film.viscosity");
    }

    @Test
    void a_plan_names_what_will_be_delivered() {
        Plan plan = plan(Fake.found(
                Fake.of("second", List.of("a"), List.of("b")), Fake.of("first", List.of("tile"), List.of("a"))));

        assertThat(plan.fieldNames()).extracting(FieldName::id).containsExactly("tile", "b", "a");
        assertThat(plan.running()).extracting(FoundAnalysis::id).containsExactly("second", "first");
    }

    @Test
    void a_cycle_is_refused_naming_those_in_it() {
        List<FoundAnalysis> analyses = Fake.found(
                Fake.of("innocent", List.of("tile"), List.of("i")),
                Fake.of("hen", List.of("egg"), List.of("chick")),
                Fake.of("nest", List.of("chick"), List.of("egg")).using("i"));

        assertThatThrownBy(() -> new Pipeline(analyses))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("hen (class")
                .hasMessageContaining("nest (class")
                .hasMessageContaining("nest.jar")
                .hasMessageNotContaining("innocent");
    }

    @Test
    void all_conflicts_between_analyses_are_named_at_once() {
        Parameter nm = Parameter.Quantity.standard("film.thickness", "nm", 100, 1, 1000, "thickness");
        Parameter other = Parameter.Quantity.standard("film.thickness", "nm", 200, 1, 1000, "thickness");
        List<FoundAnalysis> analyses = Fake.found(
                Fake.of("a", List.of("tile"), List.of("x")).with(nm),
                Fake.of("b", List.of("tile"), List.of("x")).with(other),
                Fake.of("a", List.of("tile"), List.of("y", "cavity.volume")),
                Fake.of("c", List.of("cavity.fraction"), List.of("z")));

        InputException thrown = catchThrowableOfType(InputException.class, () -> new Pipeline(analyses));

        assertThat(thrown.problems())
                .extracting(Problem::code)
                .containsExactly(
                        "plugin.same-id",
                        "plugin.parameter",
                        "plugin.same-field",
                        "plugin.same-field",
                        "plugin.field-unit");
        assertThat(thrown)
                .hasMessageContaining("a.jar")
                .hasMessageContaining("b.jar")
                .hasMessageContaining("the tile map");
    }

    @Test
    void a_shared_parameter_may_be_required_by_one_and_not_by_another() {
        Parameter required = Parameter.Quantity.required("film.thickness", "nm", 1, 1000, "before the imprint");
        Parameter optional = Parameter.Quantity.optional("film.thickness", "nm", 1, 1000, "if known");
        List<FoundAnalysis> analyses = Fake.found(
                Fake.of("a", List.of(), List.of("x")).with(required),
                Fake.of("b", List.of(), List.of("y")).with(optional));

        assertThat(new Pipeline(analyses).analyses()).hasSize(2);
    }

    @Test
    void other_fields_than_declared_are_a_failure_of_that_analysis() {
        assertFailure(context -> Fake.sum(context, List.of()), "did not deliver what it declared: bad");
        assertFailure(context -> Fake.sum(context, List.of("bad", "more")), "field more, which it did not declare");
        assertFailure(context -> Fake.sum(context, List.of("bad", "bad")), "or twice");
        assertFailure(
                context -> AnalysisResult.of(
                        List.of(Field.of(FieldName.of("bad", "s", "a number"), context.grid(), new double[2]))),
                "but delivered");
        TileGrid elsewhere = new TileGrid(1, 0, 1e-4, 2, 1);
        assertFailure(
                context -> AnalysisResult.of(List.of(Field.of(Fake.name("bad"), elsewhere, new double[2]))),
                "another grid");
    }

    @Test
    void an_exception_is_a_failure_of_the_analysis_that_threw_it() {
        assertFailure(
                context -> {
                    throw new IllegalStateException("out of luck");
                },
                "out of luck");
        assertFailure(
                context -> {
                    throw new NoClassDefFoundError("lost.Library");
                },
                "lost.Library");
    }

    private static void assertFailure(org.evenstamp.shared.spi.Analysis bad, String message) {
        Fake fake = Fake.of("bad", List.of("tile"), List.of("bad")).running(bad);
        Fake dependent = Fake.of("dependent", List.of("bad"), List.of("d"));

        AnalysisFailure failure = catchThrowableOfType(AnalysisFailure.class, () -> run(dependent, fake));

        assertThat(failure.analysisId()).isEqualTo("bad");
        assertThat(failure).hasMessageContaining("bad.jar").hasMessageContaining(message);
    }

    @Test
    void refused_parameters_of_all_analyses_reach_the_user_at_once() {
        Fake one = Fake.of("one", List.of("tile"), List.of("a")).made(parameters -> {
            throw new InputException("one.bad", "film", "one does not like it", "");
        });
        Fake two = Fake.of("two", List.of("a"), List.of("b")).made(parameters -> {
            throw new InputException("two.bad", "film", "two does not either", "");
        });

        assertThatThrownBy(() -> plan(Fake.found(one, two)))
                .isInstanceOfSatisfying(
                        InputException.class,
                        e -> assertThat(e.problems()).extracting(Problem::code).containsExactly("one.bad", "two.bad"));
    }

    @Test
    void refused_input_of_all_running_analyses_reaches_the_user_at_once() {
        Fake one = refusing("one");
        Fake two = refusing("two");

        assertThatThrownBy(() -> run(one, two, Fake.of("after", List.of("one"), List.of("x"))))
                .isInstanceOfSatisfying(
                        InputException.class,
                        e -> assertThat(e.problems()).extracting(Problem::code).containsExactly("one.bad", "two.bad"));
    }

    private static Fake refusing(String id) {
        return Fake.of(id, List.of("tile"), List.of(id)).running(context -> {
            throw new InputException(id + ".bad", "film", "no", "");
        });
    }

    @Test
    void a_bug_while_making_an_analysis_is_its_failure() {
        Fake bad = Fake.of("bad", List.of("tile"), List.of("b")).made(parameters -> {
            throw new IllegalStateException("cannot");
        });

        assertThatThrownBy(() -> plan(Fake.found(bad)))
                .isInstanceOf(AnalysisFailure.class)
                .hasMessageContaining("cannot");
    }

    @Test
    void cancelling_ends_the_run_where_work_is_counted() {
        Progress progress = new Progress();
        Fake endless = Fake.of("endless", List.of("tile"), List.of("e")).running(context -> {
            try (Stage stage = context.progress().stage("endless", 0, "steps")) {
                while (true) {
                    stage.advance(1);
                    progress.cancel();
                }
            }
        });

        assertThatThrownBy(() -> plan(Fake.found(endless)).run(tileMap(), 2, progress))
                .isInstanceOf(CancelledException.class);
    }

    @Test
    void interrupting_the_caller_ends_the_run() throws InterruptedException {
        CountDownLatch started = new CountDownLatch(1);
        Fake endless = Fake.of("endless", List.of("tile"), List.of("e")).running(context -> {
            try (Stage stage = context.progress().stage("endless", 0, "steps")) {
                started.countDown();
                while (true) {
                    stage.advance(1);
                }
            }
        });
        AtomicReference<Throwable> ended = new AtomicReference<>();
        Thread caller = new Thread(() -> {
            try {
                plan(Fake.found(endless)).run(tileMap(), 1, new Progress());
            } catch (CancelledException e) {
                ended.set(e);
            }
        });
        caller.start();
        assertThat(started.await(20, TimeUnit.SECONDS)).isTrue();
        caller.interrupt();
        caller.join(20_000);

        assertThat(ended.get()).isInstanceOf(CancelledException.class);
    }

    @Test
    void warnings_come_in_the_order_of_finding() {
        Fake late = warning("late", List.of("early"));
        Fake early = warning("early", List.of("tile"));

        assertThat(run(late, early).warnings())
                .extracting(Finding.Warning::origin)
                .containsExactly("late", "early");
    }

    @Test
    void snapshots_are_of_given_fields_and_in_order() {
        FieldName own = Fake.name("own");
        FieldName strange = Fake.name("strange");

        assertThat(run(course(own, 1, 2)).results().get(0).result().snapshots()).hasSize(2);
        assertThatThrownBy(() -> run(course(own, 2, 2)))
                .isInstanceOf(AnalysisFailure.class)
                .hasMessageContaining("out of order");
        assertThatThrownBy(() -> run(course(strange, 1)))
                .isInstanceOf(AnalysisFailure.class)
                .hasMessageContaining("strange");
    }

    private static Fake course(FieldName name, double... seconds) {
        return Fake.of("own", List.of("tile"), List.of("own"))
                .running(context -> new AnalysisResult(
                        Fake.sum(context, List.of("own")).fields(),
                        List.of(),
                        List.of(),
                        List.of(),
                        Arrays.stream(seconds)
                                .mapToObj(time -> new Snapshot(
                                        time,
                                        Field.of(
                                                name,
                                                context.grid(),
                                                new double[context.grid().size()])))
                                .toList()));
    }

    private static Fake warning(String id, List<String> needs) {
        return Fake.of(id, needs, List.of(id))
                .running(context -> new AnalysisResult(
                        Fake.sum(context, List.of(id)).fields(),
                        List.of(),
                        List.of(),
                        List.of(new Finding.Warning(id, id + ".warning", "mind", new Place.WholeStamp()))));
    }

    private static Outcome run(Fake... fakes) {
        return run(Fake.found(fakes), 2);
    }

    private static Outcome run(List<FoundAnalysis> analyses, int threads) {
        return plan(analyses).run(tileMap(), threads, new Progress());
    }

    private static Plan plan(List<FoundAnalysis> analyses) {
        return new Pipeline(analyses).plan(tileNames(), PipelineTest::all);
    }

    private static GivenParameters all(AnalysisDescription description) {
        return complete();
    }

    private static GivenParameters complete() {
        return new GivenParameters.Complete(Parameters.builder().build());
    }

    private static List<FieldName> tileNames() {
        return List.of(Fake.name("tile"));
    }

    private static FieldSet tileMap() {
        double[] tens = new double[GRID.size()];
        Arrays.fill(tens, 10);
        return FieldSet.empty(GRID).with(List.of(Field.of(Fake.name("tile"), GRID, tens)));
    }
}
