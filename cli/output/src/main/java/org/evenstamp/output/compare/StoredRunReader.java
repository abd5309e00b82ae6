package org.evenstamp.output.compare;

import com.fasterxml.jackson.core.JsonLocation;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.EOFException;
import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.BiConsumer;
import java.util.zip.ZipException;
import org.evenstamp.output.file.ResultJson;
import org.evenstamp.output.file.ResultsDirectory;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;
import org.jspecify.annotations.Nullable;

/** Reads one run and gathers everything that is wrong with it. */
final class StoredRunReader {
    private static final String AGAIN = "the file was cut off or changed: copy it again, or run the job again";
    private static final Unit MICROMETRE = Unit.parse("um");

    private final Path given;
    private final Problems problems;
    private final Path file;
    private boolean sound = true;

    StoredRunReader(Path given, Problems problems) {
        this.given = given;
        this.problems = problems;
        if (!Files.exists(given)) {
            ResultsDirectory.putBack(given);
        }
        file = Files.isDirectory(given) ? given.resolve("result.json") : given;
    }

    @Nullable
    StoredRun read() {
        JsonNode root = document();
        if (root == null || !ofThisForm(root)) {
            return null;
        }
        Map<String, String> job = new LinkedHashMap<>();
        flatten("", root.path("job"), job);
        TileGrid grid = grid(member(root, "", "grid"));
        Map<String, String> fields = fields(member(root, "", "fields"), grid);
        Path arrays = file.resolveSibling("fields.npz");
        if (grid != null && sound) {
            check(arrays, fields, grid);
        }
        StoredRun run = new StoredRun(
                given.toString(),
                arrays,
                text(root, "", "version"),
                text(root, "", "name"),
                text(root, "", "verdict"),
                job,
                inputs(root),
                grid == null ? new TileGrid(0, 0, 1, 1, 1) : grid,
                fields,
                figures(root),
                analyses(root),
                limits(root),
                findings(root),
                warnings(root));
        return sound ? run : null;
    }

    private void problem(String code, String place, String message, String fix) {
        sound = false;
        problems.add("compare." + code, place, message, fix);
    }

    private @Nullable JsonNode document() {
        if (!Files.exists(file)) {
            if (Files.isDirectory(given)) {
                problem(
                        "incomplete",
                        given.toString(),
                        "holds no result.json, so it is no complete directory of results",
                        "name a directory that run has written, or run the job again");
            } else {
                problem(
                        "missing",
                        given.toString(),
                        "does not exist",
                        "name a directory of results, or its result.json");
            }
            return null;
        }
        if (!Files.isRegularFile(file)) {
            problem("foreign", file.toString(), "is a pipe or device and no file", "name the result.json of a run");
            return null;
        }
        try {
            JsonNode root = new ObjectMapper()
                    .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
                    .readTree(file.toFile());
            if (!root.isObject()) {
                problem("foreign", file.toString(), "is no result of evenstamp", "name the result.json of a run");
                return null;
            }
            return root;
        } catch (JsonProcessingException e) {
            JsonLocation at = e.getLocation();
            String place = at == null ? "" : ":" + at.getLineNr() + ":" + at.getColumnNr();
            problem("damaged", file + place, "is no complete JSON document: " + e.getOriginalMessage(), AGAIN);
        } catch (IOException e) {
            problem("unreadable", file.toString(), "cannot be read: " + reason(e), "get the right to read it");
        }
        return null;
    }

    private boolean ofThisForm(JsonNode root) {
        JsonNode schema = root.path("schema");
        if (!schema.isIntegralNumber() || !root.path("tool").asText().equals("evenstamp")) {
            problem("foreign", file.toString(), "is no result of evenstamp", "name the result.json of a run");
            return false;
        }
        if (schema.asLong() != ResultJson.SCHEMA_VERSION) {
            boolean older = schema.asLong() < ResultJson.SCHEMA_VERSION;
            problem(
                    older ? "older" : "newer",
                    file.toString(),
                    "was written by evenstamp " + root.path("version").asText("of unknown version") + " in form "
                            + schema.asLong() + ", this version reads form " + ResultJson.SCHEMA_VERSION,
                    older
                            ? "run its job again with this version"
                            : "use a version of evenstamp at least as new as that");
            return false;
        }
        return true;
    }

