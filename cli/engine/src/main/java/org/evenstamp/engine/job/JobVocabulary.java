package org.evenstamp.engine.job;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import org.evenstamp.analysis.completion.FilmThickness;
import org.evenstamp.analysis.completion.JobCompletion;
import org.evenstamp.analysis.pipeline.FoundAnalysis;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.geometry.read.LayoutFormat;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.unit.Unit;
import org.jspecify.annotations.Nullable;

/** All that a job may name: keys with their sections, and fields that a limit may be set on. Immutable. */
public final class JobVocabulary {
    static final JobKey.Text LAYOUT_FILE =
            new JobKey.Text("layout.file", true, "layout.geojson", "layout file, relative to the job file");
    static final JobKey.Text LAYOUT_UNIT = new JobKey.Text(
            "layout.unit", false, "um", "length of one coordinate step; needed where the layout file does not say it");
    static final JobKey.Text LAYOUT_TABLE = new JobKey.Text(
            "layout.table",
            false,
            "tiles.csv",
            "a table of tiles instead of a drawing, relative to the job file: x_um,y_um,fraction, depth_nm or volume_nm, and"
                    + " moment_um^2 or land_um; CSV, or NumPy arrays (.npz)");
    static final JobKey.Nested LAYOUT_LAYERS = new JobKey.Nested(
            "layout.layers",
            "[{file: keepout.wkt, unit: um, role: keepout}]",
            "layout files instead of layout.file, or beside it: rows of {file, unit, format, role, depth, depth-scale, offset,"
                    + " turn, mirror, name, weight, stepped}");
    static final JobKey.Nested LAYOUT_ARRAY = new JobKey.Nested(
            "layout.array",
            "{columns: 10, rows: 8, step: [\"2 mm\", \"2.5 mm\"]}",
            "steps the layout over the stamp: {columns, rows, step, offset, die, omit: [{column, row}], turned: [{column, row,"
                    + " turn}]}");
    static final JobKey.Nested LAYOUT_REGIONS = new JobKey.Nested(
            "layout.regions",
            "[{name: optics, weight: 2}]",
            "regions that matter: rows of {name, weight, where: {role, depth, box}}; without where the layout draws it");
    static final JobKey.Rectangle LAYOUT_OUTLINE = new JobKey.Rectangle(
            "layout.outline", "the stamp's rectangle; the bounding box of the layout when left out");
    static final JobKey.Text OUTPUT_DIRECTORY = new JobKey.Text(
            "output.directory",
            false,
            "results",
            "directory for the results, relative to the job file; <job name>-results beside it when left out");
    /** What the job calls itself. */
    public static final JobKey.Text OUTPUT_TITLE = new JobKey.Text(
            "output.title",
            false,
            "Flow cell, second stamp",
            "what the report is called; the name of the job file when left out");

    static final String LIMITS = "limits";
    static final JobKey.Text FILM_MATERIAL = new JobKey.Text(
            "film.material",
            false,
            "pmma-75k",
            "film of the material library; answers the film's keys that the job leaves out");
    public static final JobKey.Text FILM_MATERIALS = new JobKey.Text(
            "film.materials", false, "materials.tsv", "your own materials, a file relative to the job file");
    /** File of measured thickness. */
    public static final JobKey.Text THICKNESS_MAP = new JobKey.Text(
            "film.thickness-map",
            false,
            "thickness.csv",
            "measured film thickness, instead of film.thickness: a file relative to the job with the columns"
                    + " x_mm,y_mm,thickness_nm");

    /** File of drops. */
    public static final JobKey.Text DROP_MAP = new JobKey.Text(
            "film.drop-map",
            false,
            "drops.csv",
            "drops that make the film, instead of film.thickness: a file relative to the job with the columns x_um,y_um,drops,"
                    + " as evenstamp drops writes it, or x_um,y_um,volume_pL");

    /** File of the lamp's measured light. */
    public static final JobKey.Text LAMP_MAP = new JobKey.Text(
            "process.lamp-map",
            false,
            "lamp.csv",
            "measured irradiance of the lamp of a UV press, instead of process.irradiance: a file relative to the job with the columns"
                    + " x_mm,y_mm,irradiance_mW/cm^2; needs process.exposure");

