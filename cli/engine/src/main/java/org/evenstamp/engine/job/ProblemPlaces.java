package org.evenstamp.engine.job;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.UnitException;

/**
 * Finds the place in a job of what an analysis or a law complains about. These know keys of the job at most, and laws not even
 * those: they are given numbers.
 */
final class ProblemPlaces {
    private static final List<String> TEMPERATURE = List.of("process.steps", "process.temperature");

    /** By code of a problem that names no key: the keys it may be about, of which the first that the job sets is meant. */
    private static final Map<String, List<String>> KEYS = Map.ofEntries(
            Map.entry("process.no-steps", List.of("process.steps")),
            Map.entry("process.step-length", List.of("process.steps", "process.hold")),
            Map.entry("process.temperature", TEMPERATURE),
            Map.entry("process.pressure", List.of("process.steps", "process.pressure")),
            Map.entry("process.solvent", List.of("process.solvent-share")),
            Map.entry("process.solvent-unknown", List.of("film.solvent", "process.solvent-share")),
            Map.entry("process.two-ramps", List.of("process.steps")),
            Map.entry("process.decomposition", TEMPERATURE),
            Map.entry("process.cured-first", List.of("process.kind")),
            Map.entry("process.never-softens", TEMPERATURE),
            Map.entry("process.pressed-below-glass-temperature", TEMPERATURE),
            Map.entry("process.softens-again", TEMPERATURE),
            Map.entry("process.never-solidifies", List.of("process.steps", "release.temperature", "process.kind")),
            Map.entry("process.uneven-pressure", List.of("process.uneven-x", "process.uneven-y")),
            Map.entry(
                    "process.no-light",
                    List.of(
                            "process.lamp-side",
                            "stamp.transmission",
                            "stamp.absorption",
                            "stamp.material",
                            "process.substrate-transmission",
                            "process.substrate-absorption",
                            "release.substrate")),
            Map.entry(
                    "process.lamp-uneven",
                    List.of("process.lamp-uneven-x", "process.lamp-uneven-y", "process.lamp-falloff")),
            Map.entry("process.contact-angle", List.of("film.contact-angle")),
            Map.entry("process.not-positive", List.of("process.kind")),
            Map.entry("rheology.below-glass-temperature", TEMPERATURE),
            Map.entry(
                    "rheology.wlf-pole",
                    List.of("film.wlf-c2", "film.wlf-reference", "film.glass-temperature", "film.material")),
            Map.entry("rheology.not-positive", List.of("film.material")),
            Map.entry("rheology.table-short", List.of("film.viscosities", "film.material")),
            Map.entry("rheology.table-not-monotone", List.of("film.viscosities", "film.material")),
            Map.entry("rheology.table-below-glass-temperature", List.of("film.viscosities", "film.material")),
            Map.entry("rheology.solvent-fraction", List.of("process.solvent-share")),
            Map.entry("rheology.thinning-exponent", List.of("film.thinning-exponent")),
            Map.entry("material.missing", List.of("film.material")),
            Map.entry("material.viscosities", List.of("film.material")),
            Map.entry("material.viscosity-temperature", List.of("film.material")));

    private static final Pattern ROW = Pattern.compile("(?:row|step) ([0-9]{1,6})");

    private final JobText text;
    private final JobVocabulary vocabulary;
    private final JobValues values;

    ProblemPlaces(JobText text, JobVocabulary vocabulary, JobValues values) {
        this.text = text;
        this.vocabulary = vocabulary;
        this.values = values;
    }

    /** Returns the same problems at their places in the job. */
    InputException placed(InputException exception) {
        return new InputException(
                exception.problems().stream().map(this::placed).distinct().toList());
    }

    /** Returns the problem at its place in the job; as it is when it knows that already. */
    Problem placed(Problem problem) {
        if (!problem.key().isEmpty() || problem.source().line() > 0) {
            return problem;
        }
        String about = problem.source().file();
        String first = about.split(" ", 2)[0];
        boolean namesKey = vocabulary.key(first) != null;
        String key = namesKey ? first : key(problem.code());
        String rest = namesKey ? about.substring(first.length()).strip() : about;
        return new Problem(
                problem.code(),
                text.source(mark(key, rest).orElse(null)),
                key,
                (key.isEmpty() ? "" : key + written(key) + ": ")
                        + (rest.isEmpty() ? "" : rest + ": ")
                        + problem.message(),
                problem.fix());
    }

    private String key(String code) {
        List<String> keys = KEYS.getOrDefault(code, List.of());
        return keys.stream().filter(values::sets).findFirst().orElse(keys.isEmpty() ? "" : keys.get(0));
    }

    private Optional<JobNode.Mark> mark(String key, String detail) {
        Matcher row = ROW.matcher(detail);
        if (values.node(key) instanceof JobNode.Sequence rows && row.find()) {
            int number = Integer.parseInt(row.group(1));
            if (number >= 1 && number <= rows.items().size()) {
                return Optional.of(rows.items().get(number - 1).mark());
            }
        }
        return Optional.ofNullable(values.mark(key));
    }

    /** Returns a number as the job writes it where that is in another unit than messages are. */
    private String written(String key) {
        if (values.node(key) instanceof JobNode.Scalar scalar
                && vocabulary.key(key) instanceof JobKey.Value value
                && value.parameter() instanceof Parameter.Quantity parameter) {
            try {
                String unit = Quantity.parse(scalar.text()).unit().symbol();
                return unit.equals(parameter.unit().symbol())
                        ? ""
                        : " (" + scalar.text().strip() + ")";
            } catch (UnitException e) {
                return "";
            }
        }
        return "";
    }
}
