package org.evenstamp.shared.unit;

import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * A unit: its symbol as written, its size in SI and its dimension.
 *
 * <p>{@code si = value * scale + offset}; the offset is zero for all units but {@code degC}. Symbols are products of
 * powers, written with a space, a dot or {@code *} between factors and {@code /} before divisors: {@code "Pa s"},
 * {@code "mJ/m^2"}, {@code "1/K"}. A prefix (n, u or the micro sign, m, c, k, M, G, p) may stand before a unit that takes one.
 * The unit {@code "1"} is a pure number; {@code "%"} and {@code "deg"} are pure numbers with a scale.
 *
 * @param symbol the text as given
 * @param scale size of one unit in SI, finite and positive
 * @param offset SI value of zero in this unit
 * @param dimension what it measures
 */
public record Unit(String symbol, double scale, double offset, Dimension dimension) {

    private static final int LONGEST = 100;

    /** The pure number. */
    public static final Unit ONE = new Unit("1", 1, 0, Dimension.NONE);

    /**
     * Exponents of length, mass, time, temperature and amount of substance.
     *
     * @param length exponent of the metre
     * @param mass exponent of the kilogram
     * @param time exponent of the second
     * @param temperature exponent of the kelvin
     * @param amount exponent of the mole
     */
    public record Dimension(int length, int mass, int time, int temperature, int amount) {
        /** A pure number. */
        public static final Dimension NONE = new Dimension(0, 0, 0, 0, 0);

        /** Returns the SI unit of this dimension in base units, such as {@code m^-1 kg s^-2}, for {@link Unit#parse}. */
        public String siSymbol() {
            StringBuilder symbol = new StringBuilder();
            factor(symbol, "m", length);
            factor(symbol, "kg", mass);
            factor(symbol, "s", time);
            factor(symbol, "K", temperature);
            factor(symbol, "mol", amount);
            return symbol.isEmpty() ? "1" : symbol.toString();
        }

        private static void factor(StringBuilder symbol, String base, int power) {
            if (power != 0) {
                symbol.append(symbol.isEmpty() ? "" : " ").append(base).append(power == 1 ? "" : "^" + power);
            }
        }

        /** Returns this plus {@code power} times the other. */
        Dimension plus(Dimension other, int power) {
            return new Dimension(
                    length + power * other.length,
                    mass + power * other.mass,
                    time + power * other.time,
                    temperature + power * other.temperature,
                    amount + power * other.amount);
        }
    }

    private record Base(double scale, Dimension dimension, boolean prefixed) {
        static Base of(double scale, int length, int mass, int time, int temperature, boolean prefixed) {
            return new Base(scale, new Dimension(length, mass, time, temperature, 0), prefixed);
        }
    }

    private static final Map<String, Base> BASES = Map.ofEntries(
            Map.entry("1", Base.of(1, 0, 0, 0, 0, false)),
            Map.entry("%", Base.of(0.01, 0, 0, 0, 0, false)),
            Map.entry("deg", Base.of(Math.PI / 180, 0, 0, 0, 0, false)),
            Map.entry("rad", Base.of(1, 0, 0, 0, 0, true)),
            Map.entry("m", Base.of(1, 1, 0, 0, 0, true)),
            Map.entry("s", Base.of(1, 0, 0, 1, 0, true)),
            Map.entry("min", Base.of(60, 0, 0, 1, 0, false)),
            Map.entry("h", Base.of(3600, 0, 0, 1, 0, false)),
            Map.entry("d", Base.of(86400, 0, 0, 1, 0, false)),
            Map.entry("g", Base.of(1e-3, 0, 1, 0, 0, true)),
            Map.entry("K", Base.of(1, 0, 0, 0, 1, true)),
            Map.entry("mol", new Base(1, new Dimension(0, 0, 0, 0, 1), true)),
            Map.entry("Hz", Base.of(1, 0, 0, -1, 0, true)),
            Map.entry("rpm", Base.of(1.0 / 60, 0, 0, -1, 0, false)),
            Map.entry("N", Base.of(1, 1, 1, -2, 0, true)),
            Map.entry("Pa", Base.of(1, -1, 1, -2, 0, true)),
            Map.entry("bar", Base.of(1e5, -1, 1, -2, 0, true)),
            // by definition: pound-force per square inch, 1/760 of an atmosphere, a thousandth of an inch
            Map.entry("psi", Base.of(4.4482216152605 / (0.0254 * 0.0254), -1, 1, -2, 0, false)),
            Map.entry("torr", Base.of(101325.0 / 760, -1, 1, -2, 0, true)),
            Map.entry("Torr", Base.of(101325.0 / 760, -1, 1, -2, 0, true)),
            Map.entry("mil", Base.of(25.4e-6, 1, 0, 0, 0, false)),
            Map.entry("J", Base.of(1, 2, 1, -2, 0, true)),
            Map.entry("W", Base.of(1, 2, 1, -3, 0, true)),
            Map.entry("P", Base.of(0.1, -1, 1, -1, 0, true)),
            Map.entry("L", Base.of(1e-3, 3, 0, 0, 0, true)));

