package org.evenstamp.geometry.read;

import org.jspecify.annotations.Nullable;

/** The members of a GeoJSON document outside its list of features. */
final class GeoJsonFrame extends JsonCursor {
    private @Nullable String units;

    GeoJsonFrame(Chunk chunk) {
        super(chunk);
    }

    /**
     * What stands in front of the first feature.
     *
     * @param featuresAt index behind the opening bracket of the list of features; -1 when the document has none
     * @param units the member {@code units}, when it was met
     * @param another whether a line with something on it follows the document
     */
    record Head(int featuresAt, @Nullable String units, boolean another) {}

    /** Reads a document from its opening brace up to its list of features, or all of it when it has none. */
    Head head(Chunk document, int from) {
        start(document);
        at = from;
        if (begin('{')) {
            do {
                passName();
                if (named("features") && bytes[at] == '[') {
                    return new Head(at + 1, units, false);
                }
                member();
            } while (another('}'));
        }
        int after = at;
        space();
        boolean anotherLine = at < end && ByteWords.count(bytes, after, at, '\n') > 0;
        return new Head(-1, units, anotherLine);
    }

    /** Reads from the closing bracket of the list of features to the end of the file; returns the units when they are there. */
    @Nullable
    String tail(Chunk rest) {
        start(rest);
        expect(']');
        while (another('}')) {
            passName();
            member();
        }
        space();
        if (at < end) {
            throw syntax(
                    "the file goes on with " + here() + " after the end of its GeoJSON document",
                    "put all features into one FeatureCollection, or one on each line");
        }
        return units;
    }

    private void member() {
        if (named("units")) {
            int from = at;
            boolean text = bytes[at] == '"';
            skipValue();
            units = text ? text(from + 1, at - 1) : text(from, at);
        } else {
            skipValue();
        }
    }
}
