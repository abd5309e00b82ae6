package org.evenstamp.output.file;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.core.io.JsonStringEncoder;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.cfg.JsonNodeFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.BufferedWriter;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.evenstamp.engine.job.LengthUnit;
import org.evenstamp.engine.result.ResidualLayer;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.OpenLayout;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.layout.Stepped;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.geometry.read.LayoutFile;
import org.evenstamp.geometry.tile.Die;
import org.evenstamp.geometry.tile.TouchedTiles;
import org.evenstamp.output.text.ShortDecimal;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.progress.Progress;

/**
 * Writes the drawn features of a layout file again, each with the smallest and the largest value of some fields over the tiles
 * that it has a part of, all its copies and dies included. Values are properties such as {@code residual.final.min}, in the
 * field's display unit, null for a feature with nothing on the stamp.
 *
 * <p>Of GeoJSON every member, id and property of a feature is carried through, and its coordinates as they are drawn. Features of other formats
 * are written as GeoJSON in the file's unit, as they lie on the stamp, with the line on which they begin, and role and depth where
 * they have any.
 */
public final class FeaturesGeoJson {
    /** What colours a design, besides the residual layer. */
    private static final List<String> FIELDS = List.of("fill.time", "stress.frozen", "release.tear");

    private static final List<String> UNITS = List.of("um", "nm", "mm", "m", "cm", "pm");

    private static final JsonMapper MAPPER = JsonMapper.builder(JsonFactory.builder()
                    .streamReadConstraints(StreamReadConstraints.builder()
                            .maxStringLength(Integer.MAX_VALUE)
                            .maxNumberLength(10_000)
                            .build())
                    .build())
            .enable(DeserializationFeature.USE_BIG_DECIMAL_FOR_FLOATS)
            .enable(JsonGenerator.Feature.WRITE_BIGDECIMAL_AS_PLAIN)
            .disable(JsonNodeFeature.STRIP_TRAILING_BIGDECIMAL_ZEROES)
            .build();

    private final List<Field> fields;
    private final TouchedTiles touched;
    /** For every feature the smallest and the largest value of every field. */
    private double[] found = new double[1024];

    private FeaturesGeoJson(Results results) {
        fields = Stream.concat(
                        ResidualLayer.of(results.fields()).stream(),
                        FIELDS.stream().map(results.fields()::find).flatMap(Optional::stream))
                .toList();
        touched = new TouchedTiles(results.fields().grid());
        Arrays.fill(found, Double.NaN);
    }

    /** Returns the names of the files, one for each file of the layout. */
    public static List<String> names(OpenLayout layout) {
        int files = layout.choice().layers().size();
        List<String> names = new ArrayList<>();
        for (int i = 0; i < files; i++) {
            names.add(files == 1 ? "features.geojson" : "features/layer-" + (i + 1) + ".geojson");
        }
        return names;
    }

    /**
     * Writes the features of one file of a layout.
     *
     * @param layer which of its files, from 0
     */
    public static void write(Path out, Results results, OpenLayout layout, int layer, Progress progress)
            throws IOException {
        LayoutFile file = layout.source().files().get(layer);
        FeaturesGeoJson features = new FeaturesGeoJson(results);
        List<Die> dies =
                layout.choice().layers().get(layer).stepped() ? results.map().dies() : List.of();
        PolygonSource source = dies.isEmpty()
                ? file
                : new Stepped(file, dies.stream().map(Die::pose).toList(), Stepped.Wanted.ALL);
        source.forEach(() -> features::measure, 1, "values of features", progress);
        try (BufferedWriter to = Files.newBufferedWriter(out, StandardCharsets.UTF_8)) {
            switch (file.format()) {
                case GEOJSON, GEOJSON_LINES -> features.copy(file, to, progress);
                case WKT_LINES, WKB_HEX_LINES, CSV_WKT -> features.draw(file, to, progress);
            }
        }
    }

    private void measure(PackedPolygon polygon) {
        int at = Math.toIntExact(polygon.feature * 2 * fields.size());
        if (at + 2 * fields.size() > found.length) {
            int before = found.length;
            found = Arrays.copyOf(found, Math.max(2 * before, at + 2 * fields.size()));
            Arrays.fill(found, before, found.length, Double.NaN);
        }
        touched.of(polygon, tile -> {
            for (int f = 0; f < fields.size(); f++) {
                Field field = fields.get(f);
                if (field.known(tile)) {
                    double value = field.name().unit().fromSi(field.at(tile));
                    int low = at + 2 * f;
                    found[low] = Double.isNaN(found[low]) ? value : Math.min(found[low], value);
                    found[low + 1] = Double.isNaN(found[low + 1]) ? value : Math.max(found[low + 1], value);
                }
            }
        });
    }

    /** Returns a value of a feature; NaN where there is none. */
    private double value(long feature, int field, int end) {
        long at = feature * 2 * fields.size() + 2L * field + end;
        return at < found.length ? found[(int) at] : Double.NaN;
    }

    private String key(int field, int end) {
        return fields.get(field).name().id() + (end == 0 ? ".min" : ".max");
    }

    private void begin(BufferedWriter out, Optional<String> unit) throws IOException {
        StringBuilder line = new StringBuilder("{\"type\":\"FeatureCollection\",");
        unit.ifPresent(
                symbol -> line.append("\"units\":").append(quoted(symbol)).append(','));
        line.append("\"field_units\":{");
        for (int f = 0; f < fields.size(); f++) {
            line.append(f == 0 ? "\"" : ",\"")
                    .append(fields.get(f).name().id())
                    .append("\":")
                    .append(quoted(fields.get(f).name().unit().symbol()));
        }
        out.append(line.append("},\"features\":[\n"));
    }

