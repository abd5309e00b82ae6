package org.evenstamp.samples.job;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.core.type.TypeReference;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.dataformat.yaml.YAMLFactory;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.function.Supplier;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.analysis.pipeline.FoundAnalysis;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.analysis.pipeline.Skipped;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.JobKey;
import org.evenstamp.engine.job.JobNode;
import org.evenstamp.engine.job.JobVocabulary;
import org.evenstamp.engine.job.LayoutChoice;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameters;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A job made from another by a key is the job read from a file that says so, in what it is and in what is wrong with it. */
class JobVariantTest {
    private static final Pipeline ALL = new Pipeline(AnalysisFinder.find(List.of()));
    private static final List<JobKey> KEYS = List.copyOf(JobVocabulary.of(ALL).keys());
    private static final List<String> SAMPLES =
            List.of("job", "hot-press", "uv-press", "solvent-press", "roller", "measured-film");
    private static final Map<String, List<String>> TEXTS = Map.of(
            "layout.file", List.of("layout.geojson.gz", "other.geojson", "none.geojson"),
            "layout.unit", List.of("um", "5 nm", "5 s"),
            "film.material", List.of("pmma-75k", "ps-50k", "uv-acrylate", "honey"),
            "film.thickness-map", List.of("measured-film.csv", "none.csv"),
            "stamp.material", List.of("nickel", "uv-polymer"),
            "output.directory", List.of("there", "../elsewhere"));
    private static final ObjectMapper YAML = new ObjectMapper(new YAMLFactory());

    @TempDir
    Path directory;

    /** All that a job says of itself; or all that is wrong with it, by code, key and message. */
    private record Seen(
            Parameters settings,
            List<Limit> limits,
            LayoutChoice layout,
            Path output,
            JobNode content,
            List<String> running,
            Map<String, String> skipped,
            Set<String> problems) {}

    private static Seen seen(Supplier<Job> source) {
        try {
            Job job = source.get();
            Map<String, String> skipped = new LinkedHashMap<>();
            for (Skipped one : job.plan().skipped()) {
                skipped.put(one.analysis().id(), one.reason());
            }
            return new Seen(
                    job.settings(),
                    job.limits().stream()
                            .map(limit -> new Limit(limit.fieldId(), limit.measure(), limit.side(), limit.boundSi()))
                            .toList(),
                    job.layout(),
                    job.output(),
                    job.content().withoutMarks(),
                    job.plan().running().stream().map(FoundAnalysis::id).toList(),
                    skipped,
                    Set.of());
        } catch (InputException e) {
            Set<String> problems = new LinkedHashSet<>();
            e.problems()
                    .forEach(problem -> problems.add(problem.code() + " " + problem.key() + " " + problem.message()));
            return new Seen(
                    Parameters.builder().build(),
                    List.of(),
                    new LayoutChoice(List.of(), MapOptions.Drawn.CAVITIES, null, false, List.of(), null, null),
                    Path.of(""),
                    new JobNode.Mapping(JobNode.Mark.NOWHERE, Map.of()),
                    List.of(),
                    Map.of(),
                    problems);
        }
    }

