package org.evenstamp.geometry.read;

import org.evenstamp.geometry.clean.Defect;

/** Parses well-known text (OGC 06-103r4, section 7), also with {@code SRID=n;} in front, one geometry a line. */
final class WktParser extends ByteCursor implements RecordParser {
    private static final int DEEPEST = 100;

    private final FeatureCollector intake;

    WktParser(Chunk chunk, FeatureCollector intake) {
        super(chunk);
        this.intake = intake;
    }

    @Override
    public void parse(Chunk next) {
        start(next);
        while (nextRecord(true)) {
            intake.beginFeature(line, at);
            tagged();
            endOfLine();
            intake.endFeature();
        }
    }

    /** Parses one geometry in a stretch of another parser's chunk and returns the index behind it. The feature has begun. */
    int parse(Chunk other, int from) {
        start(other);
        at = from;
        blanks();
        tagged();
        return at;
    }

    private void tagged() {
        if (spells(at, "srid=")) {
            at += 5;
            while (bytes[at] >= '0' && bytes[at] <= '9') {
                at++;
            }
            if (bytes[at] != ';') {
                throw syntax("expected ';' after the SRID but found " + here(), "write SRID=number;GEOMETRY");
            }
            at++;
            intake.srid();
            blanks();
        }
        geometry(0);
    }

    private void geometry(int depth) {
        int from = at;
        while (isLetter(bytes[at])) {
            at++;
        }
        String kind = text(from, at).toUpperCase(java.util.Locale.ROOT);
        blanks();
        dimensions();
        blanks();
        // Some writers join the letters: POLYGONZ, POINTZM.
        String plain = kind.endsWith("ZM") ? kind.substring(0, kind.length() - 2) : kind;
        plain = plain.endsWith("Z") || plain.endsWith("M") ? plain.substring(0, plain.length() - 1) : plain;
        switch (plain) {
            case "POLYGON", "TRIANGLE" -> polygon();
            case "MULTIPOLYGON" -> {
                if (!empty()) {
                    open();
                    do {
                        polygon();
                    } while (another());
                }
            }
            case "GEOMETRYCOLLECTION" -> {
                if (depth == DEEPEST) {
                    throw syntax("collections lie in each other more than 100 deep", "write the polygons directly");
                }
                if (!empty()) {
                    open();
                    do {
                        blanks();
                        geometry(depth + 1);
                    } while (another());
                }
            }
            case "POINT",
                    "LINESTRING",
                    "MULTIPOINT",
                    "MULTILINESTRING",
                    "LINEARRING",
                    "CIRCULARSTRING",
                    "COMPOUNDCURVE",
                    "MULTICURVE" -> {
                intake.ignored(plain.toLowerCase(java.util.Locale.ROOT));
                pass();
            }
            case "CURVEPOLYGON", "MULTISURFACE", "POLYHEDRALSURFACE", "TIN", "SURFACE", "CURVE" -> {
                intake.bad(Defect.UNSUPPORTED_KIND);
                pass();
            }
            default -> {
                at = from;
                throw syntax(
                        kind.isEmpty()
                                ? "expected a geometry such as POLYGON but found " + here()
                                : "unknown geometry \"" + kind + "\"",
                        "write POLYGON ((x y, x y, ...)), one geometry on each line");
            }
        }
    }

    private static boolean isLetter(byte b) {
        int lower = b | 0x20;
        return lower >= 'a' && lower <= 'z';
    }

    private void dimensions() {
        int p = at;
        while (isLetter(bytes[p])) {
            p++;
        }
        int length = p - at;
        if ((length == 1 && (spells(at, "z") || spells(at, "m"))) || (length == 2 && spells(at, "zm"))) {
            at = p;
        }
    }

    private boolean empty() {
        if (spells(at, "empty") && !isLetter(bytes[at + 5])) {
            at += 5;
            intake.bad(Defect.EMPTY);
            return true;
        }
        return false;
    }

    private void open() {
        blanks();
        if (bytes[at] != '(') {
            throw syntax("expected '(' but found " + here(), fixForEnd());
        }
        at++;
    }

    /** Passes a comma and returns true, or a closing parenthesis and returns false. */
    private boolean another() {
        blanks();
        byte b = bytes[at];
        if (b == ',') {
            at++;
            return true;
        }
        if (b != ')') {
            throw syntax("expected ',' or ')' but found " + here(), fixForEnd());
        }
        at++;
        return false;
    }

    private String fixForEnd() {
        return at >= end || bytes[at] == '\n' || bytes[at] == '\r'
                ? "the geometry is cut off: write all of it on one line"
                : "mend the text of the geometry";
    }

    private void polygon() {
        blanks();
        intake.beginPolygon();
        if (spells(at, "empty")) {
            at += 5;
        } else {
            open();
            do {
                ring();
            } while (another());
        }
        intake.endPolygon();
    }

    private void ring() {
        blanks();
        if (spells(at, "empty")) {
            at += 5;
            intake.endRing();
            return;
        }
        open();
        for (; ; ) {
            double x = coordinate();
            double y = coordinate();
            byte b = bytes[at];
            while (b != ',' && b != ')') { // z and m, or blanks
                blanks();
                b = bytes[at];
                if (b != ',' && b != ')') {
                    coordinate();
                    b = bytes[at];
                }
            }
            intake.vertex(x, y);
            at++;
            if (b == ')') {
                break;
            }
        }
        intake.endRing();
    }

    private double coordinate() {
        byte b = bytes[at];
        if (b == ' ' || b == '\t') {
            blanks();
        }
        int from = at;
        double value = number();
        if (at == from) {
            throw syntax("expected a number but found " + here(), fixForEnd());
        }
        return value;
    }

    /** Passes over the rest of a geometry that is not taken, to its last parenthesis. */
    private void pass() {
        if (spells(at, "empty")) {
            at += 5;
            return;
        }
        open();
        int depth = 1;
        while (depth > 0) {
            byte b = bytes[at];
            if (at >= end || b == '\n') {
                throw syntax("expected ')' but found " + here(), fixForEnd());
            }
            depth += b == '(' ? 1 : b == ')' ? -1 : 0;
            at++;
        }
    }
}
