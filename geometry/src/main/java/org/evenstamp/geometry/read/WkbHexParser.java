package org.evenstamp.geometry.read;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import org.evenstamp.geometry.clean.Defect;
import org.evenstamp.shared.problem.InputException;

/**
 * Parses well-known binary (OGC 06-103r4, section 8; also with the extended flags for z, m and SRID) in hexadecimal digits, one
 * geometry a line.
 */
final class WkbHexParser extends ByteCursor implements RecordParser {
    private static final int DEEPEST = 100;
    private static final String FIX = "write the geometry again; a line holds one whole geometry in hexadecimal digits";

    private final FeatureCollector intake;
    private ByteBuffer wkb = ByteBuffer.allocate(1024);
    private int recordAt;

    WkbHexParser(Chunk chunk, FeatureCollector intake) {
        super(chunk);
        this.intake = intake;
    }

    @Override
    public void parse(Chunk next) {
        start(next);
        while (nextRecord(false)) {
            intake.beginFeature(line, at);
            decode();
            geometry(0);
            if (wkb.hasRemaining()) {
                throw broken("the geometry ends " + wkb.remaining() + " bytes before its line does");
            }
            endOfLine();
            intake.endFeature();
        }
    }

    private void decode() {
        if (bytes[at] == '\\' && bytes[at + 1] == 'x') {
            at += 2; // as some databases print binary columns
        }
        recordAt = at;
        int to = at;
        while (digit(bytes[to]) >= 0) {
            to++;
        }
        if ((to < end && bytes[to] > ' ') || to == at) {
            at = to;
            throw syntax("expected a hexadecimal digit but found " + here(), FIX);
        }
        if ((to - at) % 2 != 0) {
            at = to;
            throw syntax("the number of hexadecimal digits is odd", FIX);
        }
        int size = (to - at) / 2;
        if (wkb.capacity() < size) {
            wkb = ByteBuffer.allocate(Math.max(size, wkb.capacity() * 2));
        }
        wkb.clear();
        byte[] into = wkb.array();
        for (int i = 0; i < size; i++) {
            into[i] = (byte) ((digit(bytes[at + 2 * i]) << 4) | digit(bytes[at + 2 * i + 1]));
        }
        wkb.limit(size);
        at = to;
    }

    private static int digit(byte b) {
        if (b >= '0' && b <= '9') {
            return b - '0';
        }
        int lower = b | 0x20;
        return lower >= 'a' && lower <= 'f' ? lower - 'a' + 10 : -1;
    }

    private InputException broken(String message) {
        return chunk.syntax(recordAt + 2 * wkb.position(), message, FIX);
    }

    private void need(long size) {
        if (wkb.remaining() < size) {
            throw broken("the geometry is cut off: " + size + " bytes must follow, there are " + wkb.remaining());
        }
    }

    private int count(int leastBytesEach) {
        need(4);
        long count = Integer.toUnsignedLong(wkb.getInt());
        need(count * leastBytesEach);
        return (int) count;
    }

    private void geometry(int depth) {
        need(5);
        byte order = wkb.get();
        if (order != 0 && order != 1) {
            throw broken("a geometry must begin with byte order 00 or 01");
        }
        wkb.order(order == 1 ? ByteOrder.LITTLE_ENDIAN : ByteOrder.BIG_ENDIAN);
        int type = wkb.getInt();
        int numbers = 2;
        numbers += (type & 0x80000000) != 0 ? 1 : 0;
        numbers += (type & 0x40000000) != 0 ? 1 : 0;
        if ((type & 0x20000000) != 0) {
            need(4);
            wkb.getInt();
            intake.srid();
        }
        int plain = type & 0x1FFFFFFF;
        int family = plain / 1000;
        numbers += family == 3 ? 2 : family == 1 || family == 2 ? 1 : 0;
        switch (family <= 3 ? plain % 1000 : -1) {
            case 1 -> {
                pass(8L * numbers);
                intake.ignored("point");
            }
            case 2 -> {
                pass(8L * numbers * count(8 * numbers));
                intake.ignored("linestring");
            }
            case 3, 17 -> polygon(numbers);
            case 4, 5, 6, 7 -> {
                int parts = count(5);
                if (depth == DEEPEST) {
                    throw broken("collections lie in each other more than 100 deep");
                }
                if (parts == 0) {
                    intake.bad(Defect.EMPTY);
                }
                for (int i = 0; i < parts; i++) {
                    geometry(depth + 1);
                }
            }
            default ->
                throw broken("unknown geometry type " + Integer.toUnsignedString(type)
                        + "; curves and surfaces have to be written as polygons");
        }
    }

    private void pass(long size) {
        need(size);
        wkb.position(wkb.position() + (int) size);
    }

    private void polygon(int numbers) {
        intake.beginPolygon();
        int rings = count(4);
        for (int ring = 0; ring < rings; ring++) {
            int points = count(8 * numbers);
            for (int i = 0; i < points; i++) {
                double x = wkb.getDouble();
                double y = wkb.getDouble();
                wkb.position(wkb.position() + 8 * (numbers - 2));
                intake.vertex(x, y);
            }
            intake.endRing();
        }
        intake.endPolygon();
    }
}
