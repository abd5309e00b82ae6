package org.evenstamp.engine.job;

import java.io.IOException;
import java.io.Reader;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.material.Material;
import org.evenstamp.analysis.material.MaterialKind;
import org.evenstamp.analysis.material.MaterialLibrary;
import org.evenstamp.analysis.pipeline.FoundAnalysis;
import org.evenstamp.analysis.pipeline.GivenParameters;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.analysis.pipeline.Plan;
import org.evenstamp.analysis.pipeline.Skipped;
import org.evenstamp.analysis.recipe.NamedMaterials;
import org.evenstamp.analysis.recipe.RecipeValues;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameters;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;
import org.jspecify.annotations.Nullable;

/** Reads a job file against a vocabulary and finds everything that is wrong with it. One object reads one file. */
public final class JobReader {
    private static final JobNode.Mark NOWHERE = new JobNode.Mark(0, 0);

    /** What a variation keeps of film and process. */
    private static final Set<String> KEPT = Set.of(
            CommonParameters.FILM_THICKNESS.id(),
            JobVocabulary.FILM_MATERIALS.id(),
            RecipeValues.SPIN_SPEED.id(),
            RecipeValues.SPIN_MEASURED_SPEED.id(),
            RecipeValues.SPIN_MEASURED_THICKNESS.id(),
            "process.uneven-x",
            "process.uneven-y");

    private final boolean tolerant;
    private final Path file;
    private final String place;
    private final Pipeline pipeline;
    private final JobVocabulary vocabulary;
    private final Problems problems = new Problems();
    private final Map<String, Double> quantities = new HashMap<>();
    private final Map<String, String> words = new HashMap<>();
    private final Map<String, List<Map<String, Double>>> tables = new HashMap<>();
    private final Map<String, JobNode.Mark> marks = new HashMap<>();
    private final List<PlacedLimit> limits = new ArrayList<>();
    private MapOptions.@Nullable Outline outline;
    private Job.@Nullable MaterialFile materials;
    private @Nullable FilmMap filmMap;

    private record PlacedLimit(Limit limit, JobNode.Mark mark) {}

    private JobReader(Path file, String place, Pipeline pipeline) {
        this(file, place, pipeline, false);
    }

    /** Makes a reader; a tolerant one passes over keys and fields that no analysis of its pipeline knows. */
    private JobReader(Path file, String place, Pipeline pipeline, boolean tolerant) {
        this.tolerant = tolerant;
        this.file = file;
        this.place = place;
        this.pipeline = pipeline;
        this.vocabulary = JobVocabulary.of(pipeline);
    }

    /**
     * Reads a job.
     *
     * @param pipeline the analyses that it may set parameters of
     * @throws InputException with every problem of the file
     */
    public static Job read(Path file, Pipeline pipeline) {
        return read(file, pipeline, Map.of());
    }

    /**
     * Returns the files that a job names, there or not, as far as it can be read.
     *
     * @throws InputException when its syntax is wrong
     */
    public static List<Path> named(Path file) {
        JobReader reader = new JobReader(file, file.toString(), new Pipeline(List.of()), true);
        JobParser.parse(file, reader.problems).entries().forEach(reader::section);
        List<Path> named = new ArrayList<>();
        for (JobKey key : List.of(
                JobVocabulary.LAYOUT_FILE,
                JobVocabulary.FILM_MATERIALS,
                JobVocabulary.THICKNESS_MAP,
                JobVocabulary.DROP_MAP)) {
            String name = reader.words.get(key.id());
            try {
                if (name != null) {
                    named.add(reader.beside(name));
                }
            } catch (InvalidPathException e) {
                // Reading the job says so.
            }
        }
        return named;
    }