    /** Returns the unit of a file's coordinates where there is a word for it. */
    private static Optional<String> unit(LayoutFile file) {
        return UNITS.stream()
                .filter(unit -> Math.abs(LengthUnit.metres(unit) / file.metresPerUnit() - 1) < 1e-12)
                .findFirst();
    }

    private static String quoted(String text) {
        return '"' + new String(JsonStringEncoder.getInstance().quoteAsString(text)) + '"';
    }

    /** Copies GeoJSON features with their values. */
    private void copy(LayoutFile file, BufferedWriter out, Progress progress) throws IOException {
        begin(out, unit(file));
        long[] number = {0};
        try (InputStream in = file.stream();
                JsonParser parser = MAPPER.createParser(in)) {
            while (parser.nextToken() != null) {
                if (parser.currentToken() == JsonToken.START_OBJECT) {
                    object(parser, out, number, progress);
                }
            }
        }
        out.append("\n]}\n");
    }

    /** Goes through one document: a collection, whose features are passed one at a time, or a feature or geometry. */
    private void object(JsonParser parser, BufferedWriter out, long[] number, Progress progress) throws IOException {
        ObjectNode own = MAPPER.createObjectNode();
        boolean collection = false;
        while (parser.nextToken() == JsonToken.FIELD_NAME) {
            String name = parser.currentName();
            JsonToken value = parser.nextToken();
            if (name.equals("features") && value == JsonToken.START_ARRAY) {
                collection = true;
                while (parser.nextToken() != JsonToken.END_ARRAY) {
                    progress.checkCancelled();
                    JsonNode feature = MAPPER.readTree(parser);
                    write(feature, out, number[0]++);
                }
            } else {
                own.set(name, MAPPER.readTree(parser));
            }
        }
        if (!collection) {
            write(own, out, number[0]++);
        }
    }

    private void write(JsonNode drawn, BufferedWriter out, long number) throws IOException {
        ObjectNode feature;
        if (drawn instanceof ObjectNode object && drawn.path("type").asText().equals("Feature")) {
            feature = object;
        } else {
            feature = MAPPER.createObjectNode().put("type", "Feature");
            feature.set("geometry", drawn);
        }
        ObjectNode properties =
                feature.get("properties") instanceof ObjectNode own ? own : feature.putObject("properties");
        for (int f = 0; f < fields.size(); f++) {
            for (int end = 0; end < 2; end++) {
                double value = value(number, f, end);
                if (Double.isNaN(value)) {
                    properties.putNull(key(f, end));
                } else {
                    properties.put(key(f, end), new BigDecimal(ShortDecimal.of(value)));
                }
            }
        }
        out.append(number == 0 ? "" : ",\n").append(MAPPER.writeValueAsString(feature));
    }

    /** Draws features of formats that have no place for properties. */
    private void draw(LayoutFile file, BufferedWriter out, Progress progress) throws IOException {
        begin(out, Optional.of("um"));
        Drawer drawer = new Drawer(out);
        try {
            file.forEach(() -> drawer, 1, "drawing features", progress);
            drawer.end();
        } catch (UncheckedIOException e) {
            throw e.getCause();
        }
        out.append("\n]}\n");
    }

    /** Puts the polygons of one feature after the other together. */
    private final class Drawer implements PolygonSink {
        private final BufferedWriter out;
        private final StringBuilder polygons = new StringBuilder();
        private long feature = -1;
        private long line;
        private Traits traits = Traits.NONE;
        private boolean any;

        Drawer(BufferedWriter out) {
            this.out = out;
        }

        @Override
        public void accept(PackedPolygon polygon) {
            if (polygon.feature != feature) {
                end();
                feature = polygon.feature;
                line = polygon.line;
                traits = polygon.traits;
            }
            polygons.append(polygons.isEmpty() ? "[" : ",[");
            for (int ring = 0; ring < polygon.rings; ring++) {
                polygons.append(ring == 0 ? "[" : ",[");
                int start = polygon.ringStart(ring);
                int count = polygon.ringEnd[ring] - start;
                for (int i = 0; i <= count; i++) {
                    int at = 2 * (start + i % count);
                    ShortDecimal.append(polygons.append(i == 0 ? "[" : ",["), micrometres(polygon.xy[at]));
                    ShortDecimal.append(polygons.append(','), micrometres(polygon.xy[at + 1]));
                    polygons.append(']');
                }
                polygons.append(']');
            }
            polygons.append(']');
        }

        /** Writes what was put together. */
        void end() {
            if (polygons.isEmpty()) {
                return;
            }
            StringBuilder text =
                    new StringBuilder(any ? ",\n" : "").append("{\"type\":\"Feature\",\"properties\":{\"line\":");
            text.append(line);
            if (traits.role() != null) {
                text.append(",\"role\":\"").append(traits.role().word()).append('"');
            }
            if (traits.depthMetres() != null) {
                ShortDecimal.append(text.append(",\"depth\":\""), traits.depthMetres() * 1e9);
                text.append(" nm\"");
            }
            for (int f = 0; f < fields.size(); f++) {
                for (int end = 0; end < 2; end++) {
                    double value = value(feature, f, end);
                    text.append(",\"").append(key(f, end)).append("\":");
                    if (Double.isNaN(value)) {
                        text.append("null");
                    } else {
                        ShortDecimal.append(text, value);
                    }
                }
            }
            text.append("},\"geometry\":{\"type\":\"MultiPolygon\",\"coordinates\":[")
                    .append(polygons)
                    .append("]}}");
            try {
                out.append(text);
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
            polygons.setLength(0);
            any = true;
        }

        /** A position in whole steps of a femtometre, which rounding leaves alone. */
        private static double micrometres(double metres) {
            return Math.rint(metres * 1e15) / 1e9;
        }
    }
}
