package org.evenstamp.samples.campaign;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.SplittableRandom;
import org.evenstamp.shared.progress.Progress;

/** Changed jobs, with changed maps of the film, materials and drops beside them: checked, and some of them run. */
final class JobTrial implements Trial {
    static final List<String> WORDS = List.of(
            "\n",
            "  ",
            ":",
            ": ",
            "- ",
            "{",
            "}",
            "[",
            "]",
            "\"",
            "'",
            "#",
            "|",
            ">",
            "&a ",
            "*a",
            "<<: *a",
            "!!binary ",
            "---\n",
            "\t",
            "null",
            "true",
            "~",
            "layout:",
            "tiles:",
            "side: \"1 nm\"",
            "side: \"1 m\"",
            "stamp:",
            "film:",
            "process:",
            "limits:",
            "dummy:",
            "output:",
            "directory: ../x",
            "material: nobody",
            "kind: roller",
            "kind: bonded-layer",
            "thickness: \"1e300 m\"",
            "\"1 m^99999999999\"",
            "\"1 m^-1/2\"",
            "\"0 nm\"",
            "\"-5 nm\"",
            "\"5 degC\"",
            "\"1e-320 Pa s\"",
            "\"NaN m\"",
            "\"1e400 m\"",
            "file: \"a\\0b\"",
            "file: \"\\ud800\"",
            "file: .",
            "file: /dev/zero",
            "\u001b[31m",
            "\ufeff",
            "é",
            "\\u0007",
            "?",
            "\"100000000000000000000000000000000000000 m\"",
            "thickness-map: film.csv",
            "materials: mine.tsv",
            "drop-map: drops.csv",
            "residual.local: {each: \">= 20 nm\"}",
            "where: {role: cavity}");

    private static final String JOB = """
            layout:
              file: layout.wkt
              unit: um
              drawn: cavities
            tiles:
              side: "100 um"
            stamp:
              kind: rigid
              depth: "150 nm"
            film:
              material: nobody
              thickness: "200 nm"
              viscosity: "3e3 Pa s"
            process:
              pressure: "2 MPa"
              hold: "60 s"
            etch:
              vertical-rate: "2 nm/s"
              lateral-rate: "0.1 nm/s"
            limits:
              residual.local: {each: ">= 20 nm", spread: "<= 50 nm"}
            """;
    private static final String FILM = "x_um,y_um,thickness_nm\n0,0,240\n1000,0,260\n0,1000,250\n1000,1000,255\n";
    private static final String MATERIALS = "film\tmine\tglass-temperature\t100 degC\t-\t-\t-\tmeasured\tus\n";
    private static final String DROPS = "x_um,y_um,volume_pL\n100,100,1\n500,500,1.5\n";
    private static final String LAYOUT =
            "POLYGON ((0 0, 300 0, 300 1000, 0 1000, 0 0))\nPOLYGON ((600 0, 1000 0, 1000 1000, 600 1000, 600 0))\n";

    private final int runOneIn;

    /** A trial that runs one in so many jobs. */
    JobTrial(int runOneIn) {
        this.runOneIn = runOneIn;
    }

    @Override
    public Verdict run(SplittableRandom random, Path directory, Progress progress) throws IOException {
        Mutator mutator = new Mutator(random, WORDS);
        String job = switch (random.nextInt(8)) {
            case 0 -> JOB.replace("thickness: \"200 nm\"", "thickness-map: film.csv");
            case 1 -> JOB.replace("material: nobody", "materials: mine.tsv\n  material: mine");
            case 2 -> JOB.replace("thickness: \"200 nm\"", "drop-map: drops.csv");
            case 3 -> json();
            default -> JOB.replace("  material: nobody\n", "");
        };
        boolean others = random.nextInt(3) == 0;
        byte[] changed =
                others ? job.getBytes(StandardCharsets.UTF_8) : mutator.mutate(job.getBytes(StandardCharsets.UTF_8));
        Path file = Files.write(directory.resolve(job.startsWith("{") ? "job.json" : "job.yaml"), changed);
        write(directory, "film.csv", FILM, others, mutator);
        write(directory, "mine.tsv", MATERIALS, others, mutator);
        write(directory, "drops.csv", DROPS, others, mutator);
        write(directory, "layout.wkt", LAYOUT, false, mutator);
        return random.nextInt(runOneIn) == 0
                ? Tool.run(
                        progress,
                        "run",
                        file,
                        "--quiet",
                        "--no-report",
                        "--threads",
                        1,
                        "--out",
                        directory.resolve("out"))
                : Tool.run(progress, "check", file);
    }

    private static void write(Path directory, String name, String text, boolean change, Mutator mutator)
            throws IOException {
        byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
        Files.write(directory.resolve(name), change ? mutator.mutate(bytes) : bytes);
    }

    private static String json() {
        return """
                {"layout": {"file": "layout.wkt", "unit": "um", "drawn": "cavities"},
                 "tiles": {"side": "100 um"},
                 "stamp": {"kind": "rigid", "depth": "150 nm"},
                 "film": {"thickness": "200 nm", "viscosity": "3e3 Pa s"},
                 "process": {"pressure": "2 MPa", "hold": "60 s"},
                 "limits": {"residual.local": {"each": ">= 20 nm"}}}
                """;
    }
}