    /**
     * Reads a job and sets some of its quantities otherwise than it says.
     *
     * @param instead SI value by key
     * @throws InputException with every problem of the file
     */
    public static Job read(Path file, Pipeline pipeline, Map<String, Double> instead) {
        JobReader reader = new JobReader(file, file.toString(), pipeline);
        JobNode.Mapping root = JobParser.parse(file, reader.problems);
        root.entries().forEach(reader::section);
        instead.forEach((id, si) -> {
            reader.quantities.put(id, si);
            reader.marks.putIfAbsent(id, NOWHERE);
        });
        reader.checkRequired();
        Path layout = reader.layoutFile();
        reader.readFilmMap();
        reader.completeValues();
        return reader.job(withoutExtension(file), root, layout, TileFields.all());
    }

    /**
     * What a job says of layout, stamp and film, whatever its process.
     *
     * @param job the job without analyses
     * @param library the built-in materials and the job's own
     * @param film the film it names
     * @param filmThickness thickness of its film, m; where the job gives a map, only about its mean
     */
    public record Base(Job job, MaterialLibrary library, Optional<Material> film, double filmThickness) {}

    /**
     * Reads a job for its layout, stamp and film.
     *
     * @param pipeline the analyses that it may set parameters of
     * @throws InputException with every problem of the file, or when it gives no film thickness
     */
    public static Base base(Path file, Pipeline pipeline) {
        JobReader reader = new JobReader(file, file.toString(), pipeline, true);
        JobNode.Mapping root = JobParser.parse(file, reader.problems);
        root.entries().forEach(reader::section);
        reader.checkRequired();
        Path layout = reader.layoutFile();
        reader.readFilmMap();
        reader.completeValues();
        Double thickness = reader.quantities.get(CommonParameters.FILM_THICKNESS.id());
        if (thickness == null) {
            reader.problems.add(
                    "job.missing-key",
                    reader.place,
                    "the job does not set " + CommonParameters.FILM_THICKNESS.id(),
                    "");
        }
        MaterialLibrary library = reader.library();
        Optional<Material> film = reader.named(library, JobVocabulary.FILM_MATERIAL, MaterialKind.FILM);
        reader.problems.throwIfAny();
        reader.limits.clear();
        Job job = reader.job(withoutExtension(file), root, layout, List.of());
        return new Base(job, library, film, Objects.requireNonNull(thickness));
    }

    /**
     * Reads a job with another film and process: layout, stamp, film thickness and materials stay, the rest is as given.
     *
     * @param values text by key
     * @throws InputException with every problem of the file or of the values
     */
    public static Job variation(Path file, Pipeline pipeline, Map<String, String> values) {
        JobReader reader = new JobReader(file, file.toString(), pipeline, true);
        JobNode.Mapping root = JobParser.parse(file, reader.problems);
        root.entries().forEach((section, entry) -> {
            boolean varies = section.equals("film") || section.equals("process");
            if (varies && entry.value() instanceof JobNode.Mapping keys) {
                keys.entries().forEach((key, value) -> {
                    if (KEPT.contains(section + "." + key)) {
                        reader.key(section, key, value);
                    }
                });
            } else if (!section.equals(JobVocabulary.LIMITS)) {
                reader.section(section, entry);
            }
        });
        values.forEach((id, text) -> {
            JobKey key = Objects.requireNonNull(reader.vocabulary.key(id), id);
            reader.key(
                    key.section(),
                    key.key(),
                    new JobNode.Entry(NOWHERE, new JobNode.Scalar(NOWHERE, text, JobNode.Scalar.Type.TEXT)));
        });
        reader.checkRequired();
        Path layout = reader.layoutFile();
        reader.completeValues();
        return reader.job(withoutExtension(file), root, layout, TileFields.all());
    }

