package org.evenstamp.output.file;

import java.io.IOException;
import java.util.List;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Source;

/** Writes problems of the user's input as a member of a document; what a problem does not know is left out. */
public final class ProblemsJson {
    private ProblemsJson() {}

    /** Writes the member {@code problems}. */
    public static void write(JsonText json, List<Problem> problems) throws IOException {
        json.list("problems", list -> {
            for (Problem problem : problems) {
                list.item(item -> write(item, problem));
            }
        });
    }

    private static void write(JsonText json, Problem problem) throws IOException {
        Source source = problem.source();
        json.text("code", problem.code());
        if (!source.isNowhere()) {
            json.text("file", source.file());
        }
        if (source.line() > 0) {
            json.whole("line", source.line());
        }
        if (source.line() > 0 && source.column() > 0) {
            json.whole("column", source.column());
        }
        if (!problem.key().isEmpty()) {
            json.text("key", problem.key());
        }
        json.text("message", problem.message());
        if (!problem.fix().isEmpty()) {
            json.text("suggestion", problem.fix());
        }
    }
}
