package org.evenstamp.samples.campaign;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.SplittableRandom;
import org.evenstamp.shared.progress.Progress;

/** Changed directories of results, compared with the results they were. */
final class ResultsTrial implements Trial {
    private static final List<String> WORDS = List.of(
            "{",
            "}",
            "[",
            "]",
            ",",
            ":",
            "\"",
            "null",
            "true",
            "\"grid\"",
            "\"columns\": 2147483647",
            "\"rows\": 46341",
            "\"schema\": 99",
            "\"unit\": \"furlong\"",
            "\"place\": 7",
            "NUMPY",
            "'shape': (1, 1)",
            "PK\u0003\u0004",
            "\\ud800",
            "\u0000");

    private final Path original;

    /** A trial on copies of these results. */
    ResultsTrial(Path original) {
        this.original = original;
    }

    @Override
    public Verdict run(SplittableRandom random, Path directory, Progress progress) throws IOException {
        Mutator mutator = new Mutator(random, WORDS);
        String changed = random.nextInt(2) == 0 ? "result.json" : "fields.npz";
        for (String name : List.of("result.json", "fields.npz")) {
            byte[] bytes = Files.readAllBytes(original.resolve(name));
            Files.write(directory.resolve(name), name.equals(changed) ? mutator.mutate(bytes) : bytes);
        }
        return Tool.run(progress, "compare", original, directory, "--json");
    }
}