    /**
     * Makes a job without analyses from options of a command line. Whether the layout can be read is left to its reader.
     *
     * @param layout the layout file
     * @param options value by key of a job file
     * @throws InputException with every problem of the options
     */
    public static Job ofOptions(Path layout, Map<String, String> options) {
        JobReader reader = new JobReader(layout, "command line", new Pipeline(List.of()));
        Map<String, Map<String, JobNode.Entry>> sections = new LinkedHashMap<>();
        Map<String, String> all = new LinkedHashMap<>();
        all.put(JobVocabulary.LAYOUT_FILE.id(), withExtension(layout));
        all.putAll(options);
        all.forEach((id, value) -> {
            JobKey key = Objects.requireNonNull(reader.vocabulary.key(id));
            JobNode.Scalar scalar = new JobNode.Scalar(NOWHERE, value, JobNode.Scalar.Type.TEXT);
            sections.computeIfAbsent(key.section(), name -> new LinkedHashMap<>())
                    .put(key.key(), new JobNode.Entry(NOWHERE, scalar));
        });
        Map<String, JobNode.Entry> root = new LinkedHashMap<>();
        sections.forEach(
                (name, keys) -> root.put(name, new JobNode.Entry(NOWHERE, new JobNode.Mapping(NOWHERE, keys))));
        root.forEach(reader::section);
        return reader.job(withoutExtension(layout), new JobNode.Mapping(NOWHERE, root), layout, List.of());
    }

    private static String withExtension(Path path) {
        return Objects.requireNonNullElse(path.getFileName(), path).toString();
    }

    private static String withoutExtension(Path path) {
        return withExtension(path).replaceFirst("(?<=.)\\.[^.]+$", "");
    }

    private void checkRequired() {
        for (JobKey key : vocabulary.keys()) {
            if (key.required() && !marks.containsKey(key.id())) {
                problems.add(
                        "job.missing-key",
                        place,
                        "the job does not set " + key.id() + ": " + key.meaning(),
                        "add it to the section " + key.section());
            }
        }
    }

    private Job job(String name, JobNode.Mapping root, Path layoutFile, List<FieldName> planned) {
        Double unit = layoutUnit();
        checkLimitsAreReached();
        problems.throwIfAny();
        List<FieldName> there = new ArrayList<>(planned);
        FilmMap map = filmMap;
        if (map != null) {
            there.add(TileFields.FILM_COATED);
        }
        Plan plan = pipeline.plan(there, analysis -> given(analysis, quantities));
        Job.LayoutChoice layout = new Job.LayoutChoice(
                layoutFile,
                Objects.requireNonNull(words.get(JobVocabulary.LAYOUT_FILE.id())),
                JobVocabulary.format(word(JobVocabulary.LAYOUT_FORMAT)),
                unit,
                MapOptions.Drawn.valueOf(word(JobVocabulary.LAYOUT_DRAWN).toUpperCase(Locale.ROOT)),
                outline,
                word(JobVocabulary.BAD_FEATURES).equals("repair"));
        return new Job(
                name,
                root,
                layout,
                materials,
                quantities.get(JobVocabulary.TILE_SIDE.id()),
                MapOptions.Structure.valueOf(word(JobVocabulary.TILE_STRUCTURE).toUpperCase(Locale.ROOT)),
                quantities.get(JobVocabulary.STAMP_DEPTH.id()),
                limits.stream().map(PlacedLimit::limit).toList(),
                beside(words.getOrDefault(JobVocabulary.OUTPUT_DIRECTORY.id(), name + "-results")),
                map == null
                        ? null
                        : new Job.Coating(map, mean -> {
                            Map<String, Double> numbers = new HashMap<>(quantities);
                            numbers.put(CommonParameters.FILM_THICKNESS.id(), mean);
                            return pipeline.plan(there, analysis -> given(analysis, numbers));
                        }),
                plan,
                settings());
    }

    private Parameters settings() {
        Parameters.Builder builder = Parameters.builder();
        quantities.forEach(builder::quantity);
        words.forEach(builder::choice);
        tables.forEach(builder::table);
        return builder.defaults(vocabulary.keys().stream()
                        .filter(JobKey.Value.class::isInstance)
                        .map(key -> ((JobKey.Value) key).parameter())
                        .toList())
                .build();
    }

    private String word(Parameter.Choice choice) {
        return words.getOrDefault(choice.id(), choice.options().get(0));
    }

    private Path beside(String relative) {
        return file.resolveSibling(relative);
    }