    static final JobKey.Text FILM_SOLVENT =
            new JobKey.Text("film.solvent", false, "generic", "solvent of the material library that swells the film");
    static final JobKey.Text STAMP_MATERIAL = new JobKey.Text(
            "stamp.material",
            false,
            "nickel",
            "stamp of the material library; answers the stamp's keys that the job leaves out");
    static final JobKey.Text COATING = new JobKey.Text(
            "release.coating", false, "fluorosilane", "coating of the material library; answers release.stamp-energy");
    static final JobKey.Text SUBSTRATE = new JobKey.Text(
            "release.substrate",
            false,
            "silicon",
            "substrate of the material library; answers release.substrate-expansion");

    /** What drawn polygons are. */
    public static final Parameter.Choice LAYOUT_DRAWN =
            new Parameter.Choice("layout.drawn", List.of("cavities", "protrusions"), "what the drawn polygons are");

    /** What to do with bad features. */
    public static final Parameter.Choice BAD_FEATURES = new Parameter.Choice(
            "layout.bad-features",
            List.of("skip", "repair"),
            "what becomes of open rings, self-crossing outlines and the like; they are counted either way");

    /** Meaning of each format by its word in a job. */
    public static final Map<String, String> LAYOUT_FORMATS = formats();

    /** What else a layout may be, by the key that names it. */
    public static final Map<String, String> TILE_TABLES = Map.of(
            LAYOUT_TABLE.id(), "no drawing but a table of tiles (CSV or .npz), which is no word for layout.format");

    static final Parameter.Choice LAYOUT_FORMAT = new Parameter.Choice(
            "layout.format",
            List.copyOf(LAYOUT_FORMATS.keySet()),
            "format of the layout file; auto looks at its content");

    /** Side of a tile. */
    public static final Parameter.Quantity TILE_SIDE = new Parameter.Quantity(
            "tiles.side",
            Unit.parse("um"),
            OptionalDouble.empty(),
            0.01,
            1e5,
            false,
            "side of a tile; chosen from the layout when left out");

    /** How squeeze moment and flow paths are found. */
    public static final Parameter.Choice TILE_STRUCTURE = new Parameter.Choice(
            "tiles.structure",
            List.of("auto", "solved", "estimated"),
            "how squeeze moment, flow paths and widths are found: from a fine picture of every tile, or as if it were a"
                    + " grating");

    /** Whether a run tells how far its numbers depend on the tiles. */
    public static final Parameter.Choice TILE_RESOLUTION = new Parameter.Choice(
            "tiles.resolution",
            List.of("on", "off"),
            "whether a run also solves on tiles twice as wide, which tells the error of its numbers for a quarter of the time"
                    + " more");

    /** Depth of the cavities. */
    public static final Parameter.Quantity STAMP_DEPTH = Parameter.Quantity.required(
            "stamp.depth", "nm", 0.1, 1e6, "cavity depth of features that carry no depth of their own");

    /** Scale of all depths. */
    public static final Parameter.Quantity DEPTH_SCALE = Parameter.Quantity.standard(
            "stamp.depth-scale",
            "1",
            1,
            0.01,
            100,
            "factor on every depth of the stamp, those that features carry themselves too");

    private static final List<JobKey> CORE = core();

    /** Sections of every job, in the order they are written. */
    private static final List<String> SECTIONS = List.of(
            "layout",
            "tiles",
            "stamp",
            "film",
            "process",
            "release",
            "etch",
            LIMITS,
            "dummy",
            "drops",
            "sweep",
            "calibrate",
            "output");

    private final List<AnalysisDescription> analyses;
    private final Map<String, JobKey> keys;
    private final Map<String, FieldName> fields;
    private final Map<String, FieldName> figures;
    private final Set<String> sections;
    private final List<JobKey> ordered;

