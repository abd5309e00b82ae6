package org.evenstamp.engine.job;

import com.fasterxml.jackson.core.JacksonException;
import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonLocation;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.dataformat.yaml.YAMLFactory;
import com.fasterxml.jackson.dataformat.yaml.YAMLParser;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.problem.Source;
import org.jspecify.annotations.Nullable;

/** Reads a YAML or JSON file into {@link JobNode}s, keeping the place of everything. JSON is what ends in {@code .json}. */
final class JobParser {
    /** A job is written by hand; what is larger is another kind of file. */
    private static final long MOST_BYTES = 1 << 20;

    /** Characters of a value: a path may be long, everything else is short. */
    private static final int LONGEST_VALUE = 5000;

    private static final int MOST_DEPTH = 20;

    private final String place;
    private final Problems problems;
    private final JsonParser parser;

    private JobParser(String place, Problems problems, JsonParser parser) {
        this.place = place;
        this.problems = problems;
        this.parser = parser;
    }

    /**
     * Reads a job file.
     *
     * @param problems where aliases and the like are added
     * @throws InputException when it cannot be read or its syntax is wrong
     */
    static JobNode.Mapping parse(Path file, Problems problems) {
        String place = file.toString();
        String text = text(file);
        if (text.isBlank()) {
            throw new InputException("job.empty", place, "the job file is empty", "evenstamp new DIR writes a starter");
        }
        boolean json = file.toString().toLowerCase(Locale.ROOT).endsWith(".json");
        StreamReadConstraints constraints =
                StreamReadConstraints.builder().maxNestingDepth(MOST_DEPTH).build();
        JsonFactory factory = json
                ? JsonFactory.builder().streamReadConstraints(constraints).build()
                : YAMLFactory.builder().streamReadConstraints(constraints).build();
        try (JsonParser parser = factory.createParser(text)) {
            JobParser reader = new JobParser(place, problems, parser);
            if (parser.nextToken() == null) {
                throw new InputException("job.empty", place, "the job file holds only comments", "");
            }
            JobNode root = reader.node();
            if (parser.nextToken() != null) {
                problems.add(
                        "job.syntax",
                        reader.here(),
                        "something follows after the end of the job",
                        "a job is one document");
            }
            if (root instanceof JobNode.Mapping mapping) {
                return mapping;
            }
            throw new InputException(
                    "job.not-a-job", place, "a job is a group of sections such as layout: and film:", "");
        } catch (JacksonException e) {
            throw syntax(place, e);
        } catch (IOException e) {
            throw new InputException("job.syntax", place, "cannot be read: " + e.getMessage(), "");
        }
    }

    /**
     * Reads one value as YAML or JSON write it on one line.
     *
     * @param place what to call it in problems
     * @throws InputException when its syntax is wrong
     */
    static JobNode value(String place, String text) {
        Problems problems = new Problems();
        StreamReadConstraints constraints =
                StreamReadConstraints.builder().maxNestingDepth(MOST_DEPTH).build();
        try (JsonParser parser =
                YAMLFactory.builder().streamReadConstraints(constraints).build().createParser(text)) {
            JobParser reader = new JobParser(place, problems, parser);
            parser.nextToken();
            JobNode value = reader.node();
            if (parser.nextToken() != null) {
                problems.add("job.syntax", place, "something follows after the value", "");
            }
            problems.throwIfAny();
            return value.withoutMarks();
        } catch (JacksonException e) {
            throw syntax(place, e);
        } catch (IOException e) {
            throw new InputException("job.syntax", place, "cannot be read: " + e.getMessage(), "");
        }
    }

