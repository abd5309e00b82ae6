package org.evenstamp.analysis.imprint;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameters;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.UnitException;

/** One analysis on a small map of gratings, set up tile by tile with quantities as people write them. */
public final class Trial {
    private static final List<FieldName> HEIGHTS =
            List.of(ImprintFields.FEATURE_HEIGHT, ImprintFields.FEATURE_HEIGHT_MIN, ImprintFields.FEATURE_HEIGHT_MAX);

    private final TileGrid grid;
    private final AnalysisProvider provider;
    private final Map<String, double[]> fields = new LinkedHashMap<>();
    private final Map<String, FieldName> names = new HashMap<>();
    private final Map<String, String> inputs = new LinkedHashMap<>();
    private final List<Map<String, Double>> rows = new ArrayList<>();
    private final Progress progress = new Progress();
    private String table = "";

    /** An empty map of tiles of 100 um. */
    public Trial(AnalysisProvider provider, int columns, int rows) {
        this(provider, columns, rows, 100e-6);
    }

    /** An empty map. */
    public Trial(AnalysisProvider provider, int columns, int rows, double pitchMetres) {
        this.provider = provider;
        this.grid = new TileGrid(0, 0, pitchMetres, columns, rows);
        for (FieldName name : TileFields.all()) {
            boolean gaps = name.id().contains("width") || name.id().contains("depth");
            everywhere(name, gaps ? Double.NaN : 0);
        }
        HEIGHTS.forEach(name -> everywhere(name, Double.NaN));
    }

    /** The grid. */
    public TileGrid grid() {
        return grid;
    }

    /** Sets a field everywhere, SI. */
    public Trial everywhere(FieldName name, double value) {
        double[] values = new double[grid.size()];
        java.util.Arrays.fill(values, value);
        fields.put(name.id(), values);
        names.put(name.id(), name);
        return this;
    }

    /** Sets a field in one tile, SI; the others keep theirs or have no value. */
    public Trial tile(int tile, FieldName name, double value) {
        if (!fields.containsKey(name.id())) {
            everywhere(name, Double.NaN);
        }
        values(name)[tile] = value;
        return this;
    }

    /** Fills a tile with long lines: cavities of a width, protrusions of a width, SI. */
    public Trial lines(int tile, double cavity, double protrusion, double depth) {
        double period = cavity + protrusion;
        return features(tile, cavity / period, 2 / period, cavity, protrusion, depth);
    }

    /** Fills a tile with square cavities, which make pillars of film, on a square lattice, SI. */
    public Trial pillars(int tile, double side, double protrusion, double depth) {
        double period = side + protrusion;
        double square = period * period;
        return features(tile, side * side / square, 4 * side / square, side, protrusion, depth);
    }

    private Trial features(int tile, double fraction, double edges, double cavity, double protrusion, double depth) {
        tile(tile, TileFields.CAVITY_FRACTION, fraction);
        tile(tile, TileFields.CAVITY_VOLUME, fraction * depth);
        tile(tile, TileFields.CAVITY_DEPTH_MIN, depth);
        tile(tile, TileFields.CAVITY_DEPTH_MAX, depth);
        HEIGHTS.forEach(name -> tile(tile, name, depth));
        tile(tile, TileFields.EDGE_DENSITY, edges);
        tile(tile, TileFields.WALL_AREA, edges * depth);
        tile(tile, TileFields.CAVITY_WIDTH_MIN, cavity);
        return tile(tile, TileFields.PROTRUSION_WIDTH_MIN, protrusion);
    }

    /** Leaves features of three heights in a tile, SI: least, mean and largest. */
    public Trial standing(int tile, double least, double mean, double most) {
        tile(tile, ImprintFields.FEATURE_HEIGHT_MIN, least);
        tile(tile, ImprintFields.FEATURE_HEIGHT, mean);
        return tile(tile, ImprintFields.FEATURE_HEIGHT_MAX, most);
    }

    private double[] values(FieldName name) {
        double[] values = fields.get(name.id());
        if (values == null) {
            throw new IllegalStateException("no field " + name.id());
        }
        return values;
    }

    /** Gives a parameter as a person writes it. */
    public Trial given(String id, String value) {
        inputs.put(id, value);
        return this;
    }

    /** Adds a row to a table, SI. */
    public Trial row(String id, Map<String, Double> row) {
        table = id;
        rows.add(row);
        return this;
    }

    /** The parameters, with defaults. */
    public Parameters parameters() {
        Parameters.Builder builder = Parameters.builder();
        inputs.forEach((id, value) -> {
            try {
                builder.quantity(id, Quantity.parse(value).si());
            } catch (UnitException notANumber) {
                builder.choice(id, value);
            }
        });
        if (!rows.isEmpty()) {
            builder.table(table, rows);
        }
        List<Parameter> declared = provider.description().parameters();
        assertThat(declared).extracting(Parameter::id).containsAll(inputs.keySet());
        return builder.defaults(declared).build();
    }

    /** Asks the run to stop before it begins. */
    public Trial cancelled() {
        progress.cancel();
        return this;
    }

    /** Runs the analysis on the fields that it declares and checks that it gives what it declares. */
    public Answer run() {
        AnalysisDescription description = provider.description();
        List<FieldName> wanted = new ArrayList<>(description.needs());
        description.uses().stream()
                .filter(name -> fields.containsKey(name.id()))
                .forEach(wanted::add);
        List<Field> offered = new ArrayList<>();
        for (FieldName name : wanted) {
            offered.add(Field.of(name, grid, values(name)));
        }
        Analysis analysis = provider.create(parameters());
        FieldSet set = FieldSet.empty(grid).with(offered);
        AnalysisResult result = analysis.run(new AnalysisContext(grid, set, 1, progress));
        assertThat(result.fields()).extracting(Field::name).containsExactlyElementsOf(description.gives());
        return new Answer(result);
    }

    /** The result, to be asked by name. */
    public record Answer(AnalysisResult result) {
        /** The field with a name. */
        public Field field(FieldName name) {
            return result.fields().stream()
                    .filter(f -> f.name().equals(name))
                    .findFirst()
                    .orElseThrow();
        }

        /** The value of a field in a tile, SI. */
        public double at(FieldName name, int tile) {
            assertThat(field(name).known(tile)).as(name.id()).isTrue();
            return field(name).at(tile);
        }

        /** A figure, SI. */
        public double figure(String id) {
            return result.figures().stream()
                    .filter(f -> f.id().equals(id))
                    .findFirst()
                    .map(Figure::valueSi)
                    .orElseThrow();
        }

        /** The codes of the warnings. */
        public List<String> codes() {
            return result.warnings().stream().map(Finding.Warning::code).toList();
        }
    }
}
