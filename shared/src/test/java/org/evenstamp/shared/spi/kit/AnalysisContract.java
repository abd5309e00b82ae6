package org.evenstamp.shared.spi.kit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.lang.reflect.Modifier;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Curve;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameters;
import org.junit.jupiter.api.Test;

/**
 * The contract of an analysis. Inherit, name the provider, and every test here runs on it:
 *
 * <pre>{@code
 * class MyAnalysisContractTest extends AnalysisContract {
 *     @Override
 *     protected AnalysisProvider provider() {
 *         return new MyAnalysis();
 *     }
 * }
 * }</pre>
 *
 * <p>Fields of the tile map come from {@link SampleFields}; other fields hold random numbers between 0 and 1 of their unit,
 * unless {@link #sample} gives better ones. Parameters have their default or the middle of their range, unless {@link
 * #adjust} sets others. That an analysis leaves its inputs alone needs no test: a {@link Field} cannot be changed.
 */
public abstract class AnalysisContract {
    private static final double PITCH = 100e-6;

    /** Returns the provider under test. */
    protected abstract AnalysisProvider provider();

    /** Sets parameters for which default or mid-range do not make sense together. */
    protected void adjust(Parameters.Builder parameters) {}

    /** Sets parameters that one word of a choice needs, beside those of {@link #adjust}. */
    protected void adjustTo(String choice, String word, Parameters.Builder parameters) {}

    /** Returns a field that the analysis reads and no tile map gives. */
    protected Field sample(FieldName name, TileGrid grid, long seed) {
        return SampleFields.numbers(name, grid, seed);
    }

    /** Returns the ids of the fields that may lack values in some tiles. */
    protected Set<String> fieldsWithGaps() {
        return Set.of();
    }

    @Test
    void the_provider_can_be_made_by_a_service_loader() throws NoSuchMethodException {
        Class<?> type = provider().getClass();

        assertThat(Modifier.isPublic(type.getModifiers())).as("public class").isTrue();
        assertThat(Modifier.isPublic(type.getConstructor().getModifiers()))
                .as("public constructor without arguments")
                .isTrue();
    }

    /** Its own constructor checks ids, texts and double declarations. */
    @Test
    void the_description_is_the_same_on_every_call_and_from_every_provider() throws ReflectiveOperationException {
        AnalysisProvider provider = provider();

        assertThat(provider.description()).isEqualTo(provider.description());
        assertThat(provider.getClass().getConstructor().newInstance().description())
                .isEqualTo(provider.description());
    }

    @Test
    void it_gives_something() {
        assertThat(provider().description().gives()).isNotEmpty();
    }

    @Test
    void fields_of_the_tile_map_are_read_by_their_own_names() {
        AnalysisDescription description = provider().description();
        for (FieldName tile : TileFields.all()) {
            read(description)
                    .filter(name -> name.id().equals(tile.id()))
                    .forEach(name -> assertThat(name).isEqualTo(tile));
            assertThat(description.gives())
                    .as("only the tile map gives it")
                    .noneMatch(name -> name.id().equals(tile.id()));
        }
    }

    @Test
    void it_delivers_what_it_declared_on_any_grid() {
        for (TileGrid grid : grids()) {
            for (boolean all : new boolean[] {false, true}) {
                checkResult(run(grid, SampleFields.random(grid, 1), all, 1, new Progress()), grid, all);
            }
        }
    }

    @Test
    void it_copes_with_a_stamp_without_cavities_and_one_without_protrusions() {
        TileGrid grid = new TileGrid(0, 0, PITCH, 3, 2);
        for (double fraction : new double[] {0, 0.5, 1}) {
            checkResult(run(grid, SampleFields.uniform(grid, fraction), true, 1, new Progress()), grid, fraction);
        }
    }

    @Test
    void every_choice_runs() {
        TileGrid grid = new TileGrid(0, 0, PITCH, 3, 2);
        for (Parameter parameter : provider().description().parameters()) {
            if (parameter instanceof Parameter.Choice choice) {
                for (String word : choice.options()) {
                    Parameters.Builder parameters = parameters(true).choice(choice.id(), word);
                    adjustTo(choice.id(), word, parameters);
                    checkResult(
                            run(grid, SampleFields.random(grid, 2), parameters, true, 1, new Progress()), grid, word);
                }
            }
        }
    }

    /** It may refuse what does not go together, but then says so to the user. */
    @Test
    void the_ends_of_every_range_run_or_are_refused() {
        TileGrid grid = new TileGrid(0, 0, PITCH, 3, 2);
        for (Parameter parameter : provider().description().parameters()) {
            if (parameter instanceof Parameter.Quantity quantity) {
                for (double end : new double[] {quantity.least(), quantity.most()}) {
                    String what =
                            quantity.id() + " = " + end + " " + quantity.unit().symbol();
                    Parameters.Builder parameters = parameters(true)
                            .quantity(quantity.id(), quantity.unit().toSi(end));
                    try {
                        checkResult(
                                run(grid, SampleFields.random(grid, 3), parameters, true, 1, new Progress()),
                                grid,
                                what);
                    } catch (InputException e) {
                        assertThat(e.problems()).as(what).isNotEmpty();
                    }
                }
            }
        }
    }

    @Test
    void the_same_input_gives_the_same_bits_with_any_number_of_threads() {
        TileGrid grid = new TileGrid(-1e-3, 2e-3, PITCH, 17, 11);
        FieldSet fields = SampleFields.random(grid, 4);
        List<String> once = bits(run(grid, fields, true, 1, new Progress()));

        assertThat(bits(run(grid, fields, true, 1, new Progress())))
                .as("a second time")
                .isEqualTo(once);
        assertThat(bits(run(grid, fields, true, 3, new Progress())))
                .as("three threads")
                .isEqualTo(once);
    }

