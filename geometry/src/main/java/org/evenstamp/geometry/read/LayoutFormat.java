package org.evenstamp.geometry.read;

/** How a layout is written down. Compression is a matter apart. */
public enum LayoutFormat {
    /** One GeoJSON document (RFC 7946 syntax, planar coordinates): a FeatureCollection, a Feature or a geometry. */
    GEOJSON,
    /** A GeoJSON feature or geometry on every line. */
    GEOJSON_LINES,
    /** A well-known text, or its variant with an SRID in front, on every line. Lines that begin with # are comments. */
    WKT_LINES,
    /** A well-known binary in hexadecimal digits, or its variant with an SRID, on every line. */
    WKB_HEX_LINES,
    /** Comma-, semicolon- or tab-separated values, one column of which is well-known text. */
    CSV_WKT
}
