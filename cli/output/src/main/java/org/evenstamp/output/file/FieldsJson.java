package org.evenstamp.output.file;

import java.io.IOException;
import org.evenstamp.engine.result.FieldStatistics;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;

/** Writes {@code fields.json}: unit, meaning and statistics of every column of {@code tiles.csv} and array of the npz. */
public final class FieldsJson {
    private FieldsJson() {}

    /** Returns the document. */
    public static String write(FieldSet fields) {
        return JsonText.object(json -> fields(json, fields));
    }

    static void fields(JsonText json, FieldSet fields) throws IOException {
        for (Field field : fields.all()) {
            FieldStatistics numbers = FieldStatistics.of(field);
            json.group(field.name().id(), group -> {
                group.text("unit", field.name().unit().symbol())
                        .text("meaning", field.name().meaning())
                        .whole("tiles", field.grid().size())
                        .whole("known", numbers.known());
                if (numbers.known() > 0) {
                    group.number("min", numbers.min())
                            .number("mean", numbers.mean())
                            .number("max", numbers.max())
                            .number("sigma", numbers.sigma());
                }
            });
        }
    }
}
