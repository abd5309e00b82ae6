package org.evenstamp.samples.job;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.engine.job.Job;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** One mistake in a job is one problem, at its line; two mistakes are two. */
class OneMistakeTest {
    private static final Path SAMPLES = Path.of(".");
    private static final Pipeline ALL = new Pipeline(AnalysisFinder.find(List.of()));
    private static final Pattern LINE = Pattern.compile("( *)([A-Za-z][A-Za-z.-]*):( *)(.*)");
    private static final Pattern QUANTITY = Pattern.compile("\"((?:[<>]= )?)([0-9.e+-]+)( [^\"]+)\"");
    private static final Pattern WORD = Pattern.compile("([a-z][a-z0-9.-]*)( .*)?");

    @TempDir
    Path directory;

    /** A line of a job written otherwise; its new text may be no line at all. */
    private record Mistake(int line, String kind, String instead) {
        /** Whether other lines mean something else without this one: the heading of a section, or a kind, which decides what is needed. */
        boolean changesTheRest(List<String> lines) {
            String before = lines.get(line).split("#", 2)[0].strip();
            return instead.isEmpty() && (before.endsWith(":") || before.startsWith("kind:"));
        }
    }

    private static List<String> lines(String job) throws IOException {
        return Files.readAllLines(SAMPLES.resolve(job));
    }

    private static List<Mistake> mistakes(List<String> lines) {
        List<Mistake> mistakes = new ArrayList<>();
        for (int i = 0; i < lines.size(); i++) {
            String line = lines.get(i);
            Matcher parts = LINE.matcher(line);
            if (!parts.matches()) {
                continue;
            }
            String before = parts.group(1);
            String key = parts.group(2);
            String after = ":" + parts.group(3) + parts.group(4);
            int middle = key.length() / 2;
            mistakes.add(
                    new Mistake(i, "a letter too few", before + new StringBuilder(key).deleteCharAt(middle) + after));
            mistakes.add(
                    new Mistake(i, "a letter too many", before + new StringBuilder(key).insert(middle, 'x') + after));
            String swapped = key.substring(0, middle - 1)
                    + key.charAt(middle)
                    + key.charAt(middle - 1)
                    + key.substring(middle + 1);
            if (!swapped.equals(key)) {
                mistakes.add(new Mistake(i, "letters swapped", before + swapped + after));
            }
            mistakes.add(new Mistake(i, "no line", ""));
            Matcher quantity = QUANTITY.matcher(line);
            if (quantity.find()) {
                String sign = quantity.group(1);
                mistakes.add(new Mistake(i, "no unit", quantity.replaceFirst("\"" + sign + "$2\"")));
                mistakes.add(new Mistake(i, "no such unit", quantity.replaceFirst("\"" + sign + "$2 furlong\"")));
                mistakes.add(new Mistake(i, "no number", quantity.replaceFirst("\"" + sign + "many$3\"")));
                mistakes.add(new Mistake(i, "out of range", quantity.replaceFirst("\"" + sign + "1e40$3\"")));
            } else {
                Matcher word = WORD.matcher(parts.group(4));
                if (word.matches()) {
                    mistakes.add(new Mistake(
                            i,
                            "a letter less",
                            before + key + ": " + word.group(1).substring(1)));
                    mistakes.add(new Mistake(i, "no such word", before + key + ": nonsense"));
                    mistakes.add(new Mistake(i, "a list", before + key + ": [1, 2]"));
                }
            }
        }
        return mistakes;
    }

    static Stream<String> jobs() {
        return Stream.of(
                "water-sensor/job.yaml",
                "water-sensor/hot-press.yaml",
                "water-sensor/uv-press.yaml",
                "water-sensor/solvent-press.yaml",
                "water-sensor/roller.yaml",
                "water-sensor/measured-film.yaml",
                "flawed/job.yaml",
                "spectrometer/job.yaml");
    }

    private List<Problem> problems(List<String> lines, List<Mistake> made) throws IOException {
        List<String> wrong = new ArrayList<>(lines);
        made.forEach(mistake -> wrong.set(mistake.line(), mistake.instead()));
        for (String file : List.of(
                "layout.geojson.gz",
                "layout.geojson",
                "gratings.geojson",
                "guides.wkt",
                "wells.csv",
                "keepout.wkt",
                "regions.geojson")) {
            Path there = directory.resolve(file);
            if (!Files.exists(there)) {
                Files.createFile(there);
            }
        }
        Path thickness = SAMPLES.resolve("water-sensor/measured-film.csv");
        if (Files.exists(thickness) && !Files.exists(directory.resolve("measured-film.csv"))) {
            Files.copy(thickness, directory.resolve("measured-film.csv"));
        }
        Path file = Files.write(directory.resolve("job.yaml"), wrong);
        try {
            Job.read(file, ALL);
            return List.of();
        } catch (InputException e) {
            return e.problems();
        }
    }

    @ParameterizedTest
    @MethodSource("jobs")
    void one_mistake_is_one_problem(String job) throws IOException {
        List<String> lines = lines(job);
        assertThat(problems(lines, List.of())).isEmpty();
        List<String> failures = new ArrayList<>();
        int found = 0;
        for (Mistake mistake : mistakes(lines)) {
            List<Problem> problems = problems(lines, List.of(mistake));
            found += problems.size();
            if (problems.size() > 1) {
                failures.add(mistake + "\n    "
                        + String.join(
                                "\n    ", problems.stream().map(Problem::line).toList()));
            }
        }
        assertThat(failures).isEmpty();
        assertThat(found).isGreaterThan(lines.size());
    }

    @ParameterizedTest
    @MethodSource("jobs")
    void two_mistakes_are_two_problems(String job) throws IOException {
        List<String> lines = lines(job);
        List<Mistake> mistakes = mistakes(lines);
        SplittableRandom random = new SplittableRandom(1);
        List<String> failures = new ArrayList<>();
        for (int i = 0; i < 100; i++) {
            Mistake one = mistakes.get(random.nextInt(mistakes.size()));
            Mistake other = mistakes.get(random.nextInt(mistakes.size()));
            if (one.line() == other.line() || one.changesTheRest(lines) || other.changesTheRest(lines)) {
                continue;
            }
            int alone = problems(lines, List.of(one)).size()
                    + problems(lines, List.of(other)).size();
            List<Problem> problems = problems(lines, List.of(one, other));
            boolean readable =
                    problems.stream().noneMatch(problem -> problem.code().equals("job.syntax"));
            if (readable && problems.size() != alone) {
                failures.add(alone + " but " + problems.size() + ": " + one + " " + other + "\n    "
                        + String.join(
                                "\n    ", problems.stream().map(Problem::line).toList()));
            }
        }
        assertThat(failures).isEmpty();
    }
}
