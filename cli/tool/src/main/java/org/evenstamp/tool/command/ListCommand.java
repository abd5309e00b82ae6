package org.evenstamp.tool.command;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.Reader;
import java.nio.file.Path;
import java.util.Collection;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.function.Function;
import java.util.stream.Stream;
import org.evenstamp.analysis.material.Datum;
import org.evenstamp.analysis.material.Material;
import org.evenstamp.analysis.material.MaterialLibrary;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.analysis.rheology.TemperatureRange;
import org.evenstamp.engine.job.JobKey;
import org.evenstamp.engine.job.JobSchema;
import org.evenstamp.engine.job.JobVocabulary;
import org.evenstamp.engine.job.NearestWord;
import org.evenstamp.engine.job.TextFile;
import org.evenstamp.engine.result.TradeWords;
import org.evenstamp.output.text.ShortDecimal;
import org.evenstamp.output.text.TextStyle;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.tool.exit.ExitCode;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.TypeConversionException;

/** {@code list WHAT}: what a job may say and what comes of it. */
@Command(
        name = "list",
        description =
                "Lists what there is: analyses, fields, parameters, formats, units, materials, or the schema of job files.",
        footerHeading = "%nExamples:%n",
        footer = {"  evenstamp list parameters", "  evenstamp list fields RLT", "  evenstamp list materials --json"})
final class ListCommand implements Callable<Integer> {
    /** What can be listed. */
    enum What {
        ANALYSES,
        FIELDS,
        PARAMETERS,
        FORMATS,
        UNITS,
        MATERIALS,
        SCHEMA;

        String word() {
            return name().toLowerCase(Locale.ROOT);
        }

        static List<String> words() {
            return Stream.of(values()).map(What::word).toList();
        }
    }

    /** The words for the shell to complete. */
    static final class WhatWords implements Iterable<String> {
        @Override
        public Iterator<String> iterator() {
            return What.words().iterator();
        }
    }

    private final ToolContext context;

    @Parameters(
            index = "0",
            paramLabel = "WHAT",
            converter = WhatWord.class,
            completionCandidates = WhatWords.class,
            description = "One of analyses, fields, parameters, formats, units, materials, schema.")
    What what = What.ANALYSES;

    @Parameters(
            index = "1..*",
            arity = "0..*",
            paramLabel = "WORD",
            description = "Only what these words fit, words of the trade such as RLT or demold too.")
    List<String> words = List.of();

    @Option(names = "--materials", paramLabel = "FILE", description = "Lists the materials of this file as well.")
    @Nullable
    Path materials;

    @Option(
            names = "--json",
            description = "Print a JSON array, with more than the table has; the schema is JSON already.")
    boolean json;

    @Mixin
    CommonOptions.Plugins plugins = new CommonOptions.Plugins();

    ListCommand(ToolContext context) {
        this.context = context;
    }

    /** Takes the words in lower case. */
    static final class WhatWord implements ITypeConverter<What> {
        @Override
        public What convert(String text) {
            for (What what : What.values()) {
                if (what.word().equals(text)) {
                    return what;
                }
            }
            List<String> words = What.words();
            String nearest = NearestWord.of(text, words)
                    .map(word -> ", did you mean " + word + "?")
                    .orElse("");
            throw new TypeConversionException("\"" + text + "\" is not one of " + String.join(", ", words) + nearest);
        }
    }

    @Override
    public Integer call() {
        PrintWriter out = context.console().out();
        JobVocabulary vocabulary =
                JobVocabulary.of(new Pipeline(context.analyses().apply(plugins.directories)));
        List<AnalysisDescription> analyses = fitting(vocabulary.analyses(), one -> one.id() + " " + one.summary());
        List<FieldName> fields = fitting(vocabulary.fields(), one -> one.id() + " " + one.meaning());
        List<JobKey> keys = fitting(vocabulary.keys(), one -> one.id() + " " + one.meaning());
        if (json) {
            out.print(
                    switch (what) {
                        case ANALYSES -> ListJson.analyses(analyses);
                        case FIELDS -> ListJson.fields(fields);
                        case PARAMETERS -> ListJson.parameters(keys);
                        case FORMATS -> ListJson.formats(formats());
                        case UNITS -> ListJson.units(units());
                        case MATERIALS -> ListJson.materials(materials());
                        case SCHEMA -> JobSchema.write(vocabulary);
                    });
            return ExitCode.WITHIN_LIMITS;
        }
        switch (what) {
            case ANALYSES -> analyses.forEach(this::analysis);
            case FIELDS -> fields.forEach(field -> row(field.id(), field.unit().symbol(), field.meaning()));
            case PARAMETERS -> keys.forEach(key -> row(key.id(), JobSchema.form(key), key.meaning()));
            case FORMATS -> formats().forEach((word, meaning) -> row(word, "", meaning));
            case UNITS -> {
                units().forEach(symbol -> row(symbol, "", siSize(Unit.parse(symbol))));
                if (words.isEmpty()) {
                    out.println("prefixes " + Unit.prefixes()
                            + ", products \"Pa s\", quotients \"mJ/m^2\", powers \"um^2\"");
                }
            }
            case MATERIALS -> materials().forEach(this::material);
            case SCHEMA -> out.print(JobSchema.write(vocabulary));
        }
        return ExitCode.WITHIN_LIMITS;
    }

