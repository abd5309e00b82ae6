package org.evenstamp.output.file;

import java.io.IOException;
import java.util.List;
import org.evenstamp.analysis.feature.Unfilled;
import org.evenstamp.analysis.limit.RankedPlace;
import org.evenstamp.engine.job.JobNode;
import org.evenstamp.engine.result.AreaStatistics;
import org.evenstamp.engine.result.LimitValue;
import org.evenstamp.engine.result.ResidualLayer;
import org.evenstamp.engine.result.Results;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.tile.Region;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.unit.Unit;

/** Writes {@code result.json}: the run in one document. Holds neither times nor paths of this machine. */
public final class ResultJson {
    /** Version of the document's form; raised when a reader would have to change. */
    public static final int SCHEMA_VERSION = 2;

    private static final Unit MICROMETRE = Unit.parse("um");

    private ResultJson() {}

    /** Returns the document. */
    public static String write(Results results) {
        return JsonText.object(json -> {
            json.whole("schema", SCHEMA_VERSION)
                    .text("tool", "evenstamp")
                    .text("version", results.toolVersion())
                    .text("name", results.name());
            json.text("verdict", results.verdictWords());
            if (results.unfilled().isPresent()) {
                json.group(
                        "not_full",
                        group -> notFull(
                                group,
                                results.unfilled().get(),
                                results.fields().grid()));
            }
            json.key("job");
            node(json, results.job());
            json.list("inputs", list -> {
                for (Results.InputFile input : results.inputs()) {
                    list.item(item -> item.text("name", input.name())
                            .whole("bytes", input.bytes())
                            .text("sha256", input.sha256()));
                }
            });
            json.group("read", group -> read(group, results.read()));
            json.group("grid", group -> grid(group, results));
            json.list("figures", list -> figures(list, results.map().figures()));
            json.list("analyses", list -> {
                for (Results.AnalysisPart part : results.analyses()) {
                    list.item(item -> item.text("id", part.id())
                            .text("summary", part.summary())
                            .list("figures", inner -> figures(inner, part.figures()))
                            .list("curves", inner -> {
                                for (var curve : part.curves()) {
                                    inner.item(curve.id());
                                }
                            }));
                }
            });
            json.group("skipped", group -> {
                for (var skipped : results.skipped().entrySet()) {
                    group.text(skipped.getKey(), skipped.getValue());
                }
            });
            json.group("fields", group -> FieldsJson.fields(group, results.fields()));
            json.list("named_regions", list -> {
                var residual = ResidualLayer.of(results.fields());
                if (residual.isPresent()) {
                    for (NamedRegion region : results.fields().regions()) {
                        var named = AreaStatistics.of(residual.get(), region);
                        if (named.isPresent()) {
                            list.item(item -> region(
                                    item,
                                    region,
                                    named.get(),
                                    results,
                                    residual.get().name()));
                        }
                    }
                }
            });
            json.list("regions", list -> {
                var residual = ResidualLayer.of(results.fields());
                if (residual.isPresent()) {
                    for (Region region : results.map().regions()) {
                        var drawn = AreaStatistics.of(residual.get(), region::share);
                        if (drawn.isPresent()) {
                            list.item(item -> region(
                                    item,
                                    region,
                                    drawn.get(),
                                    results,
                                    residual.get().name()));
                        }
                    }
                }
            });
            json.list("limits", list -> {
                for (Limit limit : results.limits()) {
                    list.item(item -> {
                        limit(item, limit, results);
                        if (results.close().contains(limit)) {
                            item.truth("too_close", true);
                        }
                    });
                }
            });
            json.list("findings", list -> {
                for (Finding.LimitBroken broken : results.broken()) {
                    list.item(item -> broken(item, broken, results));
                }
            });
            json.group("ranking", group -> ranking(group, results));
            json.list("warnings", list -> {
                for (Finding.Warning warning : results.warnings()) {
                    list.item(item -> {
                        item.text("origin", warning.origin())
                                .text("code", warning.code())
                                .text("message", warning.message());
                        place(item, warning.place());
                    });
                }
            });
            json.list("cautions", list -> {
                for (String caution : results.cautions()) {
                    list.item(caution);
                }
            });
        });
    }

    private static void notFull(JsonText json, Unfilled unfilled, TileGrid grid) throws IOException {
        json.whole("tiles", unfilled.tiles())
                .whole("of", unfilled.cavityTiles())
                .number("least_share", unfilled.leastShare());
        place(json, Place.Tile.of(grid, unfilled.emptiest()));
    }

    private static void read(JsonText json, Results.ReadCount read) throws IOException {
        json.text("format", read.format());
        for (var count : read.counts().entrySet()) {
            json.whole(count.getKey(), count.getValue());
        }
        json.list("examples", list -> {
            for (String example : read.examples()) {
                list.item(example);
            }
        });
    }