    private static String reason(IOException e) {
        if (e instanceof AccessDeniedException) {
            return "permission denied";
        }
        if (e instanceof EOFException) {
            return "it ends in the middle of its data";
        }
        return e.getMessage() == null ? e.getClass().getSimpleName() : e.getMessage();
    }

    private static String path(String parent, String key) {
        return parent.isEmpty() ? key : parent + "." + key;
    }

    private JsonNode member(JsonNode parent, String at, String key) {
        JsonNode member = parent.path(key);
        if (member.isMissingNode()) {
            problem("damaged", file.toString(), path(at, key) + " is missing", AGAIN);
        }
        return member;
    }

    private String text(JsonNode parent, String at, String key) {
        JsonNode member = member(parent, at, key);
        if (!member.isMissingNode() && !member.isTextual()) {
            problem("damaged", file.toString(), path(at, key) + " is no text", AGAIN);
        }
        return member.asText();
    }

    private double number(JsonNode parent, String at, String key) {
        JsonNode member = member(parent, at, key);
        if (!member.isMissingNode() && (!member.isNumber() || !Double.isFinite(member.asDouble()))) {
            problem("damaged", file.toString(), path(at, key) + " is no number", AGAIN);
        }
        return member.asDouble();
    }

    private int whole(JsonNode parent, String at, String key, int least) {
        JsonNode member = member(parent, at, key);
        if (!member.isMissingNode()
                && (!member.canConvertToInt() || !member.isIntegralNumber() || member.asInt() < least)) {
            problem("damaged", file.toString(), path(at, key) + " is no whole number from " + least + " on", AGAIN);
        }
        return Math.max(least, member.asInt());
    }

    /** Goes through a list, whose items are named by number in problems. */
    private void items(JsonNode list, String at, BiConsumer<JsonNode, String> each) {
        for (int i = 0; i < list.size(); i++) {
            each.accept(list.get(i), at + "[" + i + "]");
        }
    }

    /** Puts a value under a key; a second one of the same key under a number. */
    private static <T> void put(Map<String, T> map, String key, T value) {
        String free = key;
        for (int n = 2; map.containsKey(free); n++) {
            free = key + " (" + n + ")";
        }
        map.put(free, value);
    }

    private static void flatten(String key, JsonNode node, Map<String, String> values) {
        if (node.isValueNode()) {
            values.put(key, node.asText());
        } else if (node.isArray()) {
            for (int i = 0; i < node.size(); i++) {
                flatten(key + "[" + i + "]", node.get(i), values);
            }
        } else {
            node.properties().forEach(member -> flatten(path(key, member.getKey()), member.getValue(), values));
        }
    }

    private @Nullable TileGrid grid(JsonNode grid) {
        int columns = whole(grid, "grid", "columns", 1);
        int rows = whole(grid, "grid", "rows", 1);
        double side = MICROMETRE.toSi(number(grid, "grid", "side_um"));
        double x = MICROMETRE.toSi(number(grid, "grid", "origin_x_um"));
        double y = MICROMETRE.toSi(number(grid, "grid", "origin_y_um"));
        if (sound && (!(side > 0) || (long) columns * rows > Integer.MAX_VALUE / Double.BYTES - 1024)) {
            problem("damaged", file.toString(), "grid is not possible", AGAIN);
        }
        return sound ? new TileGrid(x, y, side, columns, rows) : null;
    }

    private Map<String, String> fields(JsonNode fields, @Nullable TileGrid grid) {
        Map<String, String> units = new LinkedHashMap<>();
        fields.properties().forEach(field -> {
            String at = path("fields", field.getKey());
            String unit = text(field.getValue(), at, "unit");
            int tiles = whole(field.getValue(), at, "tiles", 1);
            if (grid != null && tiles != grid.size()) {
                problem(
                        "damaged",
                        file.toString(),
                        at + ".tiles is " + tiles + ", the grid has " + grid.size() + " tiles",
                        AGAIN);
            }
            if (unitKnown(unit, at)) {
                units.put(field.getKey(), unit);
            }
        });
        return units;
    }

    private boolean unitKnown(String unit, String at) {
        try {
            Unit.parse(unit);
            return true;
        } catch (UnitException e) {
            problem("damaged", file.toString(), path(at, "unit") + ": " + e.getMessage(), AGAIN);
            return false;
        }
    }

    private Map<String, String> inputs(JsonNode root) {
        Map<String, String> inputs = new LinkedHashMap<>();
        items(
                member(root, "", "inputs"),
                "inputs",
                (input, at) -> put(inputs, text(input, at, "name"), text(input, at, "sha256")));
        return inputs;
    }

