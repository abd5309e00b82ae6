package org.evenstamp.samples.bench;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadFeature;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * The yardsticks of reading: what it takes to go through a file and do nothing with it. A program of its own, so that both
 * sides of a comparison start a Java runtime.
 */
final class ScanMain {
    /** How a file is gone through. */
    enum Scan {
        /** Jackson tokens; numbers are seen, not converted. */
        TOKENS,
        /** Jackson tokens; every number becomes a double, by Jackson's fast parser. */
        NUMBERS,
        /** Bytes, counting line feeds. */
        BYTES,
        /** Lines, each made a string. */
        LINES
    }

    private ScanMain() {}

    /** Takes the name of a scan and a file; prints what it counted. */
    public static void main(String[] args) throws IOException {
        System.out.println(scan(Scan.valueOf(args[0]), Path.of(args[1])));
    }

    /** Returns the number of tokens, of numbers, or of lines. */
    static long scan(Scan scan, Path file) throws IOException {
        return switch (scan) {
            case TOKENS -> tokens(file, false);
            case NUMBERS -> tokens(file, true);
            case BYTES -> lineFeeds(file);
            case LINES -> lines(file);
        };
    }

    private static long tokens(Path file, boolean convert) throws IOException {
        JsonFactory factory = JsonFactory.builder()
                .enable(StreamReadFeature.USE_FAST_DOUBLE_PARSER)
                .build();
        long tokens = 0;
        long numbers = 0;
        double sum = 0; // of no meaning, but it keeps the conversion alive
        try (JsonParser parser = factory.createParser(Files.newInputStream(file))) {
            for (JsonToken token = parser.nextToken(); token != null; token = parser.nextToken()) {
                tokens++;
                if (convert && token.isNumeric()) {
                    sum += parser.getDoubleValue();
                    numbers++;
                }
            }
        }
        if (Double.isNaN(sum)) {
            throw new IllegalStateException("JSON has no NaN");
        }
        return convert ? numbers : tokens;
    }

    private static long lineFeeds(Path file) throws IOException {
        byte[] buffer = new byte[1 << 18];
        long count = 0;
        try (InputStream in = Files.newInputStream(file)) {
            for (int length = in.read(buffer); length >= 0; length = in.read(buffer)) {
                for (int i = 0; i < length; i++) {
                    if (buffer[i] == '\n') {
                        count++;
                    }
                }
            }
        }
        return count;
    }

    private static long lines(Path file) throws IOException {
        long count = 0;
        try (BufferedReader reader = new BufferedReader(
                new InputStreamReader(Files.newInputStream(file), StandardCharsets.ISO_8859_1), 1 << 18)) {
            while (reader.readLine() != null) {
                count++;
            }
        }
        return count;
    }
}
