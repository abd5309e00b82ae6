package org.evenstamp.engine.job;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.DoubleFunction;
import org.evenstamp.analysis.completion.MaterialAnswers;
import org.evenstamp.analysis.material.Datum;
import org.evenstamp.analysis.material.Material;
import org.evenstamp.analysis.material.MaterialLibrary;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.analysis.pipeline.Plan;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Source;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameters;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;
import org.jspecify.annotations.Nullable;

/**
 * A checked job: a value from which other jobs are made that differ in some keys. Immutable.
 *
 * <p>A job is made in steps, none of which reads a file twice: the text with the place of everything in it ({@link JobText}),
 * the values by what their keys may be, these completed by materials, film map and process, and the analyses that they are
 * enough for. {@link #with} takes the same steps on the changed text; what was read from files is shared.
 */
public final class Job {
    private final JobSteps steps;
    private final LayoutChoice layout;
    private final @Nullable Double tileSideMetres;
    private final boolean measuring;

    private Job(JobText text, JobSteps.Setting setting, JobFiles files) {
        this(JobSteps.take(text, setting, files));
    }

    private Job(JobSteps steps) {
        this(steps, steps.layout(), steps.resolved().number(JobVocabulary.TILE_SIDE.id()), false);
    }

    private Job(JobSteps steps, LayoutChoice layout, @Nullable Double tileSideMetres, boolean measuring) {
        this.steps = steps;
        this.layout = layout;
        this.tileSideMetres = tileSideMetres;
        this.measuring = measuring;
    }

    /**
     * Reads a job file.
     *
     * @param pipeline the analyses that it may set parameters of
     * @throws org.evenstamp.shared.problem.InputException with every problem of the file
     */
    public static Job read(Path file, Pipeline pipeline) {
        return of(JobText.read(file), pipeline);
    }

    /**
     * Makes a job of a text.
     *
     * @param pipeline the analyses that it may set parameters of
     * @throws org.evenstamp.shared.problem.InputException with every problem of the text
     */
    public static Job of(JobText text, Pipeline pipeline) {
        List<FieldName> fields = text.whole() ? TileFields.all() : List.of();
        return new Job(text, JobSteps.Setting.of(JobVocabulary.of(pipeline), pipeline, fields), new JobFiles());
    }

    /**
     * Makes a job that measures a layout and runs no analysis.
     *
     * @param layout the layout file
     * @param options value by key of a job file, such as {@code tiles.side} and {@code 50 um}
     * @throws org.evenstamp.shared.problem.InputException with every problem of the options
     */
    public static Job ofLayout(Path layout, Map<String, String> options) {
        return of(JobText.ofOptions(layout, options), new Pipeline(List.of()));
    }

    /**
     * Returns the job that says something else under one key, checked like a job file that says so.
     *
     * @param key {@code section.key}, or {@code limits.FIELD.MEASURE}
     * @param value what a job file has behind that key, such as {@code 3e3 Pa s}
     * @throws org.evenstamp.shared.problem.InputException with every problem of the changed job, naming the key
     */
    public Job with(String key, String value) {
        return with(Map.of(key, value));
    }

    /**
     * Returns the job that says another number under one key, checked like a job file that says so.
     *
     * @param si the number in SI, kept to the last bit
     * @throws org.evenstamp.shared.problem.InputException with every problem of the changed job, naming the key
     */
    public Job with(String key, double si) {
        return with(key, si + " " + steps.setting().vocabulary().siUnit(key));
    }

    /**
     * Returns the job that says something else under several keys, checked like a job file that says so.
     *
     * @param changes value by key, as {@link #with(String, String)}
     * @throws org.evenstamp.shared.problem.InputException with every problem of the changed job, naming the keys
     */
    public Job with(Map<String, String> changes) {
        return with(changes, Set.of());
    }

    /**
     * Returns the job that says something else under some keys and leaves others out, checked like a job file that does.
     *
     * @param changes value by key, as {@link #with(String, String)}
     * @param leftOut keys and sections, as {@link #without}
     * @throws org.evenstamp.shared.problem.InputException with every problem of the changed job, naming the keys
     */
    public Job with(Map<String, String> changes, Set<String> leftOut) {
        JobText changed = steps.text();
        for (String key : leftOut) {
            changed = changed.without(key);
        }
        return new Job(changed.with(changes), steps.setting(), steps.files());
    }

    /**
     * Returns the job that leaves a key out, checked like a job file that does.
     *
     * @param key {@code section.key}, {@code limits.FIELD.MEASURE} or a whole section
     * @throws org.evenstamp.shared.problem.InputException with every problem of the changed job
     */
    public Job without(String key) {
        return with(Map.of(), Set.of(key));
    }

