package org.evenstamp.geometry.read;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentMap;
import org.evenstamp.geometry.clean.RingCheck;
import org.evenstamp.geometry.layout.RegionLabel;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Texture;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;
import org.jspecify.annotations.Nullable;

/**
 * Turns a feature's properties into {@link Traits}. Known are {@code depth}, {@code role}, {@code repeat} and {@code texture}, of
 * regions also {@code name} and {@code weight}; others are passed over and counted. Lengths are numbers in the layout's unit or text with a unit. Features that spell the same properties
 * alike, or mean the same, share one object.
 */
final class PropertyReader {
    private static final Unit METRE = Unit.parse("m");
    private static final Unit DEGREE = Unit.parse("deg");
    /** A hundredth of an atom: what is shorter is a slip in the unit, and its inverse is no number. */
    private static final double SHORTEST_METRES = 1e-12;

    private static final int MOST_INTERNED = 100_000;
    private static final int REMEMBERED = 256;
    private static final int LONGEST_REMEMBERED = 1024;

    private final double metresPerUnit;
    private final ReadOptions.Assigned assigned;
    private final ConcurrentMap<Traits, Traits> interned;
    private final byte[][] spellings = new byte[REMEMBERED][];
    private final Meaning[] meanings = new Meaning[REMEMBERED];

    /**
     * Creates a reader for one worker.
     *
     * @param assigned what is said of all features
     * @param interned the traits of all workers
     */
    PropertyReader(double metresPerUnit, ReadOptions.Assigned assigned, ConcurrentMap<Traits, Traits> interned) {
        this.metresPerUnit = metresPerUnit;
        this.assigned = assigned;
        this.interned = interned;
    }

    /** Returns an empty store of traits for the workers of one file. */
    static ConcurrentMap<Traits, Traits> store() {
        return new ConcurrentHashMap<>();
    }

    /** What properties come to, and the names of those that mean nothing here. */
    private record Meaning(Traits traits, List<String> unused) {
        void tell(FeatureCollector intake) {
            intake.traits(traits);
            if (!unused.isEmpty()) {
                intake.unused(unused);
            }
        }
    }

    /** Reads the JSON value between two indexes, its syntax already checked, and gives the intake what it means. */
    void read(Chunk chunk, int from, int to, FeatureCollector intake) {
        int slot = hash(chunk.bytes, from, to) & (REMEMBERED - 1);
        byte[] known = spellings[slot];
        if (known != null && Arrays.equals(known, 0, known.length, chunk.bytes, from, to)) {
            meanings[slot].tell(intake);
            return;
        }
        try {
            Meaning meaning = new Json(chunk, from).meaning();
            if (to - from <= LONGEST_REMEMBERED) {
                spellings[slot] = Arrays.copyOfRange(chunk.bytes, from, to);
                meanings[slot] = meaning;
            }
            meaning.tell(intake);
        } catch (PropertyException e) {
            bad(e, intake);
        }
    }

    /**
     * Cells of a table, empty ones absent.
     *
     * @param depth depth of the feature
     * @param role its role
     * @param name name of a region
     * @param weight weight of a region
     */
    record Cells(String depth, String role, String name, String weight) {}

    /** Reads cells of a table and gives the intake what they mean. */
    void read(Cells cells, FeatureCollector intake) {
        try {
            Double metres = null;
            if (!cells.depth.isEmpty()) {
                metres = positive("depth", length("depth", cells.depth));
            }
            Role role = cells.role.isEmpty() ? null : role(cells.role);
            boolean region = (role == null ? assigned.role() : role) == Role.REGION;
            String name = region && !cells.name.isEmpty() ? cells.name : null;
            Double weight = region && !cells.weight.isEmpty() ? Double.valueOf(weight(cells.weight)) : null;
            intake.traits(traits(metres, role, null, null, name, weight));
            if (!region && !cells.name.isEmpty()) {
                intake.unused(List.of("name"));
            }
            if (!region && !cells.weight.isEmpty()) {
                intake.unused(List.of("weight"));
            }
        } catch (PropertyException e) {
            bad(e, intake);
        }
    }

    private static void bad(PropertyException e, FeatureCollector intake) {
        intake.badTraits(String.valueOf(e.getMessage()), e instanceof PropertyException.Role);
    }

    private static double weight(String text) {
        try {
            return weight(Double.parseDouble(text));
        } catch (NumberFormatException e) {
            throw new PropertyException("weight must be a number, was \"" + text + "\"");
        }
    }

    private static double weight(double weight) {
        if (!(weight >= 0) || Double.isInfinite(weight)) {
            throw new PropertyException("weight must be zero or more, was " + weight);
        }
        return weight;
    }

