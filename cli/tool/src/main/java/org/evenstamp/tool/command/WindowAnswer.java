package org.evenstamp.tool.command;

import java.io.IOException;
import java.io.PrintWriter;
import java.util.Locale;
import java.util.Optional;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.result.LimitValue;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.sweep.LimitWindow;
import org.evenstamp.engine.sweep.LimitWindow.End;
import org.evenstamp.engine.sweep.LimitWindow.Try;
import org.evenstamp.output.file.AnswerJson;
import org.evenstamp.output.file.JsonText;
import org.evenstamp.output.text.LimitText;
import org.evenstamp.output.text.TextStyle;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.tool.exit.ExitCode;

/** What {@code sweep JOB --window KEY} answers: between which values of a key all limits hold, and what closes each end. */
final class WindowAnswer {
    private final ToolContext context;
    private final Job job;
    private final String key;
    private final Unit unit;

    WindowAnswer(ToolContext context, Job job, String key) {
        this.context = context;
        this.job = job;
        this.key = key;
        unit = job.unit(key);
    }

    /** Looks for the window, tells it and returns the exit code. */
    int tell(RunOptions options, boolean json, boolean quiet) {
        LimitWindow found = context.watched(!quiet, () -> LimitWindow.of(job, key, options, context.progress()));
        if (!quiet) {
            PrintWriter console = context.console().out();
            if (json) {
                console.print(json(found));
            } else {
                tell(found, console);
            }
            console.flush();
        }
        return found.low().isPresent() ? ExitCode.WITHIN_LIMITS : ExitCode.LIMIT_EXCEEDED;
    }

    private void tell(LimitWindow found, PrintWriter console) {
        console.println(context.console().in(TextStyle.STRONG, "window of " + job.name()) + "  " + key + ", "
                + found.tries().size() + " runs");
        if (found.low().isEmpty() || found.high().isEmpty()) {
            console.println(context.console().in(TextStyle.BAD, "no window")
                    + ": in every run a limit is exceeded; from the lowest value up:");
            found.tries().stream()
                    .sorted((a, b) -> Double.compare(a.value(), b.value()))
                    .forEach(one -> console.println("    " + value(one) + ": " + reason(one)));
            return;
        }
        End low = found.low().get();
        End high = found.high().get();
        console.println(context.console().in(TextStyle.GOOD, "all limits hold") + " from " + value(low.inside())
                + " to " + value(high.inside()));
        console.println("    lowest " + closing(low));
        console.println("    highest " + closing(high));
        boolean holds = found.tries().get(0).holds();
        console.println("    the present " + value(found.tries().get(0))
                + (holds
                        ? " lies within"
                        : " does not hold: " + reason(found.tries().get(0))));
    }

    private String closing(End end) {
        Optional<Try> outside = end.outside();
        return value(end.inside())
                + outside.map(one -> ": at " + value(one) + " closed by " + reason(one))
                        .orElse(": open, it holds as far as was looked");
    }

    private String value(Try one) {
        return number(unit.fromSi(one.value())) + " " + unit.symbol();
    }

    private String reason(Try one) {
        return one.failure().isEmpty()
                ? one.tightest()
                        .map(limit -> said(limit) + ", found " + found(limit, one))
                        .orElse("no limit has a value")
                : one.failure();
    }

    private String said(Limit limit) {
        return LimitText.of(limit, job.fieldName(limit.fieldId()).unit());
    }

    private String found(Limit limit, Try one) {
        Unit of = job.fieldName(limit.fieldId()).unit();
        return (number(LimitValue.shown(limit, of, one.found().orElseThrow())) + " " + of.symbol())
                .replaceAll(" 1$", "");
    }

    private static String number(double value) {
        return String.format(Locale.ROOT, "%.4g", value);
    }

    private String json(LimitWindow found) {
        return AnswerJson.write(json -> {
            json.text("name", job.name()).text("key", key).text("unit", unit.symbol());
            if (found.low().isPresent() && found.high().isPresent()) {
                End low = found.low().get();
                End high = found.high().get();
                json.group("low", part -> end(part, low)).group("high", part -> end(part, high));
            }
            json.list("runs", list -> {
                for (Try one : found.tries()) {
                    list.item(item -> run(item, one));
                }
            });
        });
    }

    private void end(JsonText json, End end) throws IOException {
        json.number("holds_at", unit.fromSi(end.inside().value()));
        if (end.outside().isPresent()) {
            Try one = end.outside().get();
            json.number("broken_at", unit.fromSi(one.value()))
                    .text("closed_by", one.tightest().map(this::said).orElse(one.failure()));
        }
    }

    private void run(JsonText json, Try one) throws IOException {
        json.number("value", unit.fromSi(one.value())).truth("holds", one.holds());
        if (one.tightest().isPresent()) {
            json.text("tightest", said(one.tightest().get()))
                    .number("margin", one.margin().orElseThrow());
        }
        if (!one.failure().isEmpty()) {
            json.text("failure", one.failure());
        }
    }
}