    private Path layoutFile() {
        String text = words.get(JobVocabulary.LAYOUT_FILE.id());
        if (text == null) {
            return file;
        }
        JobNode.Mark mark = marks.get(JobVocabulary.LAYOUT_FILE.id());
        try {
            Path path = beside(text);
            if (!Files.exists(path)) {
                problem(
                        mark,
                        "job.layout-missing",
                        "there is no layout file " + path,
                        "layout.file is relative to the job");
            } else if (Files.isDirectory(path)) {
                problem(mark, "job.layout-directory", "the layout " + path + " is a directory", "name the file in it");
            }
            return path;
        } catch (InvalidPathException e) {
            problem(mark, "job.value", "\"" + text + "\" is not a file name", "");
            return file;
        }
    }

    /** Reads the film where the job gives it in a file; then one of its thicknesses stands in for the others' one. */
    private void readFilmMap() {
        List<String> given = List.of(
                        CommonParameters.FILM_THICKNESS.id(),
                        RecipeValues.SPIN_SPEED.id(),
                        JobVocabulary.THICKNESS_MAP.id(),
                        JobVocabulary.DROP_MAP.id())
                .stream()
                .filter(marks::containsKey)
                .toList();
        for (JobKey key : List.of(JobVocabulary.THICKNESS_MAP, JobVocabulary.DROP_MAP)) {
            String name = words.get(key.id());
            if (name == null) {
                continue;
            }
            JobNode.Mark mark = marks.get(key.id());
            if (given.indexOf(key.id()) > 0) {
                problem(
                        mark,
                        "film.thickness-twice",
                        key.id() + " is given beside " + given.get(0) + ", and a film has one thickness",
                        "leave out one of the two");
            }
            try {
                Path path = beside(name);
                double evaporation = DropChoice.EVAPORATION.standard().orElse(0);
                filmMap = key.equals(JobVocabulary.THICKNESS_MAP)
                        ? FilmMapReader.thickness(path, name, problems)
                        : FilmMapReader.drops(
                                path,
                                name,
                                find(DropChoice.VOLUME),
                                find(DropChoice.EVAPORATION).orElse(evaporation),
                                problems);
            } catch (InvalidPathException e) {
                problem(mark, "job.value", "\"" + name + "\" is not a file name", "");
            }
        }
        if (filmMap != null && given.size() == 1) {
            quantities.put(CommonParameters.FILM_THICKNESS.id(), filmMap.roughlyMetres());
        }
        for (PlacedLimit placed : limits) {
            if (placed.limit().fieldId().equals(TileFields.FILM_COATED.id())
                    && !words.containsKey(JobVocabulary.THICKNESS_MAP.id())
                    && !words.containsKey(JobVocabulary.DROP_MAP.id())) {
                problem(
                        placed.mark(),
                        "job.limit-unreached",
                        "the limit on " + TileFields.FILM_COATED.id() + " needs a map of the film",
                        "set " + JobVocabulary.THICKNESS_MAP.id() + " or " + JobVocabulary.DROP_MAP.id()
                                + ", or drop the limit");
            }
        }
    }

    private OptionalDouble find(Parameter.Quantity quantity) {
        Double si = quantities.get(quantity.id());
        return si == null ? OptionalDouble.empty() : OptionalDouble.of(si);
    }

    /** Lets the materials and the process answer what the job leaves out. */
    private void completeValues() {
        MaterialLibrary library = library();
        Problems found = new Problems();
        RecipeValues.complete(
                quantities,
                words,
                tables,
                new NamedMaterials(
                        named(library, JobVocabulary.FILM_MATERIAL, MaterialKind.FILM),
                        named(library, JobVocabulary.FILM_SOLVENT, MaterialKind.SOLVENT),
                        named(library, JobVocabulary.STAMP_MATERIAL, MaterialKind.STAMP),
                        named(library, JobVocabulary.COATING, MaterialKind.COATING),
                        named(library, JobVocabulary.SUBSTRATE, MaterialKind.SUBSTRATE)),
                found);
        for (Problem problem : found.all()) {
            String about = problem.place().isEmpty() ? "" : problem.place() + ": ";
            problem(marks.get(problem.place()), problem.code(), about + problem.message(), problem.fix());
        }
    }

