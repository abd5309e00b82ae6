package org.evenstamp.geometry.read;

import org.evenstamp.geometry.clean.Defect;
import org.evenstamp.shared.problem.InputException;

/**
 * Parses GeoJSON (RFC 7946) as JSON text, coordinates in the plane. Members may come in any order: a value that cannot be
 * understood before a later one is known is passed over and come back to.
 */
final class GeoJsonParser extends JsonCursor implements RecordParser {
    private static final int DEEPEST = 100;
    private static final int NOWHERE = -1;

    /** How the features of a chunk stand. */
    enum Arrangement {
        /** Elements of one array, commas between; the chunk cuts before a comma. */
        ARRAY,
        /** One on every line. */
        LINES,
        /** One object is the whole chunk. */
        SINGLE
    }

    private enum Kind {
        UNKNOWN,
        FEATURE_COLLECTION,
        FEATURE,
        POLYGON,
        MULTI_POLYGON,
        COLLECTION,
        WITHOUT_AREA
    }

    private final FeatureCollector intake;
    private final PropertyReader properties;
    private final Arrangement arrangement;
    private int lineSeenTo;

    GeoJsonParser(Chunk chunk, FeatureCollector intake, PropertyReader properties, Arrangement arrangement) {
        super(chunk);
        this.intake = intake;
        this.properties = properties;
        this.arrangement = arrangement;
    }

    @Override
    public void parse(Chunk next) {
        start(next);
        lineSeenTo = 0;
        switch (arrangement) {
            case LINES -> {
                while (nextRecord(false)) {
                    if (bytes[at] == 0x1E) {
                        at++; // the separator of RFC 8142 text sequences
                        continue;
                    }
                    int from = at;
                    lineSeenTo = at;
                    record();
                    if (ByteWords.count(bytes, from, at, '\n') > 0) {
                        at = from;
                        throw syntax(
                                "this feature goes on in the next line",
                                "write each feature on one line, or make the file one FeatureCollection");
                    }
                    endOfLine();
                }
            }
            case SINGLE -> {
                record();
                space();
                if (at < end) {
                    throw syntax(
                            "the file goes on with " + here() + " after its one GeoJSON object",
                            "put features into one FeatureCollection, or one on each line");
                }
            }
            case ARRAY -> {
                boolean first = next.number == 0;
                space();
                while (at < end) {
                    if (!first) {
                        expect(',');
                        space();
                        if (at == end) {
                            throw syntax("a comma stands after the last feature", "delete the comma");
                        }
                    }
                    first = false;
                    record();
                    space();
                }
            }
        }
    }

    /** Parses a feature, a bare geometry, or a whole collection of features. */
    private void record() {
        countLines(at);
        int from = at;
        if (bytes[at] != '{') {
            throw syntax("expected a feature but found " + here(), "write { \"type\": \"Feature\", ... }");
        }
        Kind kind = Kind.UNKNOWN;
        int geometryAt = NOWHERE;
        int coordinatesAt = NOWHERE;
        int coordinatesEnd = NOWHERE;
        int propertiesAt = NOWHERE;
        int propertiesEnd = NOWHERE;
        int geometryEnd = NOWHERE;
        int listAt = NOWHERE;
        boolean begun = false;
        if (begin('{')) {
            do {
                passName();
                if (named("type")) {
                    kind = kind();
                } else if (named("properties")) {
                    once(propertiesAt);
                    propertiesAt = at;
                    skipValue();
                    propertiesEnd = at;
                } else if (named("geometry")) {
                    once(geometryAt);
                    geometryAt = at;
                    if (kind == Kind.FEATURE && propertiesAt != NOWHERE) {
                        begin(from, propertiesAt, propertiesEnd);
                        geometry(0);
                        begun = true;
                    } else {
                        passObject();
                    }
                    geometryEnd = at;
                } else if (named("coordinates")) {
                    once(coordinatesAt);
                    coordinatesAt = at;
                    passCoordinates();
                    coordinatesEnd = at;
                } else if (named("geometries") || named("features")) {
                    once(listAt);
                    listAt = at;
                    skipValue();
                } else {
                    skipValue();
                }
            } while (another('}'));
        }
        int after = at;
        switch (kind) {
            case UNKNOWN -> {
                at = from;
                throw syntax("this object has no \"type\"", "write { \"type\": \"Feature\", ... }");
            }
            case FEATURE -> {
                if (!begun) {
                    begin(from, propertiesAt, propertiesEnd);
                    if (geometryAt == NOWHERE) {
                        intake.ignored("no geometry");
                    } else {
                        at = geometryAt;
                        geometry(0);
                        sameEnd(geometryEnd);
                    }
                }
                intake.endFeature();
            }
            case FEATURE_COLLECTION -> features(listAt, from);
            default -> {
                intake.beginFeature(line, from);
                at = from;
                content(kind, coordinatesAt, coordinatesEnd, listAt, 0);
                intake.endFeature();
            }
        }
        at = after;
    }

