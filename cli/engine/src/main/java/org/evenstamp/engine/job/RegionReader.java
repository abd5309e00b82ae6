package org.evenstamp.engine.job;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.tile.RegionRule;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.shared.finding.Limit;
import org.jspecify.annotations.Nullable;

/** Reads one row of {@code layout.regions}: a region's name, its weight and, unless the layout draws it, where it is. */
final class RegionReader {
    private static final List<String> KEYS = List.of("name", "weight", "where");
    private static final List<String> WHERE = List.of("role", "depth", "box");
    private static final List<String> ROLES = List.of("cavity", "protrusion", "dummy");
    private static final String EXAMPLE =
            "{name: left, where: {box: {min: [\"-6 mm\", \"-6 mm\"], max: [\"0 mm\", \"6 mm\"]}}}";

    private final GroupReader row;

    RegionReader(JobNode node, JobProblems problems) {
        row = new GroupReader(JobVocabulary.LAYOUT_REGIONS.id(), node, KEYS, EXAMPLE, problems);
    }

    /** Returns whether a row that stands elsewhere has a name and nothing but what a region has. */
    static boolean looksLikeOne(JobNode row) {
        return row instanceof JobNode.Mapping mapping
                && mapping.entries().containsKey("name")
                && KEYS.containsAll(mapping.entries().keySet());
    }

    /** Returns the rule, or nothing when it has no name. */
    Optional<RegionRule> rule() {
        if (!row.sound()) {
            return Optional.empty();
        }
        Optional<String> name = row.text("name");
        if (name.isEmpty() && row.node("name") == null) {
            row.problem("name", "job.missing-key", "this row of layout.regions has no name", "such as name: optics");
        }
        name.ifPresent(word -> checkName(word, row));
        OptionalDouble weight = row.quantity("weight", "1", 0, 1e6);
        RegionRule.Where where =
                row.group("where", WHERE, EXAMPLE).map(this::where).orElse(null);
        return name.map(word -> new RegionRule(word, weight.isPresent() ? weight.getAsDouble() : null, where));
    }

    private RegionRule.@Nullable Where where(GroupReader group) {
        if (!group.sound()) {
            return null;
        }
        Role role = group.choice("role", ROLES)
                .map(word -> Role.valueOf(word.toUpperCase(Locale.ROOT)))
                .orElse(null);
        OptionalDouble depth = group.quantity("depth", "nm", 0.1, 1e6);
        RegionRule.Where where = new RegionRule.Where(
                role,
                depth.isPresent() ? depth.getAsDouble() : null,
                group.rectangle("box").orElse(null));
        if (WHERE.stream().allMatch(key -> group.node(key) == null)) {
            row.problem(
                    "where",
                    "job.missing-key",
                    "layout.regions: where says nothing: it has role, depth or box, or several of them",
                    "such as " + EXAMPLE);
        }
        return where;
    }

    /** Says what a region cannot be called. */
    static void checkName(String name, GroupReader row) {
        if (name.equals(NamedRegion.FEATURES)) {
            row.problem(
                    "name",
                    "job.value",
                    "a region cannot be called " + name + ", which is what all features of a layout cover",
                    "give it another name");
        } else if (name.indexOf(Limit.AT) >= 0) {
            row.problem(
                    "name",
                    "job.value",
                    "the name of a region has no " + Limit.AT + ": " + name,
                    "give it another name");
        }
    }
}
