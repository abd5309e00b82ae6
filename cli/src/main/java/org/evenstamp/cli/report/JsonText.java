package org.evenstamp.cli.report;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;

/** Writes JSON that a person can read too: two spaces, line feeds on every platform, nine significant digits. */
final class JsonText {
    /** Writes a part of a document. */
    @FunctionalInterface
    interface Part {
        void write(JsonText json) throws IOException;
    }

    private final JsonGenerator generator;

    private JsonText(JsonGenerator generator) {
        this.generator = generator;
    }

    /** Returns an object as text, ended by a line feed. */
    static String object(Part content) {
        StringWriter text = new StringWriter();
        DefaultPrettyPrinter printer = new DefaultPrettyPrinter();
        DefaultIndenter indenter = new DefaultIndenter("  ", "\n");
        printer.indentObjectsWith(indenter);
        printer.indentArraysWith(indenter);
        try (JsonGenerator generator = new JsonFactory().createGenerator(text).setPrettyPrinter(printer)) {
            generator.writeStartObject();
            content.write(new JsonText(generator));
            generator.writeEndObject();
        } catch (IOException e) {
            throw new UncheckedIOException(e); // a StringWriter never fails
        }
        return text.append('\n').toString();
    }

    JsonText text(String key, String value) throws IOException {
        generator.writeStringField(key, value);
        return this;
    }

    JsonText whole(String key, long value) throws IOException {
        generator.writeNumberField(key, value);
        return this;
    }

    JsonText number(String key, double value) throws IOException {
        generator.writeFieldName(key);
        generator.writeNumber(ShortDecimal.of(value));
        return this;
    }

    JsonText group(String key, Part content) throws IOException {
        generator.writeObjectFieldStart(key);
        content.write(this);
        generator.writeEndObject();
        return this;
    }

    JsonText list(String key, Part content) throws IOException {
        generator.writeArrayFieldStart(key);
        content.write(this);
        generator.writeEndArray();
        return this;
    }

    JsonText list(Part content) throws IOException {
        generator.writeStartArray();
        content.write(this);
        generator.writeEndArray();
        return this;
    }

    JsonText item(Part content) throws IOException {
        generator.writeStartObject();
        content.write(this);
        generator.writeEndObject();
        return this;
    }

    JsonText item(String value) throws IOException {
        generator.writeString(value);
        return this;
    }

    JsonText item(double value) throws IOException {
        generator.writeNumber(ShortDecimal.of(value));
        return this;
    }

    JsonText key(String key) throws IOException {
        generator.writeFieldName(key);
        return this;
    }
}
