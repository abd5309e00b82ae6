package org.evenstamp.output.file;

import java.io.IOException;
import java.net.URI;
import java.net.URISyntaxException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import org.evenstamp.analysis.limit.RankedPlace;
import org.evenstamp.engine.result.Results;
import org.evenstamp.output.text.LimitText;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.problem.Source;
import org.evenstamp.shared.unit.Unit;

/**
 * Writes {@code findings.sarif}: what a run found, in the Static Analysis Results Interchange Format 2.1.0 (OASIS standard,
 * 27 March 2020).
 *
 * <p>A broken limit is an {@code error}; a warning, and an index above 1 that the job does not limit, a {@code warning}; an
 * analysis that did not run a {@code note}. The rule is the code of the finding; its location is the layout file, or the job where
 * the layout is packed, and the tile as a logical location with column, row and centre in its properties: polygons have no
 * line that a tile could be pinned to. Related locations are
 * the line of the job that sets the limit, and other ranked places of the same limit. Files are named as the job names them,
 * relative to {@code JOB}, the job's directory. Limits that are kept are not in it.
 */
public final class FindingsSarif {
    /** Rule of a broken limit. */
    static final String LIMIT_EXCEEDED = "limit.exceeded";

    private static final String INDEX_EXCEEDED = "index.exceeded";
    private static final String ANALYSIS_SKIPPED = "analysis.skipped";
    private static final String SCHEMA =
            "https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json";
    private static final String BASE = "JOB";
    private static final Pattern NUMBER = Pattern.compile("[0-9]+(?:[.][0-9]+)?(?:e[-+]?[0-9]+)?");
    private static final Pattern PACKED = Pattern.compile("[.](gz|zst|zstd)$", Pattern.CASE_INSENSITIVE);
    /** A run of a job file names it first. */
    private static final int JOB_INPUT = 0;

    private static final Unit MICROMETRE = Unit.parse("um");

    private final Results results;
    private final List<Entry> entries = new ArrayList<>();
    private final Map<String, Rule> rules = new LinkedHashMap<>();
    private final int layout;
    /** The input that findings point at: the layout, or the job where the layout is packed and no viewer looks into it. */
    private final int target;

    private FindingsSarif(Results results) {
        this.results = results;
        layout = results.inputs().stream().map(Results.InputFile::name).toList().indexOf(results.layoutName());
        target = layout > 0 && PACKED.matcher(results.layoutName()).find() ? JOB_INPUT : layout;
        results.broken().forEach(this::limit);
        LimitText.indices(results).forEach(this::index);
        results.warnings().forEach(this::warning);
        results.skipped().forEach(this::skipped);
    }

    private void limit(Finding.LimitBroken broken) {
        String limit = LimitText.of(broken.limit(), results);
        String help = LimitText.help(broken.limit(), results);
        rule(LIMIT_EXCEEDED, "error", "A limit of the job is exceeded.");
        entries.add(new Entry(
                LIMIT_EXCEEDED,
                "error",
                limit + ": " + LimitText.found(broken, results) + (help.isEmpty() ? "" : "; would help: " + help),
                limit,
                broken.place(),
                broken.limit().source(),
                beyond(broken.limit(), broken.place())));
    }

    private void index(RankedPlace worst) {
        rule(INDEX_EXCEEDED, "warning", "An index that the job does not limit is above 1.");
        entries.add(new Entry(
                INDEX_EXCEEDED,
                "warning",
                LimitText.index(worst, results),
                worst.limit().fieldId(),
                worst.worst(),
                Source.NOWHERE,
                beyond(worst.limit(), worst.worst())));
    }

    private void warning(Finding.Warning warning) {
        rule(warning.code(), "warning", "A warning of " + warning.origin() + ".");
        entries.add(new Entry(
                warning.code(),
                "warning",
                warning.origin() + ": " + warning.message(),
                warning.origin() + ": " + NUMBER.matcher(warning.message()).replaceAll("#"),
                warning.place(),
                Source.NOWHERE,
                List.of()));
    }

    private void skipped(String analysis, String reason) {
        rule(ANALYSIS_SKIPPED, "note", "An analysis did not run.");
        entries.add(new Entry(
                ANALYSIS_SKIPPED,
                "note",
                analysis + " did not run: " + reason,
                analysis,
                new Place.WholeStamp(),
                Source.NOWHERE,
                List.of()));
    }

    private record Rule(int index, String level, String description) {}

    /**
     * A finding; {@code subject} is what stays of it when only its numbers change, {@code limit} where the job sets the limit.
     */
    private record Entry(
            String rule,
            String level,
            String message,
            String subject,
            Place place,
            Source limit,
            List<RankedPlace> others) {}

    /** Returns the other places that are beyond a limit. */
    private List<RankedPlace> beyond(Limit limit, Place worst) {
        return results.ranking().worst().stream()
                .filter(place -> place.limit().equals(limit)
                        && place.ratio() > 1
                        && !place.worst().equals(worst))
                .toList();
    }

    private void rule(String id, String level, String description) {
        rules.putIfAbsent(id, new Rule(rules.size(), level, description));
    }

    /** Returns the document. */
    public static String write(Results results) {
        FindingsSarif sarif = new FindingsSarif(results);
        return JsonText.object(json ->
                json.text("$schema", SCHEMA).text("version", "2.1.0").list("runs", runs -> runs.item(sarif::run)));
    }