    private static List<JobKey> core() {
        List<JobKey> keys = new ArrayList<>(List.of(
                LAYOUT_FILE,
                LAYOUT_UNIT,
                new JobKey.Value(LAYOUT_FORMAT, false),
                new JobKey.Value(LAYOUT_DRAWN, false),
                LAYOUT_OUTLINE,
                LAYOUT_LAYERS,
                LAYOUT_ARRAY,
                LAYOUT_TABLE,
                LAYOUT_REGIONS,
                new JobKey.Value(BAD_FEATURES, false),
                new JobKey.Value(TILE_SIDE, false),
                new JobKey.Value(TILE_STRUCTURE, false),
                new JobKey.Value(TILE_RESOLUTION, false),
                new JobKey.Value(STAMP_DEPTH, true),
                new JobKey.Value(DEPTH_SCALE, false),
                STAMP_MATERIAL,
                FILM_MATERIAL,
                FILM_MATERIALS,
                FILM_SOLVENT,
                THICKNESS_MAP,
                DROP_MAP,
                LAMP_MAP,
                new JobKey.Value(JobCompletion.MOLAR_MASS, false),
                new JobKey.Value(FilmThickness.SPIN_SPEED, false),
                new JobKey.Value(FilmThickness.SPIN_MEASURED_SPEED, false),
                new JobKey.Value(FilmThickness.SPIN_MEASURED_THICKNESS, false),
                COATING,
                SUBSTRATE,
                OUTPUT_DIRECTORY,
                OUTPUT_TITLE));
        for (List<Parameter> section : List.of(
                DummyChoice.PARAMETERS,
                DropChoice.PARAMETERS,
                FilmChoice.PARAMETERS,
                SweepChoice.PARAMETERS,
                CalibrationChoice.PARAMETERS)) {
            section.forEach(parameter -> keys.add(new JobKey.Value(parameter, false)));
        }
        keys.add(DummyProperties.KEY);
        keys.addAll(SweepChoice.NESTED);
        keys.addAll(CalibrationChoice.NESTED);
        return List.copyOf(keys);
    }

    private JobVocabulary(
            List<AnalysisDescription> analyses,
            Map<String, JobKey> keys,
            Map<String, FieldName> fields,
            Map<String, FieldName> figures) {
        this.analyses = analyses;
        this.keys = keys;
        this.fields = fields;
        this.figures = figures;
        this.sections = Collections.unmodifiableSet(sections(keys));
        this.ordered = sections.stream()
                .flatMap(section ->
                        keys.values().stream().filter(key -> key.section().equals(section)))
                .toList();
    }

    /**
     * Returns the vocabulary of the tool's own keys and those of analyses.
     *
     * @throws org.evenstamp.shared.problem.InputException when an analysis declares one of the tool's own keys differently
     */
    public static JobVocabulary of(Pipeline pipeline) {
        Map<String, JobKey> keys = new LinkedHashMap<>();
        Map<String, FieldName> fields = new LinkedHashMap<>();
        Map<String, FieldName> figures = new LinkedHashMap<>();
        CORE.forEach(key -> keys.put(key.id(), key));
        TileFields.all().forEach(field -> fields.put(field.id(), field));
        fields.put(TileFields.FILM_COATED.id(), TileFields.FILM_COATED);
        fields.put(TileFields.LAMP_IRRADIANCE.id(), TileFields.LAMP_IRRADIANCE);
        Problems problems = new Problems();
        for (FoundAnalysis analysis : pipeline.analyses()) {
            for (Parameter parameter : analysis.description().parameters()) {
                JobKey before = keys.putIfAbsent(parameter.id(), new JobKey.Value(parameter, false));
                if (before != null && CORE.contains(before) && !alike(before, parameter)) {
                    problems.add(
                            "plugin.parameter",
                            analysis.origin(),
                            "the analysis " + analysis.id() + " declares the parameter " + parameter.id()
                                    + ", which is a key of the tool itself",
                            "declare it alike or name it otherwise");
                }
            }
            analysis.description().gives().forEach(field -> fields.putIfAbsent(field.id(), field));
            analysis.limitableFigures().forEach(figure -> figures.putIfAbsent(figure.id(), figure));
        }
        problems.throwIfAny();
        return new JobVocabulary(
                pipeline.analyses().stream().map(FoundAnalysis::description).toList(),
                Collections.unmodifiableMap(keys),
                Collections.unmodifiableMap(fields),
                Collections.unmodifiableMap(figures));
    }

