package org.evenstamp.geometry.read;

/** How a layout file is packed; found from its first bytes. */
public enum Compression {
    /** Not at all. */
    NONE,
    /** gzip (RFC 1952). */
    GZIP,
    /** Zstandard (RFC 8878). */
    ZSTD;

    /** Returns the compression that begins with these bytes. */
    static Compression of(byte[] head, int length) {
        if (length >= 2 && head[0] == 0x1f && head[1] == (byte) 0x8b) {
            return GZIP;
        }
        if (length >= 4 && head[0] == 0x28 && head[1] == (byte) 0xb5 && head[2] == 0x2f && head[3] == (byte) 0xfd) {
            return ZSTD;
        }
        return NONE;
    }
}
