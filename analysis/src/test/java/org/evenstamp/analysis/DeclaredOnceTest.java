package org.evenstamp.analysis;

import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import java.lang.reflect.Field;
import java.lang.reflect.Modifier;
import java.util.Collection;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.ServiceLoader;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Consumer;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.Parameter;
import org.junit.jupiter.api.Test;

/** Fields and parameters that several analyses know are one object each: so they cannot be told in two ways. */
class DeclaredOnceTest {
    private final Map<String, Set<Identity>> fields = new TreeMap<>();
    private final Map<String, Set<Identity>> parameters = new TreeMap<>();
    private final Set<Identity> constants = new HashSet<>();

    @Test
    void a_field_and_a_parameter_have_one_declaration_each() throws IllegalAccessException {
        for (JavaClass found : new ClassFileImporter()
                .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
                .importPackages("org.evenstamp.analysis", "org.evenstamp.shared.field")) {
            for (Field field : found.reflect().getDeclaredFields()) {
                if (Modifier.isStatic(field.getModifiers())) {
                    field.setAccessible(true);
                    constants.add(new Identity(field.get(null)));
                    collect(field.get(null));
                }
            }
        }
        for (AnalysisProvider provider : ServiceLoader.load(AnalysisProvider.class)) {
            collect(provider.description());
        }

        assertThat(fields).hasSizeGreaterThan(30);
        assertThat(parameters).hasSizeGreaterThan(60);
        fields.forEach((id, declared) -> assertThat(declared).as("field %s", id).hasSize(1));
        parameters.forEach((id, declared) ->
                assertThat(withoutOptionals(declared)).as("parameter %s", id).hasSize(1));
    }

    /** Takes off what {@link Parameter.Quantity#asOptional} makes of another, unless it is a constant of its own. */
    private List<Identity> withoutOptionals(Set<Identity> declared) {
        List<Object> optionals = declared.stream()
                .map(Identity::declared)
                .filter(parameter -> parameter instanceof Parameter.Quantity quantity && quantity.required())
                .<Object>map(parameter -> ((Parameter.Quantity) parameter).asOptional())
                .toList();
        return declared.stream()
                .filter(one -> constants.contains(one) || !optionals.contains(one.declared()))
                .toList();
    }

    private void collect(Object value) {
        Consumer<Object> each = this::collect;
        if (value instanceof FieldName name) {
            fields.computeIfAbsent(name.id(), id -> new LinkedHashSet<>()).add(new Identity(name));
        } else if (value instanceof Parameter parameter) {
            parameters
                    .computeIfAbsent(parameter.id(), id -> new LinkedHashSet<>())
                    .add(new Identity(parameter));
        } else if (value instanceof Collection<?> many) {
            many.forEach(each);
        } else if (value instanceof Map<?, ?> map) {
            map.keySet().forEach(each);
            map.values().forEach(each);
        } else if (value instanceof AnalysisDescription description) {
            description.parameters().forEach(each);
            description.needs().forEach(each);
            description.uses().forEach(each);
            description.gives().forEach(each);
        }
    }

    /** A declaration, equal to itself alone. */
    private record Identity(Object declared) {
        @Override
        public boolean equals(Object other) {
            return other instanceof Identity that && that.declared == declared;
        }

        @Override
        public int hashCode() {
            return System.identityHashCode(declared);
        }
    }
}