    private <T> List<T> fitting(Collection<T> all, Function<T, String> text) {
        String query = String.join(" ", words);
        return all.stream()
                .filter(one -> TradeWords.fits(query, text.apply(one)))
                .toList();
    }

    private Map<String, String> formats() {
        Map<String, String> formats = new LinkedHashMap<>();
        Map<String, String> all = new LinkedHashMap<>(JobVocabulary.LAYOUT_FORMATS);
        all.putAll(JobVocabulary.TILE_TABLES);
        fitting(all.entrySet(), one -> one.getKey() + " " + one.getValue())
                .forEach(one -> formats.put(one.getKey(), one.getValue()));
        return formats;
    }

    private List<String> units() {
        return fitting(Unit.symbols(), symbol -> symbol);
    }

    private List<Material> materials() {
        return fitting(library().materials(), one -> one.kind().word() + " " + one.id() + " " + one.about());
    }

    private void row(String id, String form, String meaning) {
        String text = String.format(Locale.ROOT, "%-26s %-12s ", id, form);
        context.console().out().println((text + meaning).stripTrailing());
    }

    private MaterialLibrary library() {
        MaterialLibrary standard = MaterialLibrary.standard();
        if (materials == null) {
            return standard;
        }
        try (Reader reader = TextFile.open(materials)) {
            return standard.with(MaterialLibrary.read(reader, materials.toString()));
        } catch (IOException e) {
            throw new InputException(
                    "list.materials-unreadable",
                    materials.toString(),
                    "cannot be read: " + e.getMessage(),
                    "name a text file in UTF-8");
        }
    }

    private void material(Material material) {
        PrintWriter out = context.console().out();
        out.println(context.console().in(TextStyle.STRONG, material.kind().word() + " " + material.id())
                + (material.about().isEmpty() ? "" : "  " + material.about()));
        for (Datum datum : material.data()) {
            Unit unit = datum.value().unit();
            String value = shown(unit.fromSi(datum.si())) + symbol(unit);
            String range = datum.spread()
                    .map(s ->
                            ", " + shown(unit.fromSi(s.least())) + " to " + shown(unit.fromSi(s.most())) + symbol(unit))
                    .orElse("");
            String at = datum.atKelvin()
                    .map(kelvin -> " at " + TemperatureRange.celsius(kelvin))
                    .orElse("");
            String valid = datum.valid().map(v -> ", valid " + v).orElse("");
            String standing = datum.standing().words();
            String source = datum.source().startsWith(standing) ? datum.source() : standing + ": " + datum.source();
            out.println(String.format(
                    Locale.ROOT, "  %-26s %s (%s)", datum.property().word(), value + at + range + valid, source));
        }
    }

    private static String shown(double value) {
        return ShortDecimal.of(Double.parseDouble(String.format(Locale.ROOT, "%.6g", value)));
    }

    private static String symbol(Unit unit) {
        return unit.symbol().equals("1") ? "" : " " + unit.symbol();
    }

    private void analysis(AnalysisDescription analysis) {
        PrintWriter out = context.console().out();
        out.println(context.console().in(TextStyle.STRONG, analysis.id()) + "  " + analysis.summary());
        out.println("  needs  "
                + String.join(
                        ", ",
                        analysis.parameters().stream()
                                .filter(p -> p.required())
                                .map(p -> p.id())
                                .toList()));
        out.println("  gives  "
                + String.join(", ", analysis.gives().stream().map(FieldName::id).toList()));
    }

    private static String siSize(Unit unit) {
        Unit.Dimension d = unit.dimension();
        StringBuilder text = new StringBuilder("= ").append(ShortDecimal.of(unit.scale()));
        factor(text, "m", d.length());
        factor(text, "kg", d.mass());
        factor(text, "s", d.time());
        factor(text, "K", d.temperature());
        factor(text, "mol", d.amount());
        return text + (unit.offset() == 0 ? "" : ", zero at " + unit.offset() + " K");
    }

    private static void factor(StringBuilder text, String base, int power) {
        if (power != 0) {
            text.append(' ').append(base).append(power == 1 ? "" : "^" + power);
        }
    }
}