    private void run(JsonText json) throws IOException {
        json.group(
                        "tool",
                        tool -> tool.group(
                                "driver",
                                driver -> driver.text("name", "evenstamp")
                                        .text("version", results.toolVersion())
                                        .list("rules", this::rules)))
                .group("automationDetails", details -> details.text("id", "evenstamp/" + results.name() + "/"))
                .group(
                        "originalUriBaseIds",
                        bases -> bases.group(
                                BASE,
                                base -> base.group(
                                        "description",
                                        text -> text.text(
                                                "text",
                                                "directory of the job file, or of the layout where there is no job"))))
                .list("artifacts", this::artifacts)
                .list("results", list -> {
                    for (Entry entry : entries) {
                        list.item(item -> result(item, entry));
                    }
                });
    }

    private void rules(JsonText list) throws IOException {
        for (var rule : rules.entrySet()) {
            list.item(item -> item.text("id", rule.getKey())
                    .group(
                            "shortDescription",
                            text -> text.text("text", rule.getValue().description()))
                    .group(
                            "defaultConfiguration",
                            configuration ->
                                    configuration.text("level", rule.getValue().level())));
        }
    }

    private void artifacts(JsonText list) throws IOException {
        for (int i = 0; i < results.inputs().size(); i++) {
            Results.InputFile input = results.inputs().get(i);
            boolean target = i == layout;
            list.item(item -> {
                item.group("location", location -> file(location, input.name()));
                if (target) {
                    item.list("roles", roles -> roles.item("analysisTarget"));
                }
                item.whole("length", input.bytes()).group("hashes", hashes -> hashes.text("sha-256", input.sha256()));
            });
        }
    }

    private void result(JsonText json, Entry entry) throws IOException {
        Rule rule = rules.get(entry.rule());
        json.text("ruleId", entry.rule())
                .whole("ruleIndex", rule == null ? -1 : rule.index())
                .text("level", entry.level())
                .group("message", message -> message.text("text", entry.message()))
                .list("locations", list -> list.item(location -> location(location, entry.place())));
        int job = input(entry.limit());
        if (job >= 0 || !entry.others().isEmpty()) {
            json.list("relatedLocations", list -> {
                if (job >= 0) {
                    list.item(item -> limit(item, entry.limit(), job));
                }
                for (RankedPlace other : entry.others()) {
                    list.item(item -> {
                        location(item, other.worst());
                        item.group("message", message -> message.text("text", LimitText.ratio(other)));
                    });
                }
            });
        }
        json.group("partialFingerprints", prints -> prints.text("finding/v1", entry.rule() + " " + entry.subject()));
    }

    /** Returns which of the inputs a limit is set in; -1 for none. */
    private int input(Source limit) {
        Path name = limit.line() > 0 ? Path.of(limit.file()).getFileName() : null;
        return name == null
                ? -1
                : results.inputs().stream()
                        .map(Results.InputFile::name)
                        .toList()
                        .indexOf(name.toString());
    }

    private void limit(JsonText json, Source limit, int index) throws IOException {
        json.group(
                        "physicalLocation",
                        physical -> physical.group("artifactLocation", location -> {
                                    file(location, results.inputs().get(index).name());
                                    location.whole("index", index);
                                })
                                .group("region", region -> {
                                    region.whole("startLine", limit.line());
                                    if (limit.column() > 0) {
                                        region.whole("startColumn", limit.column());
                                    }
                                }))
                .group("message", message -> message.text("text", "the limit in the job"));
    }

    private void location(JsonText json, Place place) throws IOException {
        if (target >= 0) {
            json.group(
                    "physicalLocation",
                    physical -> physical.group("artifactLocation", location -> {
                        file(location, results.inputs().get(target).name());
                        location.whole("index", target);
                    }));
        }
        if (place instanceof Place.Tile tile) {
            json.list(
                            "logicalLocations",
                            list -> list.item(
                                    item -> item.text("name", "column " + tile.column() + ", row " + tile.row())
                                            .text("kind", "tile")))
                    .group(
                            "properties",
                            group -> group.whole("column", tile.column())
                                    .whole("row", tile.row())
                                    .number("x_um", MICROMETRE.fromSi(tile.xMetres()))
                                    .number("y_um", MICROMETRE.fromSi(tile.yMetres())));
        } else {
            json.list(
                    "logicalLocations",
                    list -> list.item(item -> item.text("name", "whole stamp").text("kind", "stamp")));
        }
    }

    private static void file(JsonText json, String name) throws IOException {
        json.text("uri", uri(name));
        if (!Path.of(name).isAbsolute()) {
            json.text("uriBaseId", BASE);
        }
    }

    /** Returns a path as a URI: percent-encoded, absolute paths with the scheme {@code file}. */
    static String uri(String name) {
        try {
            String path = name.replace('\\', '/');
            if (Path.of(name).isAbsolute()) {
                return new URI("file", "", path.startsWith("/") ? path : "/" + path, null, null).toASCIIString();
            }
            // a colon in the first segment would be read as the end of a scheme
            String plain = path.matches("[^/]*:.*") ? "./" + path : path;
            return new URI(null, null, plain, null, null).toASCIIString();
        } catch (URISyntaxException e) {
            throw new IllegalStateException(e); // the parts are quoted, any path is one
        }
    }
}
