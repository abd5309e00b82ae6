package org.evenstamp.output.file;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import org.evenstamp.output.text.ShortDecimal;

/** Writes JSON that a person can read too: two spaces, line feeds on every platform, nine significant digits. */
public final class JsonText {
    /** Writes a part of a document. */
    @FunctionalInterface
    public interface Part {
        /** Writes it. */
        void write(JsonText json) throws IOException;
    }

    private final JsonGenerator generator;

    private JsonText(JsonGenerator generator) {
        this.generator = generator;
    }

    /** Returns an object as text, ended by a line feed. */
    public static String object(Part content) {
        return document(json -> json.item(content));
    }

    /** Returns an array as text, ended by a line feed. */
    public static String array(Part content) {
        return document(json -> json.list(content));
    }

    private static String document(Part content) {
        StringWriter text = new StringWriter();
        DefaultPrettyPrinter printer = new DefaultPrettyPrinter();
        DefaultIndenter indenter = new DefaultIndenter("  ", "\n");
        printer.indentObjectsWith(indenter);
        printer.indentArraysWith(indenter);
        try (JsonGenerator generator = new JsonFactory().createGenerator(text).setPrettyPrinter(printer)) {
            content.write(new JsonText(generator));
        } catch (IOException e) {
            throw new UncheckedIOException(e); // a StringWriter never fails
        }
        return text.append('\n').toString();
    }

    /** Writes a text member. */
    public JsonText text(String key, String value) throws IOException {
        generator.writeStringField(key, value);
        return this;
    }

    /** Writes a whole number. */
    public JsonText whole(String key, long value) throws IOException {
        generator.writeNumberField(key, value);
        return this;
    }

    /** Writes a number. */
    public JsonText number(String key, double value) throws IOException {
        generator.writeFieldName(key);
        generator.writeNumber(ShortDecimal.of(value));
        return this;
    }

    /** Writes whether something holds. */
    public JsonText truth(String key, boolean value) throws IOException {
        generator.writeBooleanField(key, value);
        return this;
    }

    /** Writes a member without a value. */
    public JsonText nothing(String key) throws IOException {
        generator.writeNullField(key);
        return this;
    }

    /** Writes within an array that there is no value. */
    public JsonText nothing() throws IOException {
        generator.writeNull();
        return this;
    }

    /** Writes an object as a member. */
    public JsonText group(String key, Part content) throws IOException {
        generator.writeObjectFieldStart(key);
        content.write(this);
        generator.writeEndObject();
        return this;
    }

    /** Writes an array as a member. */
    public JsonText list(String key, Part content) throws IOException {
        generator.writeArrayFieldStart(key);
        content.write(this);
        generator.writeEndArray();
        return this;
    }

    /** Writes an array. */
    public JsonText list(Part content) throws IOException {
        generator.writeStartArray();
        content.write(this);
        generator.writeEndArray();
        return this;
    }

    /** Writes an object within an array. */
    public JsonText item(Part content) throws IOException {
        generator.writeStartObject();
        content.write(this);
        generator.writeEndObject();
        return this;
    }

    /** Writes a text within an array. */
    public JsonText item(String value) throws IOException {
        generator.writeString(value);
        return this;
    }

    /** Writes a number within an array. */
    public JsonText item(double value) throws IOException {
        generator.writeNumber(ShortDecimal.of(value));
        return this;
    }

    /** Writes the name of the member that comes next. */
    public JsonText key(String key) throws IOException {
        generator.writeFieldName(key);
        return this;
    }
}
