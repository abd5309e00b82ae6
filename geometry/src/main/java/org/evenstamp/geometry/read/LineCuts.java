package org.evenstamp.geometry.read;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** Where a file of lines may be cut: behind the ends of lines. */
final class LineCuts {
    private LineCuts() {}

    /**
     * Finds the cuts.
     *
     * @param from first byte of the first part
     * @param size of the file
     * @param partBytes about how long a part is
     * @return the bytes at which parts begin, and the end of the file
     */
    static List<Long> of(Path file, long from, long size, long partBytes) {
        List<Long> cuts = new ArrayList<>(List.of(from));
        for (long at = from + partBytes; at < size; ) {
            long next = afterLineEnd(file, at, size);
            if (next < size) {
                cuts.add(next);
            }
            at = next + partBytes;
        }
        cuts.add(size);
        return cuts;
    }

    private static long afterLineEnd(Path file, long from, long size) {
        byte[] bytes = new byte[1 << 16];
        try (FileBytes in = FileBytes.openRange(file, from, size)) {
            for (long at = from; at < size; ) {
                int filled = in.read(bytes, 0, bytes.length);
                for (int i = 0; i < filled; i++) {
                    if (bytes[i] == '\n') {
                        return at + i + 1;
                    }
                }
                at += Math.max(1, filled);
            }
        }
        return size;
    }
}