    /** Returns what a feature is that says so much of itself, all else being as it is said of all. */
    private Traits traits(
            @Nullable Double depth,
            @Nullable Role ownRole,
            @Nullable Repeat repeat,
            @Nullable Texture texture,
            @Nullable String name,
            @Nullable Double weight) {
        Role role = ownRole == null ? assigned.role() : ownRole;
        if (role != Role.REGION) {
            return intern(
                    new Traits(assigned.depth(depth), role, assigned.repeat(repeat), assigned.texture(texture), null));
        }
        String called = name == null ? assigned.regionName() : name;
        if (called == null || called.isBlank()) {
            throw new PropertyException(FeatureCollector.NAMELESS);
        }
        if (texture != null || depth != null) {
            throw new PropertyException("a region has neither texture nor depth: it leaves the relief as it is");
        }
        RegionLabel label = new RegionLabel(called.strip(), weight == null ? assigned.regionWeight() : weight);
        return intern(new Traits(null, role, assigned.repeat(repeat), null, label));
    }

    private static int hash(byte[] bytes, int from, int to) {
        int hash = to - from;
        for (int i = from; i < to; i++) {
            hash = 31 * hash + bytes[i];
        }
        return hash ^ (hash >>> 16);
    }

    private Traits intern(Traits traits) {
        if (traits.equals(Traits.NONE)) {
            return Traits.NONE;
        }
        Traits known = interned.get(traits);
        if (known != null) {
            return known;
        }
        if (interned.size() >= MOST_INTERNED) {
            return traits;
        }
        Traits other = interned.putIfAbsent(traits, traits);
        return other == null ? traits : other;
    }

    private double length(String name, String text) {
        try {
            return Double.parseDouble(text) * metresPerUnit;
        } catch (NumberFormatException e) {
            return quantity(name, text, METRE);
        }
    }

    private static double quantity(String name, String text, Unit expected) {
        try {
            return Quantity.parse(text).siAs(expected);
        } catch (UnitException e) {
            throw new PropertyException(name + ": " + e.getMessage());
        }
    }

    private static double positive(String name, double metres) {
        if (!(metres >= SHORTEST_METRES) || metres > RingCheck.FARTHEST_METRES) {
            throw new PropertyException(name + " must be positive, from 1e-12 m to 1e6 m, was " + metres + " m");
        }
        return metres;
    }

    private static Role role(String text) {
        try {
            return choice("role", text, Role.values());
        } catch (PropertyException e) {
            throw new PropertyException.Role(String.valueOf(e.getMessage()));
        }
    }

    private static <E extends Enum<E>> E choice(String name, String text, E[] values) {
        for (E value : values) {
            if (value.name().toLowerCase(Locale.ROOT).equals(text)) {
                return value;
            }
        }
        throw new PropertyException(name + " \"" + text + "\" is none of "
                + Arrays.toString(values).toLowerCase(Locale.ROOT).replaceAll("[\\[\\]]", ""));
    }

    /** The JSON form. */
    private final class Json extends JsonCursor {
        Json(Chunk chunk, int from) {
            super(chunk);
            start(chunk);
            at = from;
        }

        Meaning meaning() {
            if (isNull()) {
                return new Meaning(traits(null, null, null, null, null, null), List.of());
            }
            if (bytes[at] != '{') {
                throw new PropertyException("properties must be an object");
            }
            Double depth = null;
            Role role = null;
            Repeat repeat = null;
            Texture texture = null;
            int nameAt = -1;
            int weightAt = -1;
            List<String> unused = new ArrayList<>();
            if (begin('{')) {
                do {
                    passName();
                    if (named("depth")) {
                        if (!isNull()) {
                            depth = positive("depth", length("depth"));
                        }
                    } else if (named("role")) {
                        if (!isNull()) {
                            role = role(roleWord());
                        }
                    } else if (named("repeat")) {
                        if (!isNull()) {
                            repeat = repeat();
                        }
                    } else if (named("texture")) {
                        if (!isNull()) {
                            texture = texture();
                        }
                    } else {
                        if (named("name")) {
                            nameAt = at;
                        } else if (named("weight")) {
                            weightAt = at;
                        } else if (!named("id")) { // which feature it is, and no word about the stamp
                            unused.add(passedName());
                        }
                        skipValue();
                    }
                } while (another('}'));
            }
            boolean region = (role == null ? assigned.role() : role) == Role.REGION;
            String name = null;
            Double weight = null;
            if (nameAt >= 0) {
                at = nameAt;
                if (!region) {
                    unused.add("name");
                } else if (!isNull()) {
                    name = word("name");
                }
            }
            if (weightAt >= 0) {
                at = weightAt;
                if (!region) {
                    unused.add("weight");
                } else if (!isNull()) {
                    weight = weight(numeric("weight"));
                }
            }
            return new Meaning(
                    PropertyReader.this.traits(depth, role, repeat, texture, name, weight), List.copyOf(unused));
        }

