package org.evenstamp.shared.spi;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;

/** The checked values of an analysis's parameters, numbers in SI. Immutable. */
public final class Parameters {
    private final Map<String, Double> quantities;
    private final Map<String, String> choices;
    private final Map<String, List<Map<String, Double>>> tables;

    private Parameters(
            Map<String, Double> quantities,
            Map<String, String> choices,
            Map<String, List<Map<String, Double>>> tables) {
        this.quantities = Map.copyOf(quantities);
        this.choices = Map.copyOf(choices);
        this.tables = Map.copyOf(tables);
    }

    /** Returns a builder that knows nothing yet. */
    public static Builder builder() {
        return new Builder();
    }

    /** Returns these values with another number, in SI. */
    public Parameters with(String id, double si) {
        Map<String, Double> changed = new HashMap<>(quantities);
        changed.put(id, si);
        return new Parameters(changed, choices, tables);
    }

    /**
     * Returns a number in SI.
     *
     * @throws IllegalStateException when it was neither given nor has a default
     */
    public double quantity(String id) {
        return find(id).orElseThrow(() -> new IllegalStateException("no value for the parameter " + id));
    }

    /** Returns a number in SI, if it was given or has a default. */
    public OptionalDouble find(String id) {
        Double value = quantities.get(id);
        return value == null ? OptionalDouble.empty() : OptionalDouble.of(value);
    }

    /**
     * Returns the chosen word.
     *
     * @throws IllegalStateException when the parameter is not a choice of this analysis
     */
    public String choice(String id) {
        String value = choices.get(id);
        if (value == null) {
            throw new IllegalStateException("no value for the choice " + id);
        }
        return value;
    }

    /** Returns the chosen word, if the parameter is a choice of this job. */
    public Optional<String> findChoice(String id) {
        return Optional.ofNullable(choices.get(id));
    }

    /** Returns the rows of a table, each a map from column id to SI value (a column may be missing); empty when not given. */
    public List<Map<String, Double>> table(String id) {
        return tables.getOrDefault(id, List.of());
    }

    /** Whether the other's values are the same, to the last bit. */
    @Override
    public boolean equals(@Nullable Object other) {
        return other instanceof Parameters that
                && quantities.equals(that.quantities)
                && choices.equals(that.choices)
                && tables.equals(that.tables);
    }

    @Override
    public int hashCode() {
        return Objects.hash(quantities, choices, tables);
    }

    /** Collects values. Later ones replace earlier ones. */
    public static final class Builder {
        private final Map<String, Double> quantities = new HashMap<>();
        private final Map<String, String> choices = new HashMap<>();
        private final Map<String, List<Map<String, Double>>> tables = new HashMap<>();

        private Builder() {}

        /** Sets a number in SI. */
        public Builder quantity(String id, double si) {
            quantities.put(id, si);
            return this;
        }

        /** Sets a word. */
        public Builder choice(String id, String word) {
            choices.put(id, word);
            return this;
        }

        /** Sets the rows of a table, SI. */
        public Builder table(String id, List<Map<String, Double>> rows) {
            List<Map<String, Double>> copy = new ArrayList<>();
            rows.forEach(row -> copy.add(java.util.Collections.unmodifiableMap(new LinkedHashMap<>(row))));
            tables.put(id, List.copyOf(copy));
            return this;
        }

        /** Sets every default that the parameters have and that is not set yet. */
        public Builder defaults(List<Parameter> parameters) {
            for (Parameter parameter : parameters) {
                if (parameter instanceof Parameter.Quantity q && q.standard().isPresent()) {
                    quantities.putIfAbsent(q.id(), q.unit().toSi(q.standard().getAsDouble()));
                } else if (parameter instanceof Parameter.Choice c) {
                    choices.putIfAbsent(c.id(), c.options().get(0));
                }
            }
            return this;
        }

        /** Returns the values. */
        public Parameters build() {
            return new Parameters(quantities, choices, tables);
        }
    }
}
