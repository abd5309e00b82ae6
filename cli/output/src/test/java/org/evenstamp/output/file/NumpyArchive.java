package org.evenstamp.output.file;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;

/** Reads the arrays of an {@code .npz} file back, from the description of the form alone. */
public final class NumpyArchive {
    /** One array, in C order. */
    public record Array(String type, List<Integer> shape, List<Double> values) {}

    private static final Pattern HEADING = Pattern.compile(
            "\\{'descr': '(<f8|\\|b1)', 'fortran_order': False, 'shape': \\((\\d+,|\\d+(?:, \\d+)+)\\), \\} *\n");

    private NumpyArchive() {}

    /** Returns the arrays by the name of their entry. */
    public static Map<String, Array> read(Path file) throws IOException {
        Map<String, Array> arrays = new LinkedHashMap<>();
        try (ZipFile zip = new ZipFile(file.toFile())) {
            for (ZipEntry entry : Collections.list(zip.entries())) {
                arrays.put(entry.getName(), array(zip.getInputStream(entry).readAllBytes()));
            }
        }
        return arrays;
    }

    private static Array array(byte[] bytes) {
        ByteBuffer buffer = ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN);
        byte[] magic = new byte[6];
        buffer.get(magic);
        if (!new String(magic, StandardCharsets.ISO_8859_1).equals("\u0093NUMPY")
                || buffer.get() != 1
                || buffer.get() != 0) {
            throw new IllegalArgumentException("not an array of version 1.0");
        }
        byte[] heading = new byte[buffer.getShort()];
        buffer.get(heading);
        if (buffer.position() % 64 != 0) {
            throw new IllegalArgumentException("the data begins at " + buffer.position());
        }
        Matcher matcher = HEADING.matcher(new String(heading, StandardCharsets.US_ASCII));
        if (!matcher.matches()) {
            throw new IllegalArgumentException("heading " + new String(heading, StandardCharsets.US_ASCII));
        }
        List<Integer> shape = Pattern.compile("\\d+")
                .matcher(matcher.group(2))
                .results()
                .map(length -> Integer.valueOf(length.group()))
                .toList();
        int size = shape.stream().reduce(1, Math::multiplyExact);
        List<Double> values = new ArrayList<>();
        for (int i = 0; i < size; i++) {
            values.add(matcher.group(1).equals("<f8") ? buffer.getDouble() : buffer.get());
        }
        if (buffer.hasRemaining()) {
            throw new IllegalArgumentException(buffer.remaining() + " bytes too many");
        }
        return new Array(matcher.group(1), shape, values);
    }
}
