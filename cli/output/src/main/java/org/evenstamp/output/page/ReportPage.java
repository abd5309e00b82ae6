package org.evenstamp.output.page;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.Base64;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.evenstamp.engine.result.FieldStatistics;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.result.TradeWords;
import org.evenstamp.geometry.draw.Sketch;
import org.evenstamp.output.file.JsonText;
import org.evenstamp.output.file.ResultJson;
import org.evenstamp.output.picture.ColourRange;
import org.evenstamp.output.picture.ColourScale;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.spi.Curve;
import org.evenstamp.shared.spi.Snapshot;
import org.evenstamp.shared.thread.Workers;

/** Writes {@code report.html}. The same run gives the same bytes, for any number of threads. */
public final class ReportPage {
    /** The versions must be those of the build: where they are not, the files are not found. */
    private static final String MAP_LIBRARY = "/META-INF/resources/webjars/ol/10.7.0/";

    private static final String PLOT_LIBRARY = "/META-INF/resources/webjars/uplot/1.6.30/";
    private static final String OURS = "/org/evenstamp/output/page/";
    private static final List<String> STYLES =
            List.of(MAP_LIBRARY + "ol.css", PLOT_LIBRARY + "dist/uPlot.min.css", OURS + "page.css");
    private static final List<String> SCRIPTS = List.of(
            MAP_LIBRARY + "dist/ol.js",
            PLOT_LIBRARY + "dist/uPlot.iife.min.js",
            OURS + "values.js",
            OURS + "map.js",
            OURS + "plots.js",
            OURS + "section.js",
            OURS + "places.js",
            OURS + "share.js",
            OURS + "words.js",
            OURS + "page.js");
    private static final Pattern PLACE = Pattern.compile("\\{\\{([a-z]+)}}");
    private static final int SCALE_STEPS = 32;

    private final PageContent content;
    /** Packed numbers by the id of the element that holds them. */
    private final Map<String, Packed.PackedField> numbers;

    private final Packed.PackedSketch sketch;

    private ReportPage(PageContent content, Map<String, Packed.PackedField> numbers, Packed.PackedSketch sketch) {
        this.content = content;
        this.numbers = numbers;
        this.sketch = sketch;
    }

    /**
     * Writes the page.
     *
     * @param threads number of threads, at least 1
     * @throws IllegalArgumentException when a snapshot or the other run is on another grid
     */
    public static void write(Path file, PageContent content, int threads) throws IOException {
        TileGrid grid = content.results().fields().grid();
        Map<String, Field> fields = fields(content);
        PageContent.Other other = content.other();
        if (other != null && !other.fields().grid().equals(grid)) {
            throw new IllegalArgumentException(other.name() + " is on another grid than the results");
        }
        fields.values().forEach(field -> {
            if (!field.grid().equals(grid)) {
                throw new IllegalArgumentException(field.name().id() + " is on another grid than the results");
            }
        });
        List<Map.Entry<String, Field>> order = List.copyOf(fields.entrySet());
        Map<String, Packed.PackedField> numbers = new LinkedHashMap<>();
        List<Packed.PackedField> packed = Workers.map(order, threads, entry -> Packed.field(entry.getValue()));
        for (int i = 0; i < order.size(); i++) {
            numbers.put(order.get(i).getKey(), packed.get(i));
        }
        double extent = grid.pitchMetres() * Math.max(grid.columns(), grid.rows());
        Packed.PackedSketch sketch =
                Packed.sketch(content.sketch(), extent, grid.originXMetres(), grid.originYMetres());
        try (OutputStream bytes = Files.newOutputStream(file); // a writer on a full disk leaves it open
                BufferedWriter out = new BufferedWriter(
                        new OutputStreamWriter(bytes, StandardCharsets.UTF_8))) { // takes half characters
            new ReportPage(content, numbers, sketch).write(out);
        }
    }

    /** Returns all fields of the page by the id of the element that will hold their numbers. */
    private static Map<String, Field> fields(PageContent content) {
        Map<String, Field> fields = new LinkedHashMap<>();
        int number = 0;
        for (Field field : content.results().fields().all()) {
            fields.put("field-" + number, field);
            PageContent.Other other = content.other();
            Field same = other == null
                    ? null
                    : other.fields().find(field.name().id()).orElse(null);
            if (same != null) {
                fields.put("other-" + number, same);
            }
            number++;
        }
        content.results().snapshots().forEach((id, course) -> {
            for (int i = 0; i < course.size(); i++) {
                Field state = course.get(i).field();
                if (!isResult(content, state)) {
                    fields.put(snapshot(id, i), state);
                }
            }
        });
        return fields;
    }

