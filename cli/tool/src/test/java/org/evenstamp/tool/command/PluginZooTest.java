package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.File;
import java.io.IOException;
import java.io.OutputStream;
import java.io.StringWriter;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.jar.JarEntry;
import java.util.jar.JarOutputStream;
import java.util.stream.Stream;
import javax.tools.JavaCompiler;
import javax.tools.StandardJavaFileManager;
import javax.tools.ToolProvider;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.analysis.pipeline.FoundAnalysis;
import org.evenstamp.engine.run.RememberedAnalysis;
import org.evenstamp.engine.run.StageMemory;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.tool.Main;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Whatever a plug-in does is told as that plug-in's doing, and never passes for a result. */
@Timeout(120)
class PluginZooTest {
    private static final String SERVICES = "META-INF/services/" + AnalysisProvider.class.getName();
    private static final String SNEAK =
            "@SuppressWarnings(\"unchecked\") static <T extends Throwable> RuntimeException sneak(Throwable t) throws T {"
                    + " throw (T) t; }\n";

    @TempDir
    static Path classes;

    @TempDir
    Path temp;

    private final TriedTool tool = new TriedTool();
    private Path job = Path.of("");

    /** Beasts by name: what the body of the analysis, of the maker, of the description and of its lists does. */
    private static final Map<String, String[]> BEASTS = new LinkedHashMap<>();

    static {
        beast("Fine", "", "", "");
        beast("Checked", "throw ZooSneak.sneak(new java.io.IOException(\"no such thing\"));", "", "");
        beast("CheckedMaker", "", "throw ZooSneak.sneak(new java.io.IOException(\"no such thing\"));", "");
        beast("CheckedSelf", "", "", "throw ZooSneak.sneak(new java.io.IOException(\"no such thing\"));");
        beast("CheckedFigures", "", "", "", "throw ZooSneak.sneak(new java.io.IOException(\"no such thing\"));", "");
        beast("NothingFigures", "", "", "", "if (true) return null;", "");
        beast("LoudQuiet", "", "", "", "", "throw ZooSneak.sneak(new java.io.IOException(\"no such thing\"));");
        beast("HollowFigures", "", "", "", "if (true) return java.util.Arrays.asList((FieldName) null);", "");
        beast("Assertion", "throw new AssertionError(\"no such thing\");", "", "");
        beast("AssertionMaker", "", "throw new AssertionError(\"no such thing\");", "");
        beast("AssertionSelf", "", "", "throw new AssertionError(\"no such thing\");");
        beast("Deep", "return run(context);", "", "");
        beast("Greedy", "throw new OutOfMemoryError(\"no such thing\");", "", "");
        beast("Unlinked", "throw new NoClassDefFoundError(\"no.such.thing\");", "", "");
        beast("Dying", "throw new ThreadDeath();", "", "");
        beast("Nothing", "if (true) return null;", "", "");
        beast("NothingMaker", "", "if (true) return null;", "");
        beast("NothingSelf", "", "", "if (true) return null;");
        beast(
                "Mute",
                "throw new RuntimeException() { public String toString() { throw new IllegalStateException(); } };",
                "",
                "");
        beast("Cancelling", "throw new org.evenstamp.shared.progress.CancelledException();", "", "");
        beast(
                "Loop",
                "RuntimeException a = new RuntimeException(\"no such thing\"); Exception b = new Exception(a);"
                        + " a.initCause(b); throw a;",
                "",
                "");
        beast("Nowhere", warning("\"somewhere\"", "new Place.Tile(0, 0, Double.NaN, 0)"), "", "");
        beast("Endless", figure("zoo.length", "1.7e308"), "", "");
        beast("Vast", "if (true) return vast(context);", "", "");
        beast("Escaping", curve("../../escaped"), "", "");
        beast("Voiceless", curve("zoo.\\0"), "", "");
        beast("Speechless", warning("null", "new Place.WholeStamp()"), "", "");
        beast("HalfCharacter", warning("\"half \\ud800 a character\"", "new Place.WholeStamp()"), "", "");
        beast("Interrupting", "Thread.currentThread().interrupt();", "", "");
        beast("Exit", "System.exit(0);", "", "");
        beast("ExitMaker", "", "System.exit(0);", "");
        beast("ExitSelf", "", "", "Runtime.getRuntime().exit(0);");
        beast("Lingering", "Thread t = new Thread(() -> { while (true) Thread.onSpinWait(); }); t.start();", "", "");
    }

    private static String warning(String message, String place) {
        return "if (true) return new AnalysisResult(result(context).fields(), List.of(), List.of(), List.of(new"
                + " Finding.Warning(\"zoo\", \"zoo.warning\", " + message + ", " + place + ")));";
    }

    private static String figure(String id, String metres) {
        return "if (true) return new AnalysisResult(result(context).fields(), List.of(Figure.of(\"" + id + "\", "
                + metres + ", \"nm\", \"a length\")), List.of(), List.of());";
    }