    private Map<String, StoredRun.Figure> figures(JsonNode root) {
        Map<String, StoredRun.Figure> figures = new LinkedHashMap<>();
        figures("layout", member(root, "", "figures"), "figures", figures);
        items(
                member(root, "", "analyses"),
                "analyses",
                (analysis, at) ->
                        figures(text(analysis, at, "id"), member(analysis, at, "figures"), at + ".figures", figures));
        return figures;
    }

    private void figures(String of, JsonNode list, String place, Map<String, StoredRun.Figure> figures) {
        items(list, place, (figure, at) -> {
            String unit = text(figure, at, "unit");
            if (unitKnown(unit, at)) {
                put(
                        figures,
                        of + ":" + text(figure, at, "id"),
                        new StoredRun.Figure(number(figure, at, "value"), unit));
            }
        });
    }

    private Map<String, String> analyses(JsonNode root) {
        Map<String, String> analyses = new LinkedHashMap<>();
        items(
                member(root, "", "analyses"),
                "analyses",
                (analysis, at) -> put(analyses, analysis.path("id").asText(), ""));
        JsonNode skipped = member(root, "", "skipped");
        skipped.properties().forEach(one -> put(analyses, one.getKey(), text(skipped, "skipped", one.getKey())));
        return analyses;
    }

    private StoredLimit limit(JsonNode limit, String at) {
        String unit = text(limit, at, "unit");
        unitKnown(unit, at);
        return new StoredLimit(
                text(limit, at, "field"),
                limit.has("region") ? text(limit, at, "region") : "",
                text(limit, at, "measure"),
                text(limit, at, "side"),
                number(limit, at, "bound"),
                unit);
    }

    private Map<String, StoredLimit> limits(JsonNode root) {
        Map<String, StoredLimit> limits = new LinkedHashMap<>();
        items(member(root, "", "limits"), "limits", (item, at) -> {
            StoredLimit limit = limit(item, at);
            put(limits, limit.key(), limit);
        });
        return limits;
    }

    private Map<String, StoredFinding> findings(JsonNode root) {
        Map<String, StoredFinding> findings = new LinkedHashMap<>();
        items(member(root, "", "findings"), "findings", (item, at) -> {
            StoredLimit limit = limit(item, at);
            put(
                    findings,
                    limit.key(),
                    new StoredFinding(limit, number(item, at, "found"), whole(item, at, "tiles", 1), place(item, at)));
        });
        return findings;
    }

    private Map<String, StoredWarning> warnings(JsonNode root) {
        Map<String, StoredWarning> warnings = new LinkedHashMap<>();
        items(member(root, "", "warnings"), "warnings", (item, at) -> {
            StoredWarning warning = new StoredWarning(
                    text(item, at, "origin"), text(item, at, "code"), text(item, at, "message"), place(item, at));
            put(warnings, warning.origin() + " " + warning.code(), warning);
        });
        return warnings;
    }

    private Place place(JsonNode parent, String at) {
        JsonNode place = member(parent, at, "place");
        if (!place.isObject()) {
            return new Place.WholeStamp();
        }
        String here = path(at, "place");
        return new Place.Tile(
                whole(place, here, "column", 0),
                whole(place, here, "row", 0),
                MICROMETRE.toSi(number(place, here, "x_um")),
                MICROMETRE.toSi(number(place, here, "y_um")));
    }

    /** Reads every array once. */
    private void check(Path arrays, Map<String, String> fields, TileGrid grid) {
        if (!Files.isRegularFile(arrays)) {
            problem(
                    "incomplete",
                    arrays.toString(),
                    "does not exist, and the tiles are compared by it",
                    "copy the whole directory of results, or run the job again");
            return;
        }
        try (StoredFields stored = StoredFields.open(arrays, grid)) {
            for (String field : fields.keySet()) {
                try {
                    stored.values(field);
                } catch (IOException e) {
                    problem("damaged", arrays.toString(), reason(e), AGAIN);
                }
            }
        } catch (ZipException e) {
            problem("damaged", arrays.toString(), "is no complete archive: " + reason(e), AGAIN);
        } catch (IOException e) {
            problem("unreadable", arrays.toString(), "cannot be read: " + reason(e), "get the right to read it");
        }
    }
}
