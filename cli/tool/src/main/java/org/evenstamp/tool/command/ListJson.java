package org.evenstamp.tool.command;

import java.io.IOException;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import org.evenstamp.analysis.material.Datum;
import org.evenstamp.analysis.material.Material;
import org.evenstamp.engine.job.JobKey;
import org.evenstamp.engine.job.JobSchema;
import org.evenstamp.output.file.JsonText;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.unit.Unit;

/** What can be listed, for programs: an array with an object each. */
final class ListJson {
    private ListJson() {}

    private interface One<T> {
        void write(JsonText json, T value) throws IOException;
    }

    private static <T> String array(Iterable<T> all, One<T> one) {
        return JsonText.array(list -> {
            for (T value : all) {
                list.item(item -> one.write(item, value));
            }
        });
    }

    static String analyses(Collection<AnalysisDescription> analyses) {
        return array(analyses, (json, analysis) -> {
            json.text("id", analysis.id()).text("summary", analysis.summary());
            json.list("parameters", list -> {
                for (Parameter parameter : analysis.parameters()) {
                    list.item(item -> item.text("id", parameter.id()).truth("required", parameter.required()));
                }
            });
            ids(json, "needs", analysis.needs());
            ids(json, "uses", analysis.uses());
            ids(json, "gives", analysis.gives());
        });
    }

    private static void ids(JsonText json, String key, List<FieldName> fields) throws IOException {
        json.list(key, list -> {
            for (FieldName field : fields) {
                list.item(field.id());
            }
        });
    }

    static String fields(Collection<FieldName> fields) {
        return array(
                fields,
                (json, field) -> json.text("id", field.id())
                        .text("unit", field.unit().symbol())
                        .text("meaning", field.meaning()));
    }

    /** {@code required} says that every job must set it; what an analysis requires stands with the analysis. */
    static String parameters(Collection<JobKey> keys) {
        return array(
                keys,
                (json, key) -> json.text("id", key.id())
                        .text("form", JobSchema.form(key))
                        .truth("required", key.required())
                        .text("meaning", key.meaning()));
    }

    static String formats(Map<String, String> formats) {
        return array(
                formats.entrySet(),
                (json, format) -> json.text("id", format.getKey()).text("meaning", format.getValue()));
    }

    /** A value in SI is the value in the unit times {@code scale}, plus {@code offset}. */
    static String units(Collection<String> symbols) {
        return array(symbols, (json, symbol) -> {
            Unit unit = Unit.parse(symbol);
            Unit.Dimension dimension = unit.dimension();
            json.text("id", symbol)
                    .number("scale", unit.scale())
                    .number("offset", unit.offset())
                    .whole("m", dimension.length())
                    .whole("kg", dimension.mass())
                    .whole("s", dimension.time())
                    .whole("K", dimension.temperature())
                    .whole("mol", dimension.amount());
        });
    }

    static String materials(Collection<Material> materials) {
        return array(materials, (json, material) -> {
            json.text("kind", material.kind().word()).text("id", material.id()).text("about", material.about());
            json.list("data", list -> {
                for (Datum datum : material.data()) {
                    list.item(item -> datum(item, datum));
                }
            });
        });
    }

    private static void datum(JsonText json, Datum datum) throws IOException {
        Unit unit = datum.value().unit();
        json.text("property", datum.property().word())
                .number("value", unit.fromSi(datum.si()))
                .text("unit", unit.symbol());
        if (datum.spread().isPresent()) {
            json.number("least", unit.fromSi(datum.spread().get().least()))
                    .number("most", unit.fromSi(datum.spread().get().most()));
        }
        if (datum.atKelvin().isPresent()) {
            json.number("at_kelvin", datum.atKelvin().get());
        }
        if (datum.valid().isPresent()) {
            json.text("valid", datum.valid().get().toString());
        }
        json.text("standing", datum.standing().words()).text("source", datum.source());
    }
}