    private static String curve(String id) {
        return "if (true) return new AnalysisResult(result(context).fields(), List.of(), List.of(new Curve(\"" + id
                + "\", \"a curve\", List.of(new Curve.Column(\"time\", \"s\", new double[1])))), List.of());";
    }

    private static void beast(String name, String run, String make, String describe) {
        beast(name, run, make, describe, "", "");
    }

    private static void beast(String name, String run, String make, String describe, String figures, String quiet) {
        BEASTS.put(name, new String[] {run, make, describe, figures, quiet});
    }

    @BeforeAll
    static void compile() throws IOException {
        List<File> files = new ArrayList<>();
        files.add(Files.writeString(
                        classes.resolve("ZooSneak.java"),
                        "public class ZooSneak { " + SNEAK.replace("static <T", "public static <T") + "}")
                .toFile());
        for (Map.Entry<String, String[]> beast : BEASTS.entrySet()) {
            String source = """
                    import java.util.List;
                    import org.evenstamp.shared.field.*;
                    import org.evenstamp.shared.finding.*;
                    import org.evenstamp.shared.spi.*;

                    public class NAME implements AnalysisProvider {
                        static final FieldName GIVEN = FieldName.of("zoo.value", "1", "nothing");

                        public AnalysisDescription description() {
                            DESCRIBE
                            return new AnalysisDescription("zoo", "made for a test", List.of(), List.of(), List.of(),
                                    List.of(GIVEN));
                        }

                        public List<FieldName> limitableFigures() {
                            FIGURES
                            return List.of();
                        }

                        public List<String> quietWithout() {
                            QUIET
                            return List.of();
                        }

                        public Analysis create(Parameters parameters) {
                            MAKE
                            return this::run;
                        }

                        AnalysisResult run(AnalysisContext context) {
                            RUN
                            return result(context);
                        }

                        AnalysisResult vast(AnalysisContext context) {
                            double[] values = new double[context.grid().size()];
                            values[0] = 1.7e308;
                            values[1] = 1.7e308;
                            return AnalysisResult.of(List.of(Field.of(GIVEN, context.grid(), values)));
                        }

                        AnalysisResult result(AnalysisContext context) {
                            return AnalysisResult.of(
                                    List.of(Field.of(GIVEN, context.grid(), new double[context.grid().size()])));
                        }
                    }
                    """.replace("NAME", beast.getKey())
                    .replace("RUN", guarded(beast.getValue()[0]))
                    .replace("MAKE", guarded(beast.getValue()[1]))
                    .replace("DESCRIBE", guarded(beast.getValue()[2]))
                    .replace("FIGURES", guarded(beast.getValue()[3]))
                    .replace("QUIET", guarded(beast.getValue()[4]));
            files.add(Files.writeString(classes.resolve(beast.getKey() + ".java"), source)
                    .toFile());
        }
        JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
        StringWriter messages = new StringWriter();
        String shared = Path.of(URI.create(AnalysisProvider.class
                        .getProtectionDomain()
                        .getCodeSource()
                        .getLocation()
                        .toString()))
                .toString();
        try (StandardJavaFileManager manager = compiler.getStandardFileManager(null, null, null)) {
            List<String> options = List.of("-nowarn", "-cp", shared, "-proc:none", "-d", classes.toString());
            boolean done = compiler.getTask(
                            messages, manager, null, options, null, manager.getJavaFileObjectsFromFiles(files))
                    .call();
            assertThat(done).as(messages.toString()).isTrue();
        }
    }

    /** A statement after which the compiler still thinks that something follows. */
    private static String guarded(String statement) {
        return statement.startsWith("throw") || statement.startsWith("return") || statement.contains(" throw a;")
                ? "if (Integer.parseInt(\"1\") == 1) { " + statement + " }"
                : statement;
    }

    private Path plugins(String name) throws IOException {
        Path directory = Files.createDirectories(temp.resolve("plugins"));
        try (OutputStream out = Files.newOutputStream(directory.resolve("zoo.jar"));
                JarOutputStream entries = new JarOutputStream(out);
                Stream<Path> all = Files.list(classes)) {
            for (Path file :
                    all.filter(path -> path.toString().endsWith(".class")).toList()) {
                entries.putNextEntry(new JarEntry(file.getFileName().toString()));
                Files.copy(file, entries);
            }
            entries.putNextEntry(new JarEntry(SERVICES));
            entries.write(name.getBytes(StandardCharsets.UTF_8));
        }
        job = temp.resolve("starter").resolve("job.yaml");
        assertThat(new TriedTool().run("new", temp.resolve("starter"))).isZero();
        return directory;
    }

    private int run(String name) throws IOException {
        return tool.run("run", job(name), "--plugins", temp.resolve("plugins"), "--out", temp.resolve("out"));
    }

    private Path job(String name) throws IOException {
        plugins(name);
        return job;
    }

