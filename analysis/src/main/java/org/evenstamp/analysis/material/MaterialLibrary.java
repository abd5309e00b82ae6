package org.evenstamp.analysis.material;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.evenstamp.analysis.rheology.TemperatureRange;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.problem.Source;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;

/**
 * Materials by kind and name, read from text.
 *
 * <p>A line holds nine columns separated by tabs, {@code -} for an empty one; lines that start with {@code #} and blank ones
 * are skipped:
 *
 * <pre>kind  id  property  value  spread  at  valid  standing  source</pre>
 *
 * <p>{@code value} and {@code at} are quantities ({@code 105 degC}), {@code spread} and {@code valid} are ranges
 * ({@code 2.9..3.2 GPa}, {@code 20..60 degC}). The property {@code about} has a line of text for its value and needs no more
 * columns. Immutable.
 */
public final class MaterialLibrary {
    private static final String TABLE = "materials.tsv";
    private static final int COLUMNS = 9;
    private static final TemperatureRange EVERYWHERE = new TemperatureRange(0, Double.MAX_VALUE);

    private record Key(MaterialKind kind, String id) {}

    private final Map<Key, Material> materials;

    private MaterialLibrary(Map<Key, Material> materials) {
        this.materials = materials;
    }

    /** Returns the built-in materials. */
    public static MaterialLibrary standard() {
        try (InputStream stream = Objects.requireNonNull(
                        MaterialLibrary.class.getResourceAsStream(TABLE), "the jar lacks " + TABLE);
                Reader reader = new InputStreamReader(stream, StandardCharsets.UTF_8)) {
            return read(reader, TABLE);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /**
     * Reads materials.
     *
     * @param reader the text, left open
     * @param name what to call it in problems, such as the file's name
     * @throws InputException with every wrong line
     * @throws IOException when reading fails
     */
    public static MaterialLibrary read(Reader reader, String name) throws IOException {
        Problems problems = new Problems();
        Map<Key, String> abouts = new LinkedHashMap<>();
        Map<Key, List<Datum>> data = new LinkedHashMap<>();
        BufferedReader lines = new BufferedReader(reader);
        int number = 0;
        for (String line = lines.readLine(); line != null; line = lines.readLine()) {
            number++;
            if (!line.isBlank() && !line.startsWith("#")) {
                try {
                    String[] columns = columns(line);
                    Key key = new Key(word(columns[0], MaterialKind.values(), MaterialKind::word, "kind"), columns[1]);
                    data.computeIfAbsent(key, unused -> new ArrayList<>());
                    if (columns[2].equals("about")) {
                        abouts.put(key, columns[3]);
                    } else {
                        Objects.requireNonNull(data.get(key)).add(datum(columns));
                    }
                } catch (UnitException e) {
                    problems.add("material.line", new Source(name, number, 0), String.valueOf(e.getMessage()), "");
                }
            }
        }
        problems.throwIfAny();
        Map<Key, Material> materials = new LinkedHashMap<>();
        data.forEach(
                (key, list) -> materials.put(key, new Material(key.kind, key.id, abouts.getOrDefault(key, ""), list)));
        return new MaterialLibrary(materials);
    }

    private static String[] columns(String line) {
        String[] columns =
                Arrays.stream(line.split("\t", -1)).map(String::strip).toArray(String[]::new);
        boolean about = columns.length > 2 && columns[2].equals("about");
        if (columns.length != COLUMNS && !(about && columns.length >= 4)) {
            throw new UnitException("the line has " + columns.length + " columns, not " + COLUMNS
                    + " (separate them with tabs and write \"-\" for an empty one)");
        }
        if (columns[1].isEmpty() || columns[1].equals("-")) {
            throw new UnitException("the material has no id");
        }
        return columns;
    }

    private static Datum datum(String[] columns) {
        Property property = word(columns[2], Property.values(), Property::word, "property");
        Unit unit = property.unit();
        Quantity value = Quantity.parse(columns[3]);
        if (!(value.siAs(unit) > 0)) {
            throw new UnitException("the " + property.word() + " is " + columns[3] + ", it must be positive");
        }
        Optional<Datum.Spread> spread = given(columns[4]).map(text -> range(text, unit));
        if (spread.isPresent()
                && !(spread.get().least() <= value.si()
                        && value.si() <= spread.get().most())) {
            throw new UnitException("the value " + columns[3] + " is not within its spread " + columns[4]);
        }
        Unit degree = Property.GLASS_TEMPERATURE.unit();
        Optional<Double> at = given(columns[5]).map(text -> Quantity.parse(text).siAs(degree));
        if (at.isPresent() && !EVERYWHERE.contains(at.get())) {
            throw new UnitException(columns[5] + " is below absolute zero");
        }
        Optional<TemperatureRange> valid = given(columns[6]).map(text -> {
            Datum.Spread ends = range(text, degree);
            if (ends.least() < 0) {
                throw new UnitException(columns[6] + " starts below absolute zero");
            }
            return new TemperatureRange(ends.least(), ends.most());
        });
        Provenance standing = word(columns[7], Provenance.values(), Provenance::words, "standing");
        String source =
                given(columns[8]).orElseThrow(() -> new UnitException("the " + property.word() + " has no source"));
        return new Datum(property, value, spread, at, valid, standing, source);
    }

    private static Optional<String> given(String column) {
        return column.isEmpty() || column.equals("-") ? Optional.empty() : Optional.of(column);
    }

    private static Datum.Spread range(String text, Unit unit) {
        int dots = text.indexOf("..");
        if (dots < 0) {
            throw new UnitException("\"" + text + "\" is not a range, such as \"20..60 degC\"");
        }
        Quantity most = Quantity.parse(text.substring(dots + 2));
        double least = Quantity.parse(
                        text.substring(0, dots) + " " + most.unit().symbol())
                .siAs(unit);
        if (!(least <= most.siAs(unit))) {
            throw new UnitException("\"" + text + "\" falls: write the smaller number first");
        }
        return new Datum.Spread(least, most.si());
    }

    private static <T> T word(String text, T[] values, Function<T, String> words, String what) {
        return Arrays.stream(values)
                .filter(value -> words.apply(value).equals(text))
                .findFirst()
                .orElseThrow(() -> new UnitException("\"" + text + "\" is not a " + what + "; known: "
                        + Arrays.stream(values).map(words).collect(Collectors.joining(", "))));
    }

    /** Returns these materials and others; where kind and id agree, the others replace these whole. */
    public MaterialLibrary with(MaterialLibrary others) {
        Map<Key, Material> all = new LinkedHashMap<>(materials);
        all.putAll(others.materials);
        return new MaterialLibrary(all);
    }

    /** Returns all materials, in the order they were read. */
    public List<Material> materials() {
        return List.copyOf(materials.values());
    }

    /**
     * Returns a material.
     *
     * @throws InputException when there is none, naming those there are
     */
    public Material get(MaterialKind kind, String id) {
        Material found = materials.get(new Key(kind, id));
        if (found == null) {
            throw new InputException(
                    "material.unknown",
                    "",
                    "there is no " + kind.word() + " \"" + id + "\"",
                    "known: "
                            + materials.keySet().stream()
                                    .filter(key -> key.kind == kind)
                                    .map(Key::id)
                                    .collect(Collectors.joining(", ")));
        }
        return found;
    }
}