    private static String text(Path file) {
        String place = file.toString();
        try {
            if (Files.isDirectory(file)) {
                throw new InputException(
                        "job.directory", place, "is a directory", "name the job file in it, such as job.yaml");
            }
            if (!Files.exists(file)) {
                throw new InputException("job.missing", place, "there is no such file", "");
            }
            TextFile.check(file, Long.MAX_VALUE);
            if (Files.size(file) > MOST_BYTES) {
                throw new InputException(
                        "job.too-large",
                        place,
                        "has " + Files.size(file) + " bytes, a job has at most " + MOST_BYTES,
                        "a layout is measured with: evenstamp measure LAYOUT");
            }
            String text = StandardCharsets.UTF_8
                    .newDecoder()
                    .decode(ByteBuffer.wrap(Files.readAllBytes(file)))
                    .toString();
            return text.startsWith("\ufeff") ? text.substring(1) : text;
        } catch (CharacterCodingException e) {
            throw new InputException("job.not-text", place, "is not UTF-8 text", "a job is a YAML or JSON file");
        } catch (IOException e) {
            throw new InputException("job.unreadable", place, "cannot be read: " + e.getMessage(), "");
        }
    }

    private static InputException syntax(String place, JacksonException e) {
        JsonLocation location = e.getLocation();
        Source where = location == null || location.getLineNr() < 1
                ? Source.of(place)
                : new Source(place, location.getLineNr(), location.getColumnNr());
        String message = e.getOriginalMessage();
        // The YAML reader repeats the lines around the place; the first lines say what is wrong.
        int end = message.indexOf("\n in ");
        String first = (end > 0 ? message.substring(0, end) : message).replaceAll("\\s*\\R\\s*", " ");
        return new InputException("job.syntax", where, "is not valid: " + first, "");
    }

    private JobNode node() throws IOException {
        JobNode.Mark mark = mark();
        if (parser instanceof YAMLParser yaml && yaml.isCurrentAlias()) {
            problems.add("job.alias", here(), "aliases are not followed", "write the value out");
        }
        JsonToken token = parser.currentToken();
        return switch (token) {
            case START_OBJECT -> mapping(mark);
            case START_ARRAY -> sequence(mark);
            case VALUE_NUMBER_INT, VALUE_NUMBER_FLOAT -> scalar(mark, parser.getText(), JobNode.Scalar.Type.NUMBER);
            case VALUE_TRUE, VALUE_FALSE -> scalar(mark, parser.getText(), JobNode.Scalar.Type.TRUTH);
            case VALUE_NULL -> scalar(mark, "", JobNode.Scalar.Type.NOTHING);
            default -> scalar(mark, parser.getText(), JobNode.Scalar.Type.TEXT);
        };
    }

    private JobNode scalar(JobNode.Mark mark, @Nullable String text, JobNode.Scalar.Type type) {
        if (text == null || text.isBlank()) {
            return new JobNode.Scalar(mark, "", JobNode.Scalar.Type.NOTHING);
        }
        if (text.length() > LONGEST_VALUE) {
            problems.add(
                    "job.too-long",
                    here(),
                    "a value of " + text.length() + " characters, the longest may have " + LONGEST_VALUE,
                    "");
            problems.throwIfAny(); // whatever else is said of it would be long as well
        }
        return new JobNode.Scalar(mark, text, type);
    }

    private JobNode mapping(JobNode.Mark mark) throws IOException {
        Map<String, JobNode.Entry> entries = new LinkedHashMap<>();
        List<JobNode.Repeated> repeated = new ArrayList<>();
        while (parser.nextToken() != JsonToken.END_OBJECT) {
            String key = parser.currentName();
            JobNode.Mark keyMark = mark();
            if (key.length() > LONGEST_VALUE) {
                problems.add("job.too-long", here(), "a key of " + key.length() + " characters", "");
                problems.throwIfAny();
            }
            parser.nextToken();
            JobNode.Entry entry = new JobNode.Entry(keyMark, node());
            if (entries.putIfAbsent(key, entry) != null) {
                repeated.add(new JobNode.Repeated(key, entry));
            }
        }
        return new JobNode.Mapping(mark, entries, repeated);
    }

    private JobNode sequence(JobNode.Mark mark) throws IOException {
        List<JobNode> items = new ArrayList<>();
        while (parser.nextToken() != JsonToken.END_ARRAY) {
            items.add(node());
        }
        return new JobNode.Sequence(mark, items);
    }

    private JobNode.Mark mark() {
        JsonLocation location = parser.currentTokenLocation();
        return new JobNode.Mark(location.getLineNr(), location.getColumnNr());
    }

    private Source here() {
        return new Source(place, mark().line(), mark().column());
    }
}