    private static void grid(JsonText json, Results results) throws IOException {
        TileGrid grid = results.fields().grid();
        var outline = results.map().outline();
        json.whole("columns", grid.columns())
                .whole("rows", grid.rows())
                .number("side_um", MICROMETRE.fromSi(grid.pitchMetres()))
                .number("origin_x_um", MICROMETRE.fromSi(grid.originXMetres()))
                .number("origin_y_um", MICROMETRE.fromSi(grid.originYMetres()))
                .text("side_reason", results.map().pitchReason())
                .text("structure_reason", results.map().structureReason())
                .list(
                        "outline_um",
                        list -> list.item(MICROMETRE.fromSi(outline.minX()))
                                .item(MICROMETRE.fromSi(outline.minY()))
                                .item(MICROMETRE.fromSi(outline.maxX()))
                                .item(MICROMETRE.fromSi(outline.maxY())));
    }

    private static void figures(JsonText json, List<Figure> figures) throws IOException {
        for (Figure figure : figures) {
            json.item(item -> item.text("id", figure.id())
                    .number("value", figure.unit().fromSi(figure.valueSi()))
                    .text("unit", figure.unit().symbol())
                    .text("meaning", figure.meaning()));
        }
    }

    private static void region(JsonText json, Region region, AreaStatistics one, Results results, FieldName field)
            throws IOException {
        Role role = region.role();
        if (role != null) {
            json.text("region", "role").text("role", role.word());
        } else {
            json.text("region", region.mostDepthMetres() > 0 ? "cavities" : "land");
        }
        json.number("least_depth_nm", region.leastDepthMetres() * 1e9)
                .number("most_depth_nm", region.mostDepthMetres() * 1e9);
        area(json, region.areaSquareMetres(results.fields().grid()), one, results, field);
    }

    private static void region(JsonText json, NamedRegion region, AreaStatistics one, Results results, FieldName field)
            throws IOException {
        json.text("name", region.name()).number("weight", region.weight());
        area(json, region.areaSquareMetres(results.fields().grid()), one, results, field);
    }

    private static void area(JsonText json, double squareMetres, AreaStatistics one, Results results, FieldName field)
            throws IOException {
        json.number("area_mm2", squareMetres * 1e6)
                .number("share", squareMetres / results.map().outline().areaSquareMetres())
                .whole("tiles", one.tiles())
                .text("field", field.id())
                .text("unit", field.unit().symbol())
                .number("min", one.min())
                .number("mean", one.mean())
                .number("max", one.max())
                .number("sigma3", one.sigma3());
    }

    private static void limit(JsonText json, Limit limit, Results results) throws IOException {
        Unit unit = results.unit(limit);
        json.text("field", limit.fieldId());
        if (!limit.region().isEmpty()) {
            json.text("region", limit.region());
        }
        json.text("measure", limit.measure().word())
                .text("side", limit.side() == Limit.Side.AT_MOST ? "<=" : ">=")
                .number("bound", LimitValue.shown(limit, unit, limit.boundSi()))
                .text("unit", unit.symbol());
    }

    private static void broken(JsonText json, Finding.LimitBroken broken, Results results) throws IOException {
        limit(json, broken.limit(), results);
        json.number("found", LimitValue.shown(broken.limit(), results.unit(broken.limit()), broken.foundSi()))
                .whole("tiles", broken.tiles());
        place(json, broken.place());
    }

    private static void ranking(JsonText json, Results results) throws IOException {
        json.whole("places", results.ranking().places());
        json.list("worst", list -> {
            int rank = 0;
            for (RankedPlace place : results.ranking().worst()) {
                rank++;
                json.item(rankedPlace(rank, place, results));
            }
        });
    }

    private static JsonText.Part rankedPlace(int rank, RankedPlace ranked, Results results) {
        return json -> {
            json.whole("rank", rank).number("ratio", ranked.ratio());
            limit(json, ranked.limit(), results);
            json.number("found", LimitValue.shown(ranked.limit(), results.unit(ranked.limit()), ranked.foundSi()))
                    .text("term", ranked.term())
                    .text("help", ranked.help())
                    .whole("tiles", ranked.tiles());
            place(json, ranked.worst());
            if (!ranked.region().isEmpty()) {
                json.text("in", ranked.region());
            }
        };
    }

    /** Writes the member {@code place}: the tile, or the words for the whole stamp. */
    public static void place(JsonText json, Place place) throws IOException {
        if (place instanceof Place.Tile tile) {
            json.group(
                    "place",
                    group -> group.whole("column", tile.column())
                            .whole("row", tile.row())
                            .number("x_um", MICROMETRE.fromSi(tile.xMetres()))
                            .number("y_um", MICROMETRE.fromSi(tile.yMetres())));
        } else {
            json.text("place", "whole stamp");
        }
    }

    static void node(JsonText json, JobNode node) throws IOException {
        if (node instanceof JobNode.Mapping mapping) {
            json.item(item -> {
                for (var entry : mapping.entries().entrySet()) {
                    item.key(entry.getKey());
                    node(item, entry.getValue().value());
                }
            });
        } else if (node instanceof JobNode.Sequence sequence) {
            json.list(list -> {
                for (JobNode item : sequence.items()) {
                    node(list, item);
                }
            });
        } else if (node instanceof JobNode.Scalar scalar) {
            json.item(scalar.text());
        }
    }
}
