package org.evenstamp.samples.bench;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import java.io.IOException;
import java.io.OutputStream;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;

/** What a session of benchmarks found, in the order it was found. */
final class Figures {
    /** What one command took, over its runs. */
    record Timing(Spread wallSeconds, Spread cpuSeconds, OptionalDouble peakMebibytes) {
        static Timing of(List<ProcessRun> runs) {
            return new Timing(
                    Spread.of(runs.stream().mapToDouble(ProcessRun::wallSeconds).toArray()),
                    Spread.of(runs.stream().mapToDouble(ProcessRun::cpuSeconds).toArray()),
                    runs.stream()
                            .flatMapToDouble(run -> run.peakMebibytes().stream())
                            .max());
        }
    }

    /** A figure set against what is aimed for, such as {@code "<= 1.5"}. */
    private record Aimed(double value, String aim) {}

    private final Map<String, String> setting = new LinkedHashMap<>();
    private final Map<String, Timing> timings = new LinkedHashMap<>();
    private final Map<String, Aimed> aimed = new LinkedHashMap<>();

    /** Records a circumstance: the machine, a version, an option. */
    void setting(String name, String value) {
        setting.put(name, value);
    }

    /** Records what a command took. */
    void timing(String name, Timing timing) {
        timings.put(name, timing);
    }

    /** Returns the median wall time of a command that was recorded. */
    double wall(String name) {
        return timing(name).wallSeconds().median();
    }

    private Timing timing(String name) {
        Timing timing = timings.get(name);
        if (timing == null) {
            throw new IllegalStateException("nothing was timed as " + name);
        }
        return timing;
    }

    /** Records a figure and its aim. */
    void against(String name, double value, String aim) {
        aimed.put(name, new Aimed(value, aim));
    }

    /** Returns a figure that was recorded with an aim. */
    double value(String name) {
        Aimed figure = aimed.get(name);
        if (figure == null) {
            throw new IllegalStateException("there is no figure " + name);
        }
        return figure.value();
    }

    /** Writes everything as one JSON object. */
    void write(OutputStream out) throws IOException {
        try (JsonGenerator json = new JsonFactory().createGenerator(out)) {
            json.setPrettyPrinter(new DefaultPrettyPrinter());
            json.writeStartObject();
            json.writeObjectFieldStart("setting");
            for (Map.Entry<String, String> entry : setting.entrySet()) {
                json.writeStringField(entry.getKey(), entry.getValue());
            }
            json.writeEndObject();
            json.writeArrayFieldStart("timings");
            for (Map.Entry<String, Timing> entry : timings.entrySet()) {
                json.writeStartObject();
                json.writeStringField("name", entry.getKey());
                Timing timing = entry.getValue();
                json.writeNumberField("runs", timing.wallSeconds().count());
                spread(json, "wall_s", timing.wallSeconds());
                spread(json, "cpu_s", timing.cpuSeconds());
                if (timing.peakMebibytes().isPresent()) {
                    json.writeNumberField(
                            "peak_MiB", Math.round(timing.peakMebibytes().getAsDouble()));
                }
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeArrayFieldStart("figures");
            for (Map.Entry<String, Aimed> entry : aimed.entrySet()) {
                json.writeStartObject();
                json.writeStringField("name", entry.getKey());
                json.writeNumberField("value", rounded(entry.getValue().value()));
                json.writeStringField("aim", entry.getValue().aim());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeEndObject();
        }
    }

    private static void spread(JsonGenerator json, String name, Spread spread) throws IOException {
        json.writeObjectFieldStart(name);
        json.writeNumberField("median", rounded(spread.median()));
        json.writeNumberField("least", rounded(spread.least()));
        json.writeNumberField("most", rounded(spread.most()));
        json.writeEndObject();
    }

    /** Four significant digits: no timing has more. */
    private static double rounded(double value) {
        return value == 0 ? 0 : Double.parseDouble(String.format(java.util.Locale.ROOT, "%.3e", value));
    }
}