    @Test
    void stages_are_closed_and_a_wish_to_stop_is_heard_there() {
        TileGrid grid = new TileGrid(0, 0, PITCH, 17, 11);
        FieldSet fields = SampleFields.random(grid, 5);
        Progress progress = new Progress();
        run(grid, fields, true, 2, progress);
        assertThat(progress.stages()).allMatch(Stage::closed);

        if (!progress.stages().isEmpty()) {
            Progress cancelled = new Progress();
            cancelled.cancel();
            assertThatThrownBy(() -> run(grid, fields, true, 2, cancelled)).isInstanceOf(CancelledException.class);
        }
    }

    private static List<TileGrid> grids() {
        return List.of(
                new TileGrid(0, 0, PITCH, 1, 1),
                new TileGrid(0, 0, PITCH, 7, 1),
                new TileGrid(0, 0, PITCH, 1, 5),
                new TileGrid(-1e-3, 2e-3, PITCH, 13, 9));
    }

    private static Stream<FieldName> read(AnalysisDescription description) {
        return Stream.concat(description.needs().stream(), description.uses().stream());
    }

    private AnalysisResult run(TileGrid grid, FieldSet tileMap, boolean all, int threads, Progress progress) {
        return run(grid, tileMap, parameters(all), all, threads, progress);
    }

    /** Runs with all optional fields and parameters, or with none of them. */
    private AnalysisResult run(
            TileGrid grid,
            FieldSet tileMap,
            Parameters.Builder parameters,
            boolean all,
            int threads,
            Progress progress) {
        AnalysisProvider provider = provider();
        AnalysisDescription description = provider.description();
        List<Field> fields = new ArrayList<>();
        List<FieldName> names = all ? read(description).toList() : description.needs();
        for (FieldName name : names) {
            fields.add(tileMap.find(name.id()).orElseGet(() -> sample(name, grid, 100 + fields.size())));
        }
        return provider.create(parameters.build())
                .run(new AnalysisContext(grid, FieldSet.empty(grid).with(fields), threads, progress));
    }

    private Parameters.Builder parameters(boolean all) {
        List<Parameter> declared = provider().description().parameters();
        Parameters.Builder parameters = Parameters.builder();
        for (Parameter parameter : declared) {
            if (parameter instanceof Parameter.Quantity q && q.standard().isEmpty() && (all || q.required())) {
                parameters.quantity(q.id(), q.unit().toSi(middle(q.least(), q.most())));
            }
        }
        adjust(parameters);
        return parameters.defaults(declared);
    }

    private static double middle(double least, double most) {
        return least > 0 ? Math.sqrt(least) * Math.sqrt(most) : least / 2 + most / 2;
    }

    private void checkResult(AnalysisResult result, TileGrid grid, Object what) {
        AnalysisDescription description = provider().description();
        assertThat(result.fields().stream().map(Field::name))
                .as("fields, %s, %s", what, grid)
                .containsExactlyInAnyOrderElementsOf(description.gives());
        for (Field field : result.fields()) {
            assertThat(field.grid()).as(field.name().id()).isEqualTo(grid);
            if (!fieldsWithGaps().contains(field.name().id())) {
                assertThat(field.knownCount())
                        .as("tiles with a value of %s, %s, %s", field.name().id(), what, grid)
                        .isEqualTo(grid.size());
            }
        }
        assertThat(result.figures().stream().map(Figure::id)).as("figures").doesNotHaveDuplicates();
        assertThat(result.curves().stream().map(Curve::id)).as("curves").doesNotHaveDuplicates();
        for (Finding.Warning warning : result.warnings()) {
            assertThat(warning.origin()).as("origin of %s", warning.code()).isEqualTo(description.id());
            assertThat(warning.code()).matches("[a-z][a-z0-9-]*(\\.[a-z0-9-]+)*");
            assertThat(warning.message()).isNotBlank().doesNotContain("NaN", "Infinity");
            if (warning.place() instanceof Place.Tile tile) {
                assertThat(tile).isEqualTo(Place.Tile.of(grid, grid.index(tile.column(), tile.row())));
            }
        }
    }

    /** Everything in a result, so written that two are equal only if every bit is. */
    private static List<String> bits(AnalysisResult result) {
        List<String> bits = new ArrayList<>();
        for (Field field : result.fields()) {
            bits.add(field.name().id() + " " + Arrays.toString(knownTiles(field)) + " "
                    + Arrays.toString(Arrays.stream(field.toArray())
                            .mapToLong(Double::doubleToRawLongBits)
                            .toArray()));
        }
        for (Figure figure : result.figures()) {
            bits.add(figure.id() + " " + Double.doubleToRawLongBits(figure.valueSi()));
        }
        for (Curve curve : result.curves()) {
            for (Curve.Column column : curve.columns()) {
                StringBuilder values = new StringBuilder(curve.id() + " " + column.name());
                for (int i = 0; i < column.length(); i++) {
                    values.append(' ').append(Double.doubleToRawLongBits(column.at(i)));
                }
                bits.add(values.toString());
            }
        }
        result.warnings().forEach(warning -> bits.add(warning.toString()));
        return bits;
    }

    private static boolean[] knownTiles(Field field) {
        boolean[] known = new boolean[field.grid().size()];
        for (int i = 0; i < known.length; i++) {
            known[i] = field.known(i);
        }
        return known;
    }
}