    /**
     * Returns the job with another film and process: layout and stamp stay, film and process are as given but for some keys, and
     * there are no limits.
     *
     * @param kept keys of film and process that stay as they are
     * @param changes value by key, as {@link #with(String, String)}
     * @throws org.evenstamp.shared.problem.InputException with every problem of the changed job
     */
    public Job withRecipe(Set<String> kept, Map<String, String> changes) {
        JobText changed = steps.text()
                .keeping("film", kept)
                .keeping("process", kept)
                .without(JobVocabulary.LIMITS)
                .with(changes);
        return new Job(changed, steps.setting(), steps.files());
    }

    /**
     * Returns the job that runs only some analyses, and has no limits.
     *
     * @param ids of analyses
     */
    public Job only(Set<String> ids) {
        Pipeline some = new Pipeline(steps.setting().pipeline().analyses().stream()
                .filter(found -> ids.contains(found.id()))
                .toList());
        return new Job(
                steps.text().without(JobVocabulary.LIMITS),
                JobSteps.Setting.of(
                        steps.setting().vocabulary(), some, steps.setting().fields()),
                steps.files());
    }

    /** Returns this job without analyses and limits, for whoever needs the tile map alone. */
    public Job measuring() {
        return new Job(steps, layout, tileSideMetres, true);
    }

    /** Returns this job on another layout, cut into tiles of the given side. */
    public Job on(LayoutChoice other, double sideMetres) {
        return new Job(steps, other, sideMetres, measuring);
    }

    /** Returns the file name of the job without its extension. */
    public String name() {
        return steps.text().name();
    }

    /** Returns how messages name the job: its file as it was given. */
    public String place() {
        return steps.text().source(null).toString();
    }

    /** Returns the job as written, for the record. */
    public JobNode.Mapping content() {
        return steps.text().root();
    }

    /** Returns the layout. */
    public LayoutChoice layout() {
        return layout;
    }

    /** Returns the user's own materials; null when the job names none. */
    public @Nullable MaterialFile materials() {
        return steps.resolved().materials();
    }

    /** Returns the built-in materials and the user's own. */
    public MaterialLibrary library() {
        return steps.resolved().library();
    }

    /** Returns the film of the library that the job names. */
    public Optional<Material> filmMaterial() {
        return steps.resolved().named().film();
    }

    /** Returns what a material that the job names states of a key that the job itself leaves out. */
    public Optional<Datum> stated(String key) {
        return steps.values().sets(key)
                ? Optional.empty()
                : MaterialAnswers.stated(key, steps.resolved().named());
    }

    /** Returns the largest chance of breaking a limit that the job allows a sweep; nothing where it names none. */
    public OptionalDouble allowedChance(Limit limit) {
        Double chance = steps.values().chances().get(limit.subject());
        return chance == null ? OptionalDouble.empty() : OptionalDouble.of(chance);
    }

    /** Returns the side of a tile, m; null to choose it from the layout. */
    public @Nullable Double tileSideMetres() {
        return tileSideMetres;
    }

    /** Returns how squeeze moment and flow paths are found. */
    public MapOptions.Structure structure() {
        return MapOptions.Structure.valueOf(
                steps.resolved().word(JobVocabulary.TILE_STRUCTURE).toUpperCase(Locale.ROOT));
    }

    /** Returns whether a run also solves on tiles twice as wide. */
    public boolean checksResolution() {
        return steps.resolved().word(JobVocabulary.TILE_RESOLUTION).equals("on");
    }

    /** Returns the cavity depth of features that carry none, m; null when it does not matter to the user. */
    public @Nullable Double depthMetres() {
        return steps.resolved().number(JobVocabulary.STAMP_DEPTH.id());
    }

    /** Returns the factor on every depth of the stamp. */
    public double depthScale() {
        Double scale = steps.resolved().number(JobVocabulary.DEPTH_SCALE.id());
        return scale == null ? 1 : scale;
    }

    /** Returns what stands behind a key that has a form of its own. */
    public Optional<JobNode> nested(JobKey.Nested key) {
        return Optional.ofNullable(steps.values().node(key.id()));
    }

    /**
     * Returns the rectangles behind a key that lists them, m.
     *
     * @throws InputException with a problem for every row that is none
     */
    public List<MapOptions.Outline> rectangles(JobKey.Nested key) {
        JobNode node = nested(key).orElse(null);
        List<JobNode> rows =
                node == null ? List.of() : node instanceof JobNode.Sequence list ? list.items() : List.of(node);
        JobProblems problems = new JobProblems(steps.text());
        ValueReader reader = new ValueReader(problems);
        List<MapOptions.Outline> rectangles = rows.stream()
                .flatMap(row -> reader.rectangle(key.id(), row).stream())
                .toList();
        problems.throwIfAny();
        return rectangles;
    }

    /** Returns what the job says behind a key, as it is written; nothing where it is silent, or says more than one value. */
    public Optional<String> asWritten(String key) {
        return steps.values().node(key) instanceof JobNode.Scalar scalar
                ? Optional.of(scalar.text())
                : Optional.empty();
    }