    /** Returns whether a state is the field itself, which the page has already. */
    private static boolean isResult(PageContent content, Field state) {
        return content.results().fields().get(state.name()) == state;
    }

    private static String snapshot(String fieldId, int number) {
        return "snapshot-" + fieldId + "-" + number;
    }

    private void write(BufferedWriter out) throws IOException {
        List<String> styles = new ArrayList<>();
        for (String name : STYLES) {
            styles.add(resource(name));
        }
        List<String> scripts = new ArrayList<>();
        for (String name : SCRIPTS) {
            // A map of the source is not there, and asking for it would be a request.
            scripts.add(resource(name).replaceAll("(?m)^//# sourceMappingURL=.*$", ""));
        }
        Results results = content.results();
        String skeleton = resource(OURS + "page.html");
        Matcher place = PLACE.matcher(skeleton);
        int done = 0;
        while (place.find()) {
            out.append(skeleton, done, place.start());
            done = place.end();
            switch (place.group(1)) {
                case "policy" -> out.append(policy(styles, scripts));
                case "title" -> out.append(escaped(results.title()));
                case "version" -> out.append(escaped(results.toolVersion()));
                case "verdict" -> out.append(escaped(verdict(results)));
                case "mood" -> out.append(mood(results));
                case "styles" -> {
                    for (String style : styles) {
                        out.append("<style>").append(style).append("</style>\n");
                    }
                }
                case "result" -> out.append(inert(ResultJson.write(results)));
                case "view" -> out.append(inert(view()));
                case "helplink" ->
                    out.append(content.help() == null ? "" : "<a href=\"#part-help\">What would help</a>");
                case "help" ->
                    out.append(content.help() == null ? "" : new HelpPart(content.help(), ReportPage::escaped).html());
                case "numbers" -> numbers(out);
                case "scripts" -> {
                    for (String script : scripts) {
                        out.append("<script>").append(script).append("</script>\n");
                    }
                }
                default -> throw new IllegalStateException("no content for " + place.group());
            }
        }
        out.append(skeleton, done, skeleton.length());
    }

    private static String mood(Results results) {
        if (results.unfilled().isPresent() || !results.broken().isEmpty()) {
            return "bad";
        }
        return results.limits().isEmpty() ? "open" : "good";
    }

    /** Returns what became of the limits, and before it, whatever they are, that cavities are not full. */
    private static String verdict(Results results) {
        return results.incomplete()
                        .map(warning -> "T" + warning.message().substring(1) + "; ")
                        .orElse("")
                + results.unfilled()
                        .map(unfilled -> "N" + unfilled.sentence().substring(1) + "; ")
                        .orElse("")
                + ofLimits(results)
                + (results.close().isEmpty()
                        ? ""
                        : "; too close to call on these tiles: " + Limit.subjects(results.close()));
    }

    private static String ofLimits(Results results) {
        int limits = results.limits().size();
        int broken = results.broken().size();
        if (limits == 0) {
            return "No limits set";
        }
        if (broken > 0) {
            return broken + " of " + limits + (limits == 1 ? " limit" : " limits") + " exceeded";
        }
        return limits == 1 ? "Within the limit" : "Within all " + limits + " limits";
    }

    private void numbers(BufferedWriter out) throws IOException {
        for (var entry : numbers.entrySet()) {
            out.append("<script type=\"text/plain\" id=\"")
                    .append(entry.getKey())
                    .append("\">");
            out.append(entry.getValue().text()).append("</script>\n");
        }
        out.append("<script type=\"text/plain\" id=\"sketch\">")
                .append(sketch.text())
                .append("</script>\n");
    }

    /** What the page needs beside {@code result.json}. */
    private String view() {
        return JsonText.object(json -> {
            json.list("scale", list -> {
                for (int i = 0; i <= SCALE_STEPS; i++) {
                    list.item(String.format(Locale.ROOT, "#%06x", ColourScale.at(i / (double) SCALE_STEPS)));
                }
            });
            json.list("fields", list -> {
                int number = 0;
                for (Field field : content.results().fields().all()) {
                    int n = number++;
                    list.item(item -> field(item, field, n));
                }
            });
            json.list("snapshots", list -> {
                for (var course : content.results().snapshots().entrySet()) {
                    list.item(item -> item.text("field", course.getKey()).list("at", inner -> {
                        for (int i = 0; i < course.getValue().size(); i++) {
                            Snapshot state = course.getValue().get(i);
                            boolean last = isResult(content, state.field());
                            String element = last ? "" : snapshot(course.getKey(), i);
                            inner.item(one -> one.text("element", element)
                                    .whole("bytes", bytes(element))
                                    .number("seconds", state.seconds()));
                        }
                    }));
                }
            });
            PageContent.Other other = content.other();
            json.text("other", other == null ? "" : other.name());
            json.list("curves", list -> {
                for (Results.AnalysisPart part : content.results().analyses()) {
                    for (Curve curve : part.curves()) {
                        list.item(item -> curve(item, part.id(), curve));
                    }
                }
            });
            json.list("parameters", list -> {
                for (PageContent.UsedParameter one : content.written().parameters()) {
                    list.item(item -> item.text("id", one.id())
                            .text("value", one.value())
                            .whole("given", one.given() ? 1 : 0)
                            .text("analyses", String.join(", ", one.analyses()))
                            .text("meaning", one.meaning()));
                }
            });
            json.text("written", content.written().text());
            Double depth = content.written().depthMetres();
            json.number("depth_nm", depth == null ? 0 : depth * 1e9);
            json.group("sketch", this::sketch);
            json.text("licences", licences());
        });
    }