        private Repeat repeat() {
            object("repeat");
            int columns = 1;
            int rows = 1;
            double dx = 0;
            double dy = 0;
            boolean dxGiven = false;
            boolean dyGiven = false;
            if (begin('{')) {
                do {
                    String name = name();
                    switch (name) {
                        case "columns" -> columns = count("repeat.columns");
                        case "rows" -> rows = count("repeat.rows");
                        case "dx" -> {
                            dx = length("repeat.dx");
                            dxGiven = true;
                        }
                        case "dy" -> {
                            dy = length("repeat.dy");
                            dyGiven = true;
                        }
                        default ->
                            throw new PropertyException(
                                    "repeat knows no \"" + name + "\", only columns, rows, dx and dy");
                    }
                } while (another('}'));
            }
            if ((columns > 1 && !dxGiven) || (rows > 1 && !dyGiven)) {
                throw new PropertyException("repeat needs dx for more than one column and dy for more than one row");
            }
            if (!Double.isFinite(dx) || !Double.isFinite(dy)) {
                throw new PropertyException("repeat.dx and repeat.dy must be finite");
            }
            if (Math.max(Math.abs(dx) * (columns - 1), Math.abs(dy) * (rows - 1)) > 2 * RingCheck.FARTHEST_METRES) {
                throw new PropertyException("repeat reaches more than 2e6 m");
            }
            if ((columns > 1 && dx == 0) || (rows > 1 && dy == 0)) {
                throw new PropertyException("repeat with a step of 0 would put all copies on each other");
            }
            return new Repeat(columns, rows, dx, dy);
        }

        private Texture texture() {
            object("texture");
            Texture.Kind kind = null;
            Texture.Lattice lattice = Texture.Lattice.SQUARE;
            double pitch = Double.NaN;
            double width = Double.NaN;
            double angle = 0;
            if (begin('{')) {
                do {
                    String name = name();
                    switch (name) {
                        case "kind" -> kind = choice("texture.kind", word("texture.kind"), Texture.Kind.values());
                        case "lattice" ->
                            lattice = choice("texture.lattice", word("texture.lattice"), Texture.Lattice.values());
                        case "pitch" -> pitch = positive("texture.pitch", length("texture.pitch"));
                        case "width" -> width = positive("texture.width", length("texture.width"));
                        case "angle" -> angle = angle();
                        default ->
                            throw new PropertyException(
                                    "texture knows no \"" + name + "\", only kind, pitch, width, angle and lattice");
                    }
                } while (another('}'));
            }
            if (kind == null) {
                throw new PropertyException("texture needs a kind: lines, holes or pillars");
            }
            if (!(width < pitch)) {
                throw new PropertyException(
                        "texture needs a width below its pitch, was width " + width + " m, pitch " + pitch + " m");
            }
            return new Texture(kind, pitch, width, angle, lattice);
        }

        private void object(String name) {
            if (bytes[at] != '{') {
                throw new PropertyException(name + " must be an object");
            }
        }

        private String word(String name) {
            space();
            if (bytes[at] != '"') {
                throw new PropertyException(name + " must be text");
            }
            return string();
        }

        private String roleWord() {
            try {
                return word("role");
            } catch (PropertyException e) {
                throw new PropertyException.Role(String.valueOf(e.getMessage()));
            }
        }

        private double length(String name) {
            space();
            if (bytes[at] == '"') {
                return quantity(name, string(), METRE);
            }
            return numeric(name) * metresPerUnit;
        }

        private double angle() {
            space();
            double angle = bytes[at] == '"'
                    ? quantity("texture.angle", string(), DEGREE)
                    : Math.toRadians(numeric("texture.angle"));
            if (!Double.isFinite(angle)) {
                throw new PropertyException("texture.angle must be finite");
            }
            return angle;
        }

        private int count(String name) {
            double value = numeric(name);
            if (value != Math.rint(value) || !(value >= 1) || value > 1e9) {
                throw new PropertyException(name + " must be a whole number from 1 to 1e9, was " + value);
            }
            return (int) value;
        }

        private double numeric(String name) {
            space();
            byte b = bytes[at];
            if (b != '-' && (b < '0' || b > '9')) {
                throw new PropertyException(name + " must be a number or text with a unit");
            }
            return jsonNumber();
        }
    }
}