    private MaterialLibrary library() {
        MaterialLibrary standard = MaterialLibrary.standard();
        String name = words.get(JobVocabulary.FILM_MATERIALS.id());
        if (name == null) {
            return standard;
        }
        JobNode.Mark mark = marks.get(JobVocabulary.FILM_MATERIALS.id());
        try {
            Path path = beside(name);
            materials = new Job.MaterialFile(path, name);
            try (Reader reader = Files.newBufferedReader(path)) {
                return standard.with(MaterialLibrary.read(reader, path.toString()));
            }
        } catch (InvalidPathException e) {
            problem(mark, "job.value", "\"" + name + "\" is not a file name", "");
        } catch (IOException e) {
            problem(
                    mark,
                    "job.materials-unreadable",
                    "the materials " + name + " cannot be read: "
                            + (e instanceof NoSuchFileException ? "there is no such file" : e.getMessage()),
                    "film.materials is relative to the job, a text in UTF-8");
        } catch (InputException e) {
            problems.add(e);
        }
        return standard;
    }

    private Optional<Material> named(MaterialLibrary library, JobKey.Text key, MaterialKind kind) {
        String name = words.get(key.id());
        if (name == null) {
            return Optional.empty();
        }
        try {
            return Optional.of(library.get(kind, name));
        } catch (InputException e) {
            e.problems().forEach(p -> problem(marks.get(key.id()), p.code(), key.id() + ": " + p.message(), p.fix()));
            return Optional.empty();
        }
    }

    private @Nullable Double layoutUnit() {
        String text = words.get(JobVocabulary.LAYOUT_UNIT.id());
        if (text == null) {
            return null;
        }
        try {
            return LengthUnit.metres(text);
        } catch (UnitException e) {
            problem(marks.get(JobVocabulary.LAYOUT_UNIT.id()), "job.value", "layout.unit: " + e.getMessage(), "");
            return null;
        }
    }

    private void section(String section, JobNode.Entry entry) {
        if (!vocabulary.sections().contains(section)) {
            if (tolerant) {
                return;
            }
            String nearest = NearestWord.of(section, vocabulary.sections())
                    .map(word -> "did you mean " + word + "?")
                    .orElse("sections are " + String.join(", ", vocabulary.sections()));
            problem(entry.keyMark(), "job.unknown-key", "there is no section \"" + section + "\"", nearest);
            return;
        }
        if (entry.value() instanceof JobNode.Scalar scalar && scalar.type() == JobNode.Scalar.Type.NOTHING) {
            return; // a section of which everything is commented out
        }
        if (!(entry.value() instanceof JobNode.Mapping mapping)) {
            problem(
                    entry.value().mark(),
                    "job.type",
                    "the section " + section + " must be a group of keys, is "
                            + entry.value().kind(),
                    "");
            return;
        }
        mapping.entries().forEach((key, value) -> {
            if (section.equals(JobVocabulary.LIMITS)) {
                limit(key, value);
            } else {
                key(section, key, value);
            }
        });
    }

    private void key(String section, String name, JobNode.Entry entry) {
        String id = section + "." + name;
        JobKey key = vocabulary.key(id);
        if (key == null) {
            if (tolerant) {
                return;
            }
            problem(entry.keyMark(), "job.unknown-key", "there is no key " + id, nearestKey(section, name));
            return;
        }
        marks.put(id, entry.value().mark());
        if (key instanceof JobKey.Text) {
            text(id, entry.value());
        } else if (key instanceof JobKey.Rectangle) {
            rectangle(id, entry.value());
        } else if (key instanceof JobKey.Value value) {
            if (value.parameter() instanceof Parameter.Quantity quantity) {
                quantity(id, quantity, entry.value()).ifPresent(si -> quantities.put(id, si));
            } else if (value.parameter() instanceof Parameter.Choice choice) {
                choice(choice, entry.value());
            } else if (value.parameter() instanceof Parameter.Table table) {
                table(table, entry.value());
            }
        }
    }