    private long bytes(String element) {
        Packed.PackedField packed = numbers.get(element);
        return packed == null ? 0 : packed.bytes();
    }

    private void field(JsonText json, Field field, int number) throws IOException {
        json.text("id", field.name().id()).whole("bytes", bytes("field-" + number));
        json.whole("other", bytes("other-" + number));
        json.text(
                "also",
                String.join(
                        ", ",
                        TradeWords.of(field.name().id() + " " + field.name().meaning())));
        if (FieldStatistics.of(field).known() > 0) {
            ColourRange range = ColourRange.of(field);
            json.number("low", range.low()).number("high", range.high());
        } else {
            json.number("low", 0).number("high", 0);
        }
    }

    private static void curve(JsonText json, String analysis, Curve curve) throws IOException {
        json.text("analysis", analysis).text("id", curve.id()).text("meaning", curve.meaning());
        json.list("columns", columns -> {
            for (Curve.Column column : curve.columns()) {
                columns.item(item -> item.text("name", column.name())
                        .text("unit", column.unit().symbol())
                        .list("values", values -> {
                            for (int i = 0; i < column.length(); i++) {
                                values.item(column.unit().fromSi(column.at(i)));
                            }
                        }));
            }
        });
    }

    private void sketch(JsonText json) throws IOException {
        Sketch drawn = content.sketch();
        json.whole("polygons", sketch.polygons())
                .whole("shown", drawn.shown())
                .whole("total", drawn.total())
                .whole("arrays_as_boxes", drawn.arraysAsBoxes())
                .number("tolerance_um", drawn.toleranceMetres() * 1e6)
                .number("step_um", sketch.stepMetres() * 1e6)
                .number("origin_x_um", sketch.originXMetres() * 1e6)
                .number("origin_y_um", sketch.originYMetres() * 1e6)
                .list("kinds", list -> {
                    for (Packed.Kind kind : sketch.kinds()) {
                        list.item(item -> item.text("role", kind.role())
                                .number("depth_nm", kind.depthMetres() * 1e9)
                                .text("texture", kind.texture())
                                .number("share", kind.share()));
                    }
                });
    }

    private static String licences() {
        return "OpenLayers 10.7.0\n\n" + resource(MAP_LIBRARY + "LICENSE.md") + "\n\nuPlot 1.6.30\n\n"
                + resource(PLOT_LIBRARY + "LICENSE");
    }

    /** Returns what the page may do: run and look like what it holds, and talk to nobody. */
    private static String policy(List<String> styles, List<String> scripts) {
        return "default-src 'none'; script-src " + hashes(scripts) + "; style-src " + hashes(styles)
                + "; img-src data: blob:; base-uri 'none'; form-action 'none'";
    }

    private static String hashes(List<String> texts) {
        return texts.stream()
                .map(text -> {
                    try {
                        byte[] hash =
                                MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
                        return "'sha256-" + Base64.getEncoder().encodeToString(hash) + "'";
                    } catch (NoSuchAlgorithmException e) {
                        throw new IllegalStateException(e); // every Java has it
                    }
                })
                .collect(Collectors.joining(" "));
    }

    /** Returns JSON in which nothing can end or open an element: such characters occur in strings only. */
    private static String inert(String json) {
        return json.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026");
    }

    private static String escaped(String text) {
        return text.replace("&", "&amp;")
                .replace("<", "&lt;")
                .replace(">", "&gt;")
                .replace("\"", "&quot;")
                .replace("'", "&#39;");
    }

    private static String resource(String name) {
        try (InputStream in = ReportPage.class.getResourceAsStream(name)) {
            if (in == null) {
                throw new IllegalStateException(name + " is missing from the class path");
            }
            return new String(in.readAllBytes(), StandardCharsets.UTF_8).replace("\r\n", "\n");
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
