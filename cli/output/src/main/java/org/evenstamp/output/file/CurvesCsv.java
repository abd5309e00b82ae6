package org.evenstamp.output.file;

import org.evenstamp.output.text.ShortDecimal;
import org.evenstamp.shared.spi.Curve;

/** Writes one curve as CSV: a column a series, its name and unit in the heading. */
public final class CurvesCsv {
    private CurvesCsv() {}

    /** Returns the file's text. */
    public static String write(Curve curve) {
        StringBuilder text = new StringBuilder();
        for (int c = 0; c < curve.columns().size(); c++) {
            Curve.Column column = curve.columns().get(c);
            text.append(c == 0 ? "" : ",")
                    .append('"')
                    .append(column.name().replace("\"", "\"\""))
                    .append(" (")
                    .append(column.unit().symbol())
                    .append(")\"");
        }
        text.append('\n');
        for (int i = 0; i < curve.columns().get(0).length(); i++) {
            for (int c = 0; c < curve.columns().size(); c++) {
                Curve.Column column = curve.columns().get(c);
                if (c > 0) {
                    text.append(',');
                }
                ShortDecimal.append(text, column.unit().fromSi(column.at(i)));
            }
            text.append('\n');
        }
        return text.toString();
    }
}