    /** Whether one value of the job can be both the tool's and an analysis's. */
    private static boolean alike(JobKey key, Parameter parameter) {
        if (!(key instanceof JobKey.Value value)) {
            return false;
        }
        if (value.parameter() instanceof Parameter.Quantity own && parameter instanceof Parameter.Quantity other) {
            return own.unit().dimension().equals(other.unit().dimension());
        }
        return value.parameter() instanceof Parameter.Choice own
                && parameter instanceof Parameter.Choice other
                && own.options().equals(other.options());
    }

    private static Map<String, String> formats() {
        Map<String, String> formats = new LinkedHashMap<>();
        formats.put("auto", "found from the content of the file");
        for (LayoutFormat format : LayoutFormat.values()) {
            formats.put(word(format), meaning(format));
        }
        return Collections.unmodifiableMap(formats);
    }

    /** Returns the word for a format in a job. */
    public static String word(LayoutFormat format) {
        return format.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    private static String meaning(LayoutFormat format) {
        String what = switch (format) {
            case GEOJSON -> "GeoJSON, one document (RFC 7946 syntax, planar coordinates)";
            case GEOJSON_LINES -> "GeoJSON, a feature or geometry on every line";
            case WKT_LINES -> "well-known text on every line, with or without SRID";
            case WKB_HEX_LINES -> "well-known binary in hexadecimal digits on every line";
            case CSV_WKT -> "comma-, semicolon- or tab-separated values with a column of well-known text";
        };
        return what + "; plain, gzip or zstd";
    }

    static @Nullable LayoutFormat format(String word) {
        return word.equals("auto")
                ? null
                : LayoutFormat.valueOf(word.toUpperCase(Locale.ROOT).replace('-', '_'));
    }

    /** Returns the analyses. */
    public List<AnalysisDescription> analyses() {
        return analyses;
    }

    /** Returns all keys, section by section. */
    public Collection<JobKey> keys() {
        return ordered;
    }

    /** Returns all fields, those of the tile map first. */
    public Collection<FieldName> fields() {
        return fields.values();
    }

    /** Returns the figures that a limit may be set on. */
    public Collection<FieldName> figures() {
        return figures.values();
    }

    /** Returns all sections that hold a key, and {@code limits}, in the order they are written. */
    public Set<String> sections() {
        return sections;
    }

    private static Set<String> sections(Map<String, JobKey> keys) {
        Set<String> used = new LinkedHashSet<>();
        for (String section : SECTIONS) {
            if (section.equals(LIMITS)
                    || keys.values().stream().anyMatch(k -> k.section().equals(section))) {
                used.add(section);
            }
        }
        keys.values().forEach(key -> used.add(key.section()));
        return used;
    }

    /** Returns the SI unit of a key's numbers; that of a pure number where the key has none. */
    String siUnit(String id) {
        return keys.get(id) instanceof JobKey.Value value && value.parameter() instanceof Parameter.Quantity quantity
                ? quantity.unit().dimension().siSymbol()
                : "1";
    }

    /** Returns the unit in which a key's numbers are shown; that of a pure number where the key has none. */
    Unit unit(String id) {
        return keys.get(id) instanceof JobKey.Value value && value.parameter() instanceof Parameter.Quantity quantity
                ? quantity.unit()
                : Unit.parse("1");
    }

    @Nullable
    JobKey key(String id) {
        return keys.get(id);
    }

    @Nullable
    FieldName field(String id) {
        return fields.get(id);
    }

    /** Returns the field or figure that a limit may be set on. */
    @Nullable
    FieldName limitable(String id) {
        FieldName field = fields.get(id);
        return field == null ? figures.get(id) : field;
    }

    boolean isFigure(FieldName name) {
        return figures.containsValue(name);
    }
}
