package org.evenstamp.output.compare;

import java.io.IOException;
import java.util.List;
import org.evenstamp.output.file.JsonText;
import org.evenstamp.output.file.ResultJson;
import org.evenstamp.shared.finding.Place;
import org.jspecify.annotations.Nullable;

/** Writes the difference of two runs for other programs. */
public final class DifferenceJson {
    /** Version of the document's form; raised when a reader would have to change. */
    public static final int SCHEMA_VERSION = 2;

    private DifferenceJson() {}

    /** Writes one side of a change. */
    private interface Side<T> {
        void write(JsonText json, T value) throws IOException;
    }

    /** Returns the document. */
    public static String write(RunDifference difference) {
        return JsonText.object(json -> {
            json.whole("schema", SCHEMA_VERSION)
                    .text("tool", "evenstamp")
                    .text("verdict", difference.same() ? "same" : "different")
                    .group("a", group -> run(group, difference.a()))
                    .group("b", group -> run(group, difference.b()));
            json.list("fields", list -> {
                for (FieldDifference field : difference.fields()) {
                    list.item(item -> field(item, field, difference));
                }
            });
            changes(json, "fields_not_compared", difference.units(), (side, unit) -> side.text("unit", unit));
            changes(
                    json,
                    "figures",
                    difference.figures(),
                    (side, figure) -> side.number("value", figure.value()).text("unit", figure.unit()));
            changes(json, "analyses", difference.analyses(), (side, nothing) -> {});
            changes(json, "limits", difference.limits(), DifferenceJson::limit);
            changes(json, "findings", difference.findings(), (side, finding) -> {
                limit(side, finding.limit());
                side.number("found", finding.found()).whole("tiles", finding.tiles());
                ResultJson.place(side, finding.place());
            });
            changes(json, "warnings", difference.warnings(), (side, warning) -> {
                side.text("origin", warning.origin())
                        .text("code", warning.code())
                        .text("message", warning.message());
                ResultJson.place(side, warning.place());
            });
            changes(json, "job", difference.job(), (side, value) -> side.text("value", value));
            changes(json, "inputs", difference.inputs(), (side, sha256) -> side.text("sha256", sha256));
        });
    }

    private static void run(JsonText json, StoredRun run) throws IOException {
        json.text("place", run.place())
                .text("name", run.name())
                .text("version", run.version())
                .text("verdict", run.verdict());
    }

    private static void field(JsonText json, FieldDifference field, RunDifference difference) throws IOException {
        json.text("field", field.field())
                .text("unit", field.unit())
                .text("verdict", field.same() ? "same" : "different")
                .whole("tiles", field.tiles())
                .whole("beyond_tolerance", field.beyond())
                .whole("only_a", field.onlyA())
                .whole("only_b", field.onlyB())
                .number("largest", field.largest())
                .number("rms", field.rms())
                .number("mean_shift", field.meanShift())
                .number("relative", field.relative());
        if (field.worst() >= 0) {
            ResultJson.place(json, Place.Tile.of(difference.a().grid(), field.worst()));
            json.number("a", field.a()).number("b", field.b());
        }
    }

    private static void limit(JsonText json, StoredLimit limit) throws IOException {
        json.text("field", limit.field());
        if (!limit.region().isEmpty()) {
            json.text("region", limit.region());
        }
        json.text("measure", limit.measure())
                .text("side", limit.side())
                .number("bound", limit.bound())
                .text("unit", limit.unit());
    }

    private static <T> void changes(JsonText json, String key, List<Change<T>> changes, Side<T> side)
            throws IOException {
        json.list(key, list -> {
            for (Change<T> change : changes) {
                list.item(item -> {
                    item.text("id", change.key()).text("change", change.word());
                    side(item, "a", change.a(), side);
                    side(item, "b", change.b(), side);
                });
            }
        });
    }

    private static <T> void side(JsonText json, String key, @Nullable T value, Side<T> side) throws IOException {
        if (value != null) {
            json.group(key, group -> side.write(group, value));
        }
    }
}