    private String nearestKey(String section, String name) {
        for (JobKey key : vocabulary.keys()) {
            if (key.key().equals(name)) {
                return "did you mean " + key.id() + "?";
            }
        }
        List<String> inSection = vocabulary.keys().stream()
                .filter(key -> key.section().equals(section))
                .map(JobKey::key)
                .toList();
        Optional<String> near = NearestWord.of(name, inSection).map(word -> section + "." + word);
        if (near.isEmpty()) {
            near = NearestWord.of(
                    section + "." + name,
                    vocabulary.keys().stream().map(JobKey::id).toList());
        }
        return near.map(word -> "did you mean " + word + "?").orElse("evenstamp list parameters shows all keys");
    }

    private void text(String id, JobNode node) {
        if (node instanceof JobNode.Scalar scalar
                && scalar.type() != JobNode.Scalar.Type.NOTHING
                && !scalar.text().isBlank()) {
            words.put(id, scalar.text());
        } else {
            problem(node.mark(), "job.type", id + " must be a text, is " + node.kind(), "");
        }
    }

    private void choice(Parameter.Choice choice, JobNode node) {
        if (node instanceof JobNode.Scalar scalar && choice.options().contains(scalar.text())) {
            words.put(choice.id(), scalar.text());
            return;
        }
        String nearest = node instanceof JobNode.Scalar scalar
                ? NearestWord.of(scalar.text(), choice.options())
                        .map(word -> "; did you mean " + word + "?")
                        .orElse("")
                : "";
        problem(
                node.mark(),
                "job.value",
                choice.id() + " cannot be " + node.kind(),
                "it is one of " + String.join(", ", choice.options()) + nearest);
    }

    private void table(Parameter.Table table, JobNode node) {
        if (!(node instanceof JobNode.Sequence sequence)) {
            problem(node.mark(), "job.type", table.id() + " must be a list of rows, is " + node.kind(), "");
            return;
        }
        List<Map<String, Double>> rows = new ArrayList<>();
        for (JobNode item : sequence.items()) {
            if (item instanceof JobNode.Mapping mapping) {
                rows.add(row(table, mapping));
            } else {
                problem(
                        item.mark(),
                        "job.type",
                        "a row of " + table.id() + " must be a group of keys, is " + item.kind(),
                        "");
            }
        }
        tables.put(table.id(), rows);
    }

    private Map<String, Double> row(Parameter.Table table, JobNode.Mapping mapping) {
        Map<String, Double> row = new LinkedHashMap<>();
        List<String> names = table.columns().stream()
                .map(column -> columnName(table, column))
                .toList();
        mapping.entries().forEach((name, entry) -> {
            int index = names.indexOf(name);
            if (index < 0) {
                problem(
                        entry.keyMark(),
                        "job.unknown-key",
                        table.id() + " has no column \"" + name + "\"",
                        "columns are " + String.join(", ", names));
                return;
            }
            Parameter.Quantity column = table.columns().get(index);
            quantity(table.id() + "." + name, column, entry.value()).ifPresent(si -> row.put(column.id(), si));
        });
        for (int i = 0; i < names.size(); i++) {
            Parameter.Quantity column = table.columns().get(i);
            if (column.required() && !mapping.entries().containsKey(names.get(i))) {
                problem(mapping.mark(), "job.missing-key", "this row of " + table.id() + " lacks " + names.get(i), "");
            }
            column.standard()
                    .ifPresent(
                            value -> row.putIfAbsent(column.id(), column.unit().toSi(value)));
        }
        return row;
    }

    /** A column's key is its id, without the table's id where it begins with that. */
    static String columnName(Parameter.Table table, Parameter.Quantity column) {
        return column.id().startsWith(table.id() + ".")
                ? column.id().substring(table.id().length() + 1)
                : column.id();
    }

