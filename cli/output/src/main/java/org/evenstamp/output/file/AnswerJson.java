package org.evenstamp.output.file;

/** Writes what a verb answers besides the result of a run: a document that names its form before all else. */
public final class AnswerJson {
    /** Version of the documents' forms, one for all; raised when a reader of any would have to change. */
    public static final int SCHEMA_VERSION = 1;

    private AnswerJson() {}

    /** Returns the document. */
    public static String write(JsonText.Part content) {
        return JsonText.object(json -> {
            json.whole("schema", SCHEMA_VERSION).text("tool", "evenstamp");
            content.write(json);
        });
    }
}
