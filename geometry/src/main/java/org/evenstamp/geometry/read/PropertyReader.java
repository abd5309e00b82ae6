package org.evenstamp.geometry.read;

import java.util.Arrays;
import java.util.Locale;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentMap;
import org.evenstamp.geometry.clean.RingCheck;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Texture;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;

/**
 * Turns a feature's properties into {@link Traits}. Known are {@code depth}, {@code role}, {@code repeat} and {@code texture};
 * others are passed over. Lengths are numbers in the layout's unit or text with a unit. Features that spell the same properties
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
    private final ConcurrentMap<Traits, Traits> interned;
    private final byte[][] spellings = new byte[REMEMBERED][];
    private final Traits[] meanings = new Traits[REMEMBERED];

    /**
     * Creates a reader for one worker.
     *
     * @param interned the traits of all workers
     */
    PropertyReader(double metresPerUnit, ConcurrentMap<Traits, Traits> interned) {
        this.metresPerUnit = metresPerUnit;
        this.interned = interned;
    }

    /** Returns an empty store of traits for the workers of one file. */
    static ConcurrentMap<Traits, Traits> store() {
        return new ConcurrentHashMap<>();
    }

    /** Says to a person what is wrong with a property. */
    private static final class PropertyException extends RuntimeException {
        PropertyException(String message) {
            super(message, null, false, false);
        }
    }

    /** Reads the JSON value between two indexes, its syntax already checked, and gives the intake what it means. */
    void read(Chunk chunk, int from, int to, FeatureCollector intake) {
        int slot = hash(chunk.bytes, from, to) & (REMEMBERED - 1);
        byte[] known = spellings[slot];
        if (known != null && Arrays.equals(known, 0, known.length, chunk.bytes, from, to)) {
            intake.traits(meanings[slot]);
            return;
        }
        try {
            Traits traits = intern(new Json(chunk, from).traits());
            if (to - from <= LONGEST_REMEMBERED) {
                spellings[slot] = Arrays.copyOfRange(chunk.bytes, from, to);
                meanings[slot] = traits;
            }
            intake.traits(traits);
        } catch (PropertyException e) {
            intake.badTraits(String.valueOf(e.getMessage()));
        }
    }

    /** Reads cells of a table, empty ones absent, and gives the intake what they mean. */
    void read(String depth, String role, FeatureCollector intake) {
        try {
            Double metres = null;
            if (!depth.isEmpty()) {
                metres = positive("depth", length("depth", depth));
            }
            intake.traits(intern(new Traits(metres, role.isEmpty() ? null : role(role), null, null)));
        } catch (PropertyException e) {
            intake.badTraits(String.valueOf(e.getMessage()));
        }
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
        return choice("role", text, Role.values());
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

        Traits traits() {
            if (isNull()) {
                return Traits.NONE;
            }
            if (bytes[at] != '{') {
                throw new PropertyException("properties must be an object");
            }
            Double depth = null;
            Role role = null;
            Repeat repeat = null;
            Texture texture = null;
            if (begin('{')) {
                do {
                    passName();
                    if (named("depth")) {
                        if (!isNull()) {
                            depth = positive("depth", length("depth"));
                        }
                    } else if (named("role")) {
                        if (!isNull()) {
                            role = role(word("role"));
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
                        skipValue();
                    }
                } while (another('}'));
            }
            return depth == null && role == null && repeat == null && texture == null
                    ? Traits.NONE
                    : new Traits(depth, role, repeat, texture);
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
