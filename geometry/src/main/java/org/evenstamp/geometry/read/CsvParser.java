package org.evenstamp.geometry.read;

import org.evenstamp.geometry.clean.Defect;

/** Parses a table (RFC 4180, other delimiters too) with a column of well-known text, one feature a row. */
final class CsvParser extends ByteCursor implements RecordParser {
    private final FeatureCollector intake;
    private final CsvColumns columns;
    private final PropertyReader properties;
    private final WktParser wkt;
    /** Begin and end of the cells of a row, quotes excluded. */
    private final int[] from;

    private final int[] to;

    CsvParser(Chunk chunk, FeatureCollector intake, PropertyReader properties, CsvColumns columns) {
        super(chunk);
        this.intake = intake;
        this.properties = properties;
        this.columns = columns;
        this.wkt = new WktParser(chunk, intake);
        this.from = new int[columns.count()];
        this.to = new int[columns.count()];
    }

    @Override
    public void parse(Chunk next) {
        start(next);
        int linesSeenTo = 0;
        while (at < end) {
            if (bytes[at] == '\n' || bytes[at] == '\r') {
                at++;
                continue;
            }
            line += ByteWords.count(bytes, linesSeenTo, at, '\n');
            linesSeenTo = at;
            int row = at;
            cells();
            int after = at;
            intake.beginFeature(line, row);
            properties.read(
                    new PropertyReader.Cells(
                            cell(columns.depth()), cell(columns.role()), cell(columns.name()), cell(columns.weight())),
                    intake);
            if (!columns.others().isEmpty()) {
                intake.unused(columns.others());
            }
            geometry(from[columns.geometry()], to[columns.geometry()]);
            intake.endFeature();
            at = after;
        }
    }

    private void geometry(int first, int last) {
        if (cell(columns.geometry()).isBlank()) {
            intake.bad(Defect.EMPTY);
            return;
        }
        at = wkt.parse(chunk, first);
        while (at < last && bytes[at] == ' ') {
            at++;
        }
        if (at != last) {
            throw syntax("the cell goes on with " + here() + " after its geometry", "write one geometry in each row");
        }
    }

    private String cell(int column) {
        return column < 0 ? "" : text(from[column], to[column]).strip();
    }

    private void cells() {
        int row = at;
        int column = 0;
        for (; ; ) {
            if (column == columns.count()) {
                throw chunk.syntax(
                        at,
                        "this row has more than " + columns.count() + " cells",
                        "put well-known text between double quotes, as it contains commas");
            }
            if (bytes[at] == '"') {
                int quote = at++;
                from[column] = at;
                while (bytes[at] != '"' || bytes[at + 1] == '"') {
                    if (at >= end) {
                        throw chunk.syntax(quote, "a quoted cell does not end", "close it with a double quote");
                    }
                    at += bytes[at] == '"' ? 2 : 1;
                }
                to[column] = at++;
            } else {
                from[column] = at;
                while (at < end && bytes[at] != '\n' && bytes[at] != '\r' && !delimits(bytes[at])) {
                    at++;
                }
                to[column] = at;
            }
            column++;
            if (at < end && delimits(bytes[at])) {
                at++;
                continue;
            }
            if (at < end && bytes[at] != '\n' && bytes[at] != '\r') {
                throw syntax(
                        "expected the end of a cell but found " + here(), "double the quotes inside a quoted cell");
            }
            break;
        }
        if (column < columns.count()) {
            throw chunk.syntax(
                    row, "this row has " + column + " cells, the first has " + columns.count(), "complete the row");
        }
    }

    private boolean delimits(byte b) {
        return columns.delimiter() != 0 && b == columns.delimiter();
    }
}