    /** A value that a key may have, now and then one that it may not. */
    private static String value(JobKey key, SplittableRandom random) {
        if (key instanceof JobKey.Text) {
            List<String> texts = TEXTS.getOrDefault(key.id(), List.of("generic", "nonsense"));
            return texts.get(random.nextInt(texts.size()));
        }
        if (key instanceof JobKey.Rectangle) {
            return random.nextBoolean()
                    ? "{min: [\"-5 mm\", \"-6000 um\"], max: [\"5 mm\", \"6 mm\"]}"
                    : "{min: [\"5 mm\", \"0\"], max: [\"0 mm\"]}";
        }
        if (key instanceof JobKey.Nested) {
            return "[{some: \"1 nm\"}, other]";
        }
        Parameter parameter = ((JobKey.Value) key).parameter();
        if (parameter instanceof Parameter.Choice choice) {
            return random.nextInt(8) == 0
                    ? "nonsense"
                    : choice.options().get(random.nextInt(choice.options().size()));
        }
        if (parameter instanceof Parameter.Quantity quantity) {
            double share = random.nextDouble();
            double most = Math.min(quantity.most(), 1e3);
            double least = Math.max(quantity.least(), -1e3);
            double number = random.nextInt(8) == 0 ? quantity.most() * 2 + 1 : least + share * (most - least);
            return number + (random.nextInt(8) == 0 ? "" : " " + quantity.unit().symbol());
        }
        List<String> cells = new ArrayList<>();
        for (Parameter.Quantity column : ((Parameter.Table) parameter).columns()) {
            String name = column.id().startsWith(parameter.id() + ".")
                    ? column.id().substring(parameter.id().length() + 1)
                    : column.id();
            cells.add(name + ": \"" + Math.max(column.least(), Math.min(column.most(), 1 + random.nextInt(9))) + " "
                    + column.unit().symbol() + "\"");
        }
        return "[{" + String.join(", ", cells) + "}]";
    }

    /** What a job file has behind a key, as a tree of a general-purpose YAML library. */
    private static Object tree(String text) throws IOException {
        return text.startsWith("{") || text.startsWith("[") ? YAML.readValue(text, Object.class) : text;
    }

    @SuppressWarnings("unchecked") // a job is a map of maps
    private static Map<String, Object> section(Map<String, Object> job, String name) {
        return (Map<String, Object>) job.computeIfAbsent(name, unused -> new LinkedHashMap<String, Object>());
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
    void a_variant_is_the_job_of_a_file_that_says_so(long seed) throws IOException {
        SplittableRandom random = new SplittableRandom(seed);
        Files.createFile(directory.resolve("layout.geojson.gz"));
        Files.createFile(directory.resolve("other.geojson"));
        Files.copy(Path.of("water-sensor/measured-film.csv"), directory.resolve("measured-film.csv"));
        int accepted = 0;
        for (int i = 0; i < 40; i++) {
            String sample = SAMPLES.get(random.nextInt(SAMPLES.size()));
            String text = Files.readString(Path.of("water-sensor", sample + ".yaml"));
            Path file = Files.writeString(directory.resolve("job.yaml"), text);
            Job job = Job.read(file, ALL);
            Map<String, Object> written = YAML.readValue(text, new TypeReference<>() {});
            Set<String> sections = Set.copyOf(written.keySet());
            Map<String, String> changes = new LinkedHashMap<>();
            Set<String> leftOut = new LinkedHashSet<>();
            int count = 1 + random.nextInt(3);
            while (changes.size() + leftOut.size() < count) {
                JobKey key = KEYS.get(random.nextInt(KEYS.size()));
                if (random.nextInt(5) == 0) {
                    leftOut.add(key.id());
                    if (written.containsKey(key.section())) {
                        section(written, key.section()).remove(key.key());
                        if (!sections.contains(key.section())
                                && section(written, key.section()).isEmpty()) {
                            written.remove(key.section()); // a change had made it, which is taken back
                        }
                    }
                    changes.remove(key.id());
                } else if (!leftOut.contains(key.id())) {
                    String value = value(key, random);
                    changes.put(key.id(), value);
                    section(written, key.section()).put(key.key(), tree(value));
                }
            }
            if (random.nextBoolean()) {
                changes.put("limits.residual.final.mean", "<= 0.2 um");
                Map<String, Object> limits = section(written, "limits");
                section(limits, "residual.final").put("mean", "<= 0.2 um");
            }

            Seen variant = seen(() -> job.with(changes, leftOut));

            YAML.writeValue(file.toFile(), written);
            Seen read = seen(() -> Job.read(file, ALL));
            assertThat(variant)
                    .as("%s with %s without %s", sample, changes, leftOut)
                    .isEqualTo(read);
            accepted += variant.problems().isEmpty() ? 1 : 0;
        }
        assertThat(accepted).isBetween(10, 39);
    }
}