    private void features(int listAt, int from) {
        if (listAt == NOWHERE) {
            at = from;
            throw syntax("this FeatureCollection has no \"features\"", "write \"features\": [ ... ]");
        }
        at = listAt;
        if (begin('[')) {
            do {
                space();
                record();
            } while (another(']'));
        }
    }

    private void once(int seenAt) {
        if (seenAt != NOWHERE) {
            throw syntax("an object has the same member twice", "delete one of them");
        }
    }

    private void sameEnd(int expected) {
        if (at != expected) {
            throw syntax("expected ',' or '}' but found " + here(), mend());
        }
    }

    private void begin(int from, int propertiesFrom, int propertiesEnd) {
        intake.beginFeature(line, from);
        if (propertiesFrom != NOWHERE) {
            int resume = at;
            properties.read(chunk, propertiesFrom, propertiesEnd, intake);
            at = resume;
        }
    }

    private Kind kind() {
        int from = at;
        passString();
        if (named("Feature")) {
            return Kind.FEATURE;
        }
        if (named("Polygon")) {
            return Kind.POLYGON;
        }
        if (named("MultiPolygon")) {
            return Kind.MULTI_POLYGON;
        }
        if (named("GeometryCollection")) {
            return Kind.COLLECTION;
        }
        if (named("FeatureCollection")) {
            return Kind.FEATURE_COLLECTION;
        }
        if (named("Point") || named("MultiPoint") || named("LineString") || named("MultiLineString")) {
            return Kind.WITHOUT_AREA;
        }
        int to = at;
        at = from;
        throw syntax("unknown GeoJSON type " + text(from, to), "write Feature, Polygon, MultiPolygon, ...");
    }

    private void geometry(int depth) {
        if (isNull()) {
            intake.ignored("no geometry");
            return;
        }
        int from = at;
        Kind kind = Kind.UNKNOWN;
        int coordinatesAt = NOWHERE;
        int coordinatesEnd = NOWHERE;
        int listAt = NOWHERE;
        boolean done = false;
        if (begin('{')) {
            do {
                passName();
                if (named("coordinates")) {
                    once(coordinatesAt);
                    coordinatesAt = at;
                    if (kind == Kind.POLYGON) {
                        polygon();
                        done = true;
                    } else if (kind == Kind.MULTI_POLYGON) {
                        polygons();
                        done = true;
                    } else {
                        passCoordinates();
                    }
                    coordinatesEnd = at;
                } else if (named("type")) {
                    kind = kind();
                } else if (named("geometries")) {
                    once(listAt);
                    listAt = at;
                    skipValue();
                } else {
                    skipValue();
                }
            } while (another('}'));
        }
        if (!done) {
            int after = at;
            at = from;
            content(kind, coordinatesAt, coordinatesEnd, listAt, depth);
            at = after;
        }
    }