    private OptionalDouble quantity(String id, Parameter.Quantity parameter, JobNode node) {
        Unit unit = parameter.unit();
        String example = "\"" + plain(exampleValue(parameter)) + " " + unit.symbol() + "\"";
        if (!(node instanceof JobNode.Scalar scalar)
                || scalar.type() == JobNode.Scalar.Type.NOTHING
                || scalar.type() == JobNode.Scalar.Type.TRUTH) {
            problem(
                    node.mark(),
                    "job.type",
                    id + " must be a number with a unit, is " + node.kind(),
                    "such as " + example);
            return OptionalDouble.empty();
        }
        String text = scalar.text().strip();
        if (LimitReader.isNumber(text)) {
            if (!LimitReader.isPure(unit)) {
                problem(
                        node.mark(),
                        "job.no-unit",
                        id + " needs a unit, is the bare number " + text,
                        "write \"" + text + " " + unit.symbol() + "\" if that is the unit meant");
                return OptionalDouble.empty();
            }
            text = text + " 1";
        }
        double si;
        try {
            si = Quantity.parse(text).siAs(unit);
        } catch (UnitException e) {
            problem(node.mark(), "job.value", id + ": " + e.getMessage(), "such as " + example);
            return OptionalDouble.empty();
        }
        double shown = unit.fromSi(si);
        double slack = 1e-9; // "1 um" must pass a limit of 1000 nm in spite of the last bit
        if (!(shown >= parameter.least() - slack * Math.abs(parameter.least())
                && shown <= parameter.most() + slack * Math.abs(parameter.most()))) {
            problem(
                    node.mark(),
                    "job.range",
                    id + " is " + scalar.text().strip() + ", outside " + plain(parameter.least()) + " to "
                            + plain(parameter.most()) + " " + unit.symbol(),
                    "");
            return OptionalDouble.empty();
        }
        return OptionalDouble.of(si);
    }

    private static double exampleValue(Parameter.Quantity parameter) {
        return parameter.standard().orElse(Math.max(parameter.least(), Math.min(100, parameter.most())));
    }

    static String plain(double value) {
        return value == Math.rint(value) && Math.abs(value) < 1e7
                ? Long.toString((long) value)
                : Double.toString(value);
    }

    private void rectangle(String id, JobNode node) {
        if (!(node instanceof JobNode.Mapping mapping)
                || !mapping.entries().keySet().equals(java.util.Set.of("min", "max"))) {
            problem(
                    node.mark(),
                    "job.type",
                    id + " needs the corners min and max",
                    "such as {min: [\"-6 mm\", \"-6 mm\"], max: [\"6 mm\", \"6 mm\"]}");
            return;
        }
        double[] corner = new double[4];
        boolean complete = true;
        int at = 0;
        for (String name : List.of("min", "max")) {
            JobNode value = Objects.requireNonNull(mapping.entries().get(name)).value();
            if (!(value instanceof JobNode.Sequence sequence)
                    || sequence.items().size() != 2) {
                problem(
                        value.mark(),
                        "job.type",
                        id + "." + name + " must be [x, y]",
                        "such as [\"-6 mm\", \"-6 mm\"]");
                return;
            }
            for (JobNode item : sequence.items()) {
                OptionalDouble si = quantity(
                        id + "." + name,
                        Parameter.Quantity.optional(id, "mm", -1e4, 1e4, "coordinate of a corner"),
                        item);
                complete &= si.isPresent();
                corner[at++] = si.orElse(0);
            }
        }
        if (!complete) {
            return;
        }
        if (!(corner[2] > corner[0]) || !(corner[3] > corner[1])) {
            problem(node.mark(), "job.range", id + ": min must lie to the left of and below max", "");
            return;
        }
        outline = new MapOptions.Outline(corner[0], corner[1], corner[2], corner[3]);
    }