    private static final Map<Character, Double> PREFIXES = Map.of(
            'p', 1e-12, 'n', 1e-9, 'u', 1e-6, '\u00b5', 1e-6, '\u03bc', 1e-6, 'm', 1e-3, 'c', 1e-2, 'k', 1e3, 'M', 1e6,
            'G', 1e9);

    /**
     * Reads a unit.
     *
     * @param text a symbol such as {@code "nm"}, {@code "Pa s"}, {@code "mJ/m^2"}, {@code "degC"}
     * @throws UnitException when a factor is not known or the text is empty
     */
    public static Unit parse(String text) {
        String trimmed = text.strip();
        if (trimmed.equals("degC") || trimmed.equals("\u00b0C")) {
            return new Unit(trimmed, 1, 273.15, new Dimension(0, 0, 0, 1, 0));
        }
        if (trimmed.isEmpty()) {
            throw new UnitException("a unit is missing (write \"1\" for a pure number)");
        }
        if (trimmed.length() > LONGEST) {
            throw new UnitException("unit \"" + trimmed.substring(0, 40) + " ...\" is too long, with "
                    + trimmed.length() + " characters");
        }
        double scale = 1;
        Dimension dimension = Dimension.NONE;
        int sign = 1;
        int start = 0;
        for (int i = 0; i <= trimmed.length(); i++) {
            char c = i < trimmed.length() ? trimmed.charAt(i) : ' ';
            if (c == ' ' || c == '.' || c == '*' || c == '/' || c == '\u00b7') {
                if (i > start) {
                    String factor = trimmed.substring(start, i);
                    Base base = base(factor.replaceFirst("\\^?-?[0-9]+$", ""), factor, trimmed);
                    int power = sign * power(factor);
                    scale *= Math.pow(base.scale, power);
                    dimension = dimension.plus(base.dimension, power);
                    sign = 1;
                }
                if (c == '/') {
                    sign = -1;
                }
                start = i + 1;
            }
        }
        if (sign < 0) {
            throw new UnitException("unit \"" + trimmed + "\" has nothing after its stroke");
        }
        if (!(scale > 0) || !Double.isFinite(scale)) {
            throw new UnitException("unit \"" + trimmed + "\" is too large or too small to count with");
        }
        return new Unit(trimmed, scale, 0, dimension);
    }

    private static int power(String factor) {
        int i = factor.length();
        while (i > 0 && Character.isDigit(factor.charAt(i - 1))) {
            i--;
        }
        if (i == 0 || i == factor.length()) {
            return 1; // "1" itself, or no exponent
        }
        if (factor.length() - i > 2) {
            throw new UnitException("unit \"" + factor + "\" has a power of more than two digits");
        }
        int value = Integer.parseInt(factor.substring(i));
        return factor.charAt(i - 1) == '-' ? -value : value;
    }

    private static Base base(String stem, String factor, String whole) {
        String name = stem.isEmpty() ? factor : stem;
        Base exact = BASES.get(name);
        if (exact != null) {
            return exact;
        }
        Double prefix = PREFIXES.get(name.charAt(0));
        Base rest = BASES.get(name.substring(1));
        if (prefix == null || rest == null || !rest.prefixed) {
            throw new UnitException("unknown unit \"" + factor + "\" in \"" + whole + "\"");
        }
        return new Base(prefix * rest.scale, rest.dimension, false);
    }

    /** Returns the symbols that are known without a prefix, in alphabetical order. */
    public static List<String> symbols() {
        return Stream.concat(BASES.keySet().stream(), Stream.of("degC"))
                .sorted()
                .toList();
    }

    /** Returns the prefixes in alphabetical order. */
    public static String prefixes() {
        return PREFIXES.keySet().stream().sorted().map(String::valueOf).collect(Collectors.joining(" "));
    }

    /** Returns the SI value of {@code value} of this unit. */
    public double toSi(double value) {
        return value * scale + offset;
    }

    /** Returns the value in this unit of an SI number. */
    public double fromSi(double si) {
        return (si - offset) / scale;
    }
}
