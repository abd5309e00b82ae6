package org.evenstamp.samples.campaign;

import java.io.IOException;
import java.io.InputStream;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.SplittableRandom;
import java.util.regex.Pattern;
import org.evenstamp.analysis.pipeline.FoundAnalysis;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.spi.AnalysisProvider;

/** Runs of a small job with a plug-in that misbehaves. */
final class PlugInTrial implements Trial {
    private static final String JOB = """
            layout: {file: layout.wkt, unit: um, drawn: cavities}
            tiles: {side: "250 um"}
            stamp: {depth: "150 nm"}
            """;
    private static final String LAYOUT =
            "POLYGON ((0 0, 300 0, 300 1000, 0 1000, 0 0))\nPOLYGON ((600 0, 1000 0, 1000 1000, 600 0))\n";
    private static final Pattern NO_NUMBER = Pattern.compile("[:,\\[] ?-?(NaN|Infinity)");

    private final Class<?> beast = new Foreign().beast();

    /** Loads the beast again, as the class of somebody else's jar. */
    private static final class Foreign extends ClassLoader {
        Foreign() {
            super(PlugInTrial.class.getClassLoader());
        }

        Class<?> beast() {
            String file = "/" + Beast.class.getName().replace('.', '/') + ".class";
            try (InputStream in = Objects.requireNonNull(Beast.class.getResourceAsStream(file), file)) {
                byte[] bytes = in.readAllBytes();
                return defineClass(Beast.class.getName(), bytes, 0, bytes.length);
            } catch (IOException e) {
                throw new IllegalStateException(e);
            }
        }
    }

    @Override
    public Verdict run(SplittableRandom random, Path directory, Progress progress) throws IOException {
        Path job = Files.writeString(directory.resolve("job.yaml"), JOB);
        Files.writeString(directory.resolve("layout.wkt"), LAYOUT);
        List<FoundAnalysis> analyses = new ArrayList<>(Tool.OURS);
        try {
            analyses.add(FoundAnalysis.of(
                    (AnalysisProvider) beast.getConstructor(Long.class).newInstance(random.nextLong()), "zoo.jar"));
        } catch (ReflectiveOperationException e) {
            throw new IllegalStateException(e);
        }
        Path out = directory.resolve("out");
        StringWriter said = new StringWriter();
        Verdict verdict =
                Tool.run(progress, said, analyses, "run", job, "--json", "--no-report", "--threads", 1, "--out", out);
        Thread.interrupted(); // a beast may have set it
        return switch (verdict.end()) {
            case TAKEN ->
                !Files.exists(out)
                        ? Verdict.found("done, and no results: " + said)
                        : NO_NUMBER.matcher(said.toString()).find()
                                ? Verdict.found("a result is not a number")
                                : verdict;
            case REFUSED -> Files.exists(out) ? Verdict.found("refused, and results are there") : verdict;
            default -> verdict;
        };
    }
}