    @ParameterizedTest
    @ValueSource(strings = {"Fine", "HalfCharacter", "Interrupting"})
    void what_does_no_harm_runs(String name) throws IOException {
        assertThat(run(name)).as(tool.err.toString()).isZero();

        assertThat(temp.resolve("out").resolve("result.json")).content().contains("zoo.value");
    }

    @ParameterizedTest
    @CsvSource({
        "Checked, java.io.IOException: no such thing",
        "CheckedMaker, java.io.IOException: no such thing",
        "Assertion, java.lang.AssertionError: no such thing",
        "AssertionMaker, java.lang.AssertionError: no such thing",
        "Deep, java.lang.StackOverflowError",
        "Unlinked, java.lang.NoClassDefFoundError: no.such.thing",
        "Dying, java.lang.ThreadDeath",
        "Nothing, returned null",
        "NothingMaker, made nothing",
        "Mute, failed: Mute$1",
        "Cancelling, CancelledException",
        "Loop, java.lang.RuntimeException: no such thing",
        "Nowhere, a place that is no number",
        "Speechless, the message of a warning",
        "Endless, the figure zoo.length that is no number of nm",
        "Vast, the field zoo.value that is no number of 1",
        "Escaping, delivered a curve",
        "Voiceless, delivered a curve"
    })
    void what_fails_is_named_as_the_plug_ins_defect_and_leaves_no_result(String name, String what) throws IOException {
        assertThat(run(name)).isEqualTo(3);

        assertThat(tool.err.toString())
                .contains("error: a defect of a plug-in: the analysis zoo (class " + name + " in ")
                .contains("zoo.jar) ")
                .contains(what)
                .doesNotContain("defect of evenstamp")
                .doesNotContain("\tat ");
        assertThat(temp.resolve("out")).doesNotExist();
    }

    @ParameterizedTest
    @CsvSource({
        "CheckedSelf, cannot describe itself: java.io.IOException: no such thing",
        "AssertionSelf, cannot describe itself: java.lang.AssertionError: no such thing",
        "NothingSelf, its description is null",
        "CheckedFigures, cannot describe itself: java.io.IOException: no such thing",
        "LoudQuiet, cannot describe itself: java.io.IOException: no such thing",
        "NothingFigures, its list of figures that a job may limit is null",
        "HollowFigures, its list of figures that a job may limit is null"
    })
    void what_cannot_describe_itself_is_named(String name, String what) throws IOException {
        assertThat(run(name)).isEqualTo(3);

        assertThat(tool.err.toString())
                .contains("zoo.jar: the analysis class " + name + " ")
                .contains(what);
    }

    @Test
    void what_is_remembered_from_run_to_run_is_still_named_as_the_plug_ins() throws IOException {
        FoundAnalysis zoo = AnalysisFinder.find(List.of(plugins("Fine"))).stream()
                .filter(found -> found.id().equals("zoo"))
                .findFirst()
                .orElseThrow();

        FoundAnalysis remembered = RememberedAnalysis.of(zoo, new StageMemory(2));

        assertThat(remembered.plugIn()).isTrue();
        assertThat(remembered.declaredBy().getName()).isEqualTo("Fine");
    }

    @Test
    void what_takes_all_memory_is_told_with_its_name() throws IOException {
        assertThat(run("Greedy")).isEqualTo(3);

        assertThat(tool.err.toString())
                .contains("memory")
                .contains("at the analysis zoo")
                .contains("-Xmx");
    }

    @ParameterizedTest
    @ValueSource(strings = {"Exit", "ExitMaker", "ExitSelf"})
    void what_ends_the_program_does_not_pass_for_a_success(String name) throws IOException, InterruptedException {
        Path first = job(name);
        Process process = start("run", first, "--plugins", temp.resolve("plugins"), "--out", temp.resolve("out"));
        String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);

        assertThat(process.waitFor()).as(said).isEqualTo(3);
        assertThat(said)
                .contains("a plug-in ended the program before its time: " + name + ".")
                .contains("nothing was written");
        try (Stream<Path> left = Files.list(temp)) {
            assertThat(left.map(path -> path.getFileName().toString())).containsExactlyInAnyOrder("plugins", "starter");
        }
    }

    @Test
    void a_thread_that_a_plug_in_leaves_behind_does_not_keep_the_program() throws IOException, InterruptedException {
        Path first = job("Lingering");
        Process process =
                start("run", first, "--quiet", "--plugins", temp.resolve("plugins"), "--out", temp.resolve("out"));
        String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);

        assertThat(process.waitFor()).as(said).isZero();
    }

    private static Process start(Object... arguments) throws IOException {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:TieredStopAtLevel=1",
                "-cp",
                System.getProperty("java.class.path"),
                Main.class.getName()));
        Stream.of(arguments).map(Object::toString).forEach(command::add);
        return new ProcessBuilder(command).redirectErrorStream(true).start();
    }
}
