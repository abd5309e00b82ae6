package org.evenstamp.samples.campaign;

import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileTime;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import org.evenstamp.shared.progress.Progress;

/**
 * Changed jobs, with changed maps of the film, materials, drops and readings beside them: checked, and some of them given to
 * one of the verbs that compute.
 */
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
            "where: {role: cavity}",
            "design: grid",
            "samples: 1",
            "values: [\"1 MPa\", \"2 MPa\"]",
            "- {key: film.viscosity, factor: 3}",
            "- {key: process.pressure, mean: \"2 MPa\", deviation: \"0.1 MPa\"}",
            "keep: [residual.final]");

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

    private static final String READINGS = "x_mm,y_mm,residual_nm\n0.1,0.1,100\n0.5,0.5,110\n0.9,0.9,105\n";

    /** A verb, and the section of a job that it reads. */
    private enum Verb {
        CHECK(""),
        RUN(""),
        WATCH(""),
        FILM("  target-residual: \"150 nm\"\n"),
        RECIPE(""),
        DUMMY("dummy:\n  size: \"8 um\"\n  gap: \"4 um\"\n  spacing: \"6 um\"\n"),
        LEVERS("""
                dummy:
                  size: "8 um"
                  gap: "4 um"
                  spacing: "6 um"
                  post-depth: "150 nm"
                  post-size: "4 um"
                  post-gap: "4 um"
                """),
        SENSITIVITY(""),
        DROPS("drops:\n  residual: \"100 nm\"\n  volume: \"1 pL\"\n  pitch: \"20 um\"\n"),
        SWEEP("""
                sweep:
                  samples: 3
                  keep: [residual.final]
                  vary:
                    - {key: film.viscosity, median: "3e3 Pa s", factor: 3}
                    - {key: process.pressure, from: "1 MPa", to: "3 MPa"}
                """),
        CALIBRATE("""
                calibrate:
                  deviation: "2 nm"
                  free:
                    - {key: film.viscosity, factor: 3}
                """);

        private final String section;

        Verb(String section) {
            this.section = section;
        }

        /** Puts its section into a job in YAML. */
        String into(String job) {
            return this == FILM ? job.replace("process:\n", section + "process:\n") : job + section;
        }
    }

    private final int computeOneIn;

    /** A trial that computes one in so many jobs. */
    JobTrial(int computeOneIn) {
        this.computeOneIn = computeOneIn;
    }

    @Override
    public Verdict run(SplittableRandom random, Path directory, Progress progress) throws IOException {
        Mutator mutator = new Mutator(random, WORDS);
        Verb any = Verb.values()[random.nextInt(Verb.values().length)];
        Verb verb = random.nextInt(computeOneIn) == 0 ? any : Verb.CHECK;
        String job = switch (random.nextInt(8)) {
            case 0 -> any.into(JOB.replace("thickness: \"200 nm\"", "thickness-map: film.csv"));
            case 1 -> any.into(JOB.replace("material: nobody", "materials: mine.tsv\n  material: mine"));
            case 2 -> any.into(JOB.replace("thickness: \"200 nm\"", "drop-map: drops.csv"));
            case 3 -> json();
            default -> any.into(JOB.replace("  material: nobody\n", ""));
        };
        boolean others = random.nextInt(3) == 0;
        byte[] given = job.getBytes(StandardCharsets.UTF_8);
        byte[] changed = others ? given : mutator.mutate(given);
        Path file = Files.write(directory.resolve(job.startsWith("{") ? "job.json" : "job.yaml"), changed);
        write(directory, "film.csv", FILM, others, mutator);
        write(directory, "mine.tsv", MATERIALS, others, mutator);
        write(directory, "drops.csv", DROPS, others, mutator);
        write(directory, "readings.csv", READINGS, others, mutator);
        write(directory, "layout.wkt", LAYOUT, false, mutator);
        return verb == Verb.CHECK && random.nextInt(10) > 0
                ? Tool.check(file)
                : tried(verb, file, mutator.mutate(given), progress);
    }

    private static Verdict tried(Verb verb, Path file, byte[] later, Progress progress) {
        String name = verb.name().toLowerCase(Locale.ROOT);
        Path out = file.resolveSibling("out");
        return switch (verb) {
            case CHECK -> Tool.run(progress, name, file);
            case RECIPE, FILM -> Tool.run(progress, name, file, "--threads", 1);
            case CALIBRATE ->
                Tool.run(progress, name, file, file.resolveSibling("readings.csv"), "--threads", 1, "--json");
            case SWEEP -> Tool.run(progress, name, file, "--threads", 1, "--out", out);
            case WATCH ->
                Tool.run(
                        progress,
                        new Rewriter(file, later, progress),
                        name,
                        file,
                        "--no-report",
                        "--threads",
                        1,
                        "--out",
                        out);
            case LEVERS -> Tool.run(progress, "dummy", file, "--levers", "--no-report", "--threads", 1, "--out", out);
            case RUN, DUMMY, SENSITIVITY, DROPS ->
                Tool.run(progress, name, file, "--no-report", "--threads", 1, "--out", out);
        };
    }

    /** Listens to a watch: once it waits, writes another job; once it waits again, stops it. */
    private static final class Rewriter extends StringWriter {
        private final Path file;
        private final byte[] later;
        private final Progress progress;
        private boolean written;

        Rewriter(Path file, byte[] later, Progress progress) {
            this.file = file;
            this.later = later;
            this.progress = progress;
        }

        @Override
        public void flush() {
            boolean waits = getBuffer().lastIndexOf("watching ") >= 0;
            if (!waits) {
                return;
            }
            if (written) {
                progress.cancel();
                return;
            }
            written = true;
            getBuffer().setLength(0);
            try {
                Files.write(file, later);
                Files.writeString(file, "\n", StandardOpenOption.APPEND); // another file even where nothing was changed
                Files.setLastModifiedTime(file, FileTime.fromMillis(1)); // a change that no clock can hide
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }
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