    /** Parses what a geometry's members hold, all of them seen. */
    private void content(Kind kind, int coordinatesAt, int coordinatesEnd, int listAt, int depth) {
        int member = kind == Kind.COLLECTION ? listAt : coordinatesAt;
        if (member == NOWHERE) {
            throw syntax(
                    kind == Kind.COLLECTION
                            ? "this GeometryCollection has no \"geometries\""
                            : "this geometry has no \"coordinates\"",
                    "write \"type\" and \"coordinates\" of every geometry");
        }
        switch (kind) {
            case POLYGON -> {
                at = member;
                polygon();
                sameEnd(coordinatesEnd);
            }
            case MULTI_POLYGON -> {
                at = member;
                polygons();
                sameEnd(coordinatesEnd);
            }
            case WITHOUT_AREA -> {
                at = member;
                skipValue();
                sameEnd(coordinatesEnd);
                intake.ignored("point or line");
            }
            case COLLECTION -> {
                at = member;
                if (depth == DEEPEST) {
                    throw syntax("collections lie in each other more than 100 deep", "write the polygons directly");
                }
                if (begin('[')) {
                    do {
                        geometry(depth + 1);
                    } while (another(']'));
                } else {
                    intake.bad(Defect.EMPTY);
                }
            }
            case UNKNOWN, FEATURE, FEATURE_COLLECTION ->
                throw syntax("this geometry has no geometry \"type\"", "write \"type\": \"Polygon\", ...");
        }
    }

    private void polygons() {
        if (!begin('[')) {
            intake.bad(Defect.EMPTY);
            return;
        }
        do {
            polygon();
        } while (another(']'));
    }

    private void polygon() {
        intake.beginPolygon();
        if (begin('[')) {
            do {
                ring();
            } while (another(']'));
        }
        intake.endPolygon();
    }

    private void ring() {
        if (begin('[')) {
            for (; ; ) {
                expect('[');
                double x = jsonNumber();
                expect(',');
                double y = jsonNumber();
                byte b = bytes[at];
                while (b != ']') {
                    space();
                    if (bytes[at] == ',') {
                        at++;
                        jsonNumber();
                    } else if (bytes[at] != ']') {
                        throw syntax("expected ',' or ']' but found " + here(), mend());
                    }
                    b = bytes[at];
                }
                at++;
                intake.vertex(x, y);
                if (bytes[at] == ',') {
                    at++;
                    if (bytes[at] == '[') {
                        continue; // the usual, without a blank
                    }
                    at--;
                }
                if (!another(']')) {
                    break;
                }
            }
        }
        intake.endRing();
    }

    /** Passes over an object or null by its braces alone; it is parsed later. */
    private void passObject() {
        if (bytes[at] != '{') {
            skipValue();
            return;
        }
        int from = at;
        int depth = 0;
        do {
            at = ByteWords.quoteOrBrace(bytes, at, end);
            if (at >= end) {
                at = from;
                skipValue(); // throws where the syntax breaks
                throw syntax("an object does not end", mend());
            }
            if (bytes[at] == '"') {
                passString();
            } else {
                depth += bytes[at] == '{' ? 1 : -1;
                at++;
            }
        } while (depth > 0);
    }

    /** Passes over coordinates, in which no quote and no brace stands; they are parsed later. */
    private void passCoordinates() {
        int from = at;
        int stop = ByteWords.quoteOrBrace(bytes, at, end);
        at = stop;
        while (at > from && (bytes[at - 1] == ',' || bytes[at - 1] <= ' ')) {
            at--;
        }
        // In a right object the list ends here; in a broken one, parsing it says what is wrong.
        if (bytes[from] != '[' || bytes[at - 1] != ']' || stop == end) {
            at = from;
            skipValue();
        }
    }

    private void countLines(int to) {
        line += ByteWords.count(bytes, lineSeenTo, to, '\n');
        lineSeenTo = to;
    }

    /** Returns the problem of a file that ends before its list of features does. */
    static InputException endsEarly(Chunk chunk) {
        return chunk.syntax(
                chunk.length,
                "the file ends before its list of features does",
                "the file is cut off: copy or write it again");
    }
}