    private void limit(String fieldId, JobNode.Entry entry) {
        FieldName field = vocabulary.field(fieldId);
        if (field == null) {
            if (tolerant) {
                return;
            }
            String nearest = NearestWord.of(
                            fieldId,
                            vocabulary.fields().stream().map(FieldName::id).toList())
                    .map(word -> "did you mean " + word + "?")
                    .orElse("evenstamp list fields shows all fields");
            problem(entry.keyMark(), "job.unknown-field", "there is no field " + fieldId + " to limit", nearest);
            return;
        }
        if (!(entry.value() instanceof JobNode.Mapping mapping)) {
            problem(
                    entry.value().mark(),
                    "job.type",
                    "limits." + fieldId + " must be a group of " + String.join(", ", LimitReader.MEASURES) + ", is "
                            + entry.value().kind(),
                    "such as {each: \">= 10 " + field.unit().symbol() + "\"}");
            return;
        }
        mapping.entries().forEach((measure, bound) -> {
            if (!LimitReader.MEASURES.contains(measure)) {
                problem(
                        bound.keyMark(),
                        "job.unknown-key",
                        "limits." + fieldId + " has no measure \"" + measure + "\"",
                        "it is one of " + String.join(", ", LimitReader.MEASURES));
            } else if (bound.value() instanceof JobNode.Sequence sequence) {
                sequence.items().forEach(item -> bound(field, measure, item));
            } else {
                bound(field, measure, bound.value());
            }
        });
    }

    private void bound(FieldName field, String measure, JobNode node) {
        String id = "limits." + field.id() + "." + measure;
        if (!(node instanceof JobNode.Scalar scalar)) {
            problem(
                    node.mark(),
                    "job.type",
                    id + " must be a bound, is " + node.kind(),
                    "such as \"<= 20 " + field.unit().symbol() + "\"");
            return;
        }
        try {
            limits.add(new PlacedLimit(LimitReader.read(field, measure, scalar.text()), node.mark()));
        } catch (UnitException e) {
            problem(node.mark(), "job.value", id + ": " + e.getMessage(), "");
        }
    }

    private GivenParameters given(AnalysisDescription analysis) {
        return given(analysis, quantities);
    }

    private GivenParameters given(AnalysisDescription analysis, Map<String, Double> numbers) {
        List<String> lacking = analysis.parameters().stream()
                .filter(parameter -> parameter.required()
                        && !marks.containsKey(parameter.id())
                        && !numbers.containsKey(parameter.id()))
                .map(Parameter::id)
                .toList();
        if (!lacking.isEmpty()) {
            return new GivenParameters.Lacking(lacking);
        }
        Parameters.Builder builder = Parameters.builder();
        for (Parameter parameter : analysis.parameters()) {
            String id = parameter.id();
            if (numbers.containsKey(id)) {
                builder.quantity(id, numbers.get(id));
            } else if (words.containsKey(id)) {
                builder.choice(id, words.get(id));
            } else if (tables.containsKey(id)) {
                builder.table(id, tables.get(id));
            }
        }
        return new GivenParameters.Complete(
                builder.defaults(analysis.parameters()).build());
    }

    /** Stands for an analysis that is planned but never made: its values may be wrong. */
    private record Unmade(AnalysisDescription description) implements AnalysisProvider {
        @Override
        public Analysis create(Parameters parameters) {
            return context -> {
                throw new IllegalStateException("never made");
            };
        }
    }

    private void checkLimitsAreReached() {
        Plan plan = new Pipeline(pipeline.analyses().stream()
                        .map(found ->
                                new FoundAnalysis(new Unmade(found.description()), found.description(), found.origin()))
                        .toList())
                .plan(TileFields.all(), this::given);
        for (PlacedLimit placed : limits) {
            String fieldId = placed.limit().fieldId();
            for (Skipped skipped : plan.skipped()) {
                if (skipped.analysis().description().gives().stream()
                        .anyMatch(field -> field.id().equals(fieldId))) {
                    problem(
                            placed.mark(),
                            "job.limit-unreached",
                            "the limit on " + fieldId + " needs the analysis "
                                    + skipped.analysis().id() + ", which cannot run: " + skipped.reason(),
                            "set what it needs, or drop the limit");
                }
            }
        }
    }

    private void problem(JobNode.@Nullable Mark mark, String code, String message, String fix) {
        String where = mark == null || mark.line() == 0 ? place : place + ":" + mark.line() + ":" + mark.column();
        problems.add(code, where, message, fix);
    }
}