    /** Returns the SI unit of a number that a job may set. */
    public String siUnit(String key) {
        return steps.setting().vocabulary().siUnit(key);
    }

    /** Returns the unit in which the job writes a number, or else the one in which it is shown. */
    public Unit unit(String key) {
        Optional<String> written = asWritten(key);
        try {
            return written.isPresent()
                    ? Quantity.parse(written.get()).unit()
                    : steps.setting().vocabulary().unit(key);
        } catch (UnitException e) {
            return steps.setting().vocabulary().unit(key); // a bare number, where one may stand
        }
    }

    /** Returns where a piece of the job stands; the job as a whole for none. */
    public Source source(@Nullable JobNode node) {
        return steps.text().source(node == null ? null : node.mark());
    }

    /** Returns a field that the job may name. */
    public Optional<FieldName> findFieldName(String id) {
        return Optional.ofNullable(steps.setting().vocabulary().field(id));
    }

    /**
     * Returns a field that the job does name, or a figure that it limits.
     *
     * @throws java.util.NoSuchElementException when there is none of this id
     */
    public FieldName fieldName(String id) {
        return Optional.ofNullable(steps.setting().vocabulary().limitable(id)).orElseThrow();
    }

    /** Returns the bounds that the job sets. */
    public List<Limit> limits() {
        return measuring ? List.of() : steps.values().limits();
    }

    /** Returns the properties that every dummy carries, by name: texts, numbers and truths. */
    public Map<String, Object> dummyProperties() {
        return steps.dummyProperties();
    }

    /** Returns the files that this job was read from and names: its own, those of the layout, the materials and the maps. */
    public List<NamedFile> inputs() {
        List<NamedFile> inputs = new ArrayList<>();
        if (steps.text().whole()) {
            inputs.add(new NamedFile(steps.text().file(), steps.text().fileName()));
        }
        TileTable table = layout.table();
        if (table != null) {
            inputs.add(new NamedFile(table.file(), table.asWritten()));
        }
        layout.layers().forEach(layer -> inputs.add(new NamedFile(layer.file(), layer.asWritten())));
        MaterialFile materials = materials();
        if (materials != null) {
            inputs.add(new NamedFile(materials.file(), materials.asWritten()));
        }
        inputs.addAll(steps.resolved().maps());
        return inputs;
    }

    /** Returns the directory for the results. */
    public Path output() {
        var words = steps.resolved().values().words();
        return steps.text().beside(words.getOrDefault(JobVocabulary.OUTPUT_DIRECTORY.id(), name() + "-results"));
    }

    /** Returns the film, where it differs from place to place; null where it does not. */
    public @Nullable Coating film() {
        return measuring ? null : steps.film();
    }

    /** Returns the lamp, where it was measured place by place; null where it was not. */
    public @Nullable LampMap lamp() {
        return measuring ? null : steps.resolved().lampMap();
    }

    /** Returns the analyses that will run, and those that will not. */
    public Plan plan() {
        return measuring ? JobPlan.empty() : steps.plan();
    }

    /** Returns every value of the job, SI, with the defaults of what it leaves out. */
    public Parameters settings() {
        return steps.settings();
    }

    /**
     * Returns the plan to run on fields: where they hold the film before the imprint, its mean is the film thickness of every
     * analysis that knows only one.
     */
    public Plan planOn(FieldSet fields) {
        Coating film = film();
        return film == null ? plan() : film.planOf().apply(meanMetres(fields.get(TileFields.FILM_COATED)));
    }

    /** Returns the mean of a field over its tiles, SI. */
    public static double meanMetres(Field field) {
        double sum = 0;
        for (double value : field.toArray()) {
            sum += value;
        }
        return sum / field.grid().size();
    }

    /** Returns the problem that this job does not set a key that somebody needs. */
    public Problem lacks(Parameter needed) {
        int dot = needed.id().indexOf('.');
        String example =
                needed instanceof Parameter.Quantity quantity ? ", such as " + ValueReader.example(quantity) : "";
        return new Problem(
                "job.missing-key",
                steps.text().source(null),
                needed.id(),
                "the job does not set " + needed.id() + ": " + needed.meaning(),
                "add it to the section " + needed.id().substring(0, dot) + example);
    }

    /** Returns what an analysis of this job complains about, at its place in the job. */
    public InputException placed(InputException exception) {
        return steps.places().placed(exception);
    }

    /**
     * A file that a job reads.
     *
     * @param file where it is
     * @param asWritten how the job names it
     */
    public record NamedFile(Path file, String asWritten) {}

    /**
     * A film that differs from place to place.
     *
     * @param map the places
     * @param planOf makes the plan for a mean thickness in m
     */
    public record Coating(FilmMap map, DoubleFunction<Plan> planOf) {}

    /**
     * A file of materials.
     *
     * @param file where it is
     * @param asWritten how the job names it
     */
    public record MaterialFile(Path file, String asWritten) {}
}
