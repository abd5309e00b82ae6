package org.evenstamp.tool;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.File;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import javax.tools.Diagnostic;
import javax.tools.DiagnosticCollector;
import javax.tools.JavaCompiler;
import javax.tools.JavaFileObject;
import javax.tools.StandardJavaFileManager;
import javax.tools.ToolProvider;
import org.evenstamp.output.file.PublishedSchemas;
import org.evenstamp.tool.command.TriedTool;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The programs of docs/java.md as they stand there, each compiled and run as a process, and what it prints. */
class JavaGuideTest {
    private static final Path GUIDE = Path.of("../../docs/java.md");

    /** What the engine stands on; a program that uses it alone needs nothing else of ours. */
    private static final List<String> BELOW_OUTPUT = List.of("cli/engine", "analysis", "geometry", "shared");

    @TempDir
    Path directory;

    /**
     * A program of the guide.
     *
     * @param title of its section
     * @param source its lines
     * @param printed what the guide says that it prints; empty where it says nothing
     */
    private record Program(String title, String source, String printed) {
        @Override
        public String toString() {
            return title;
        }
    }

    static List<Program> programs() throws IOException {
        Matcher blocks = Pattern.compile("(?s)## ([^\n]*)\n(?:(?!## ).)*?```java\n(.*?)```\n(?:\n```\n(.*?)```\n)?")
                .matcher(Files.readString(GUIDE));
        return blocks.results()
                .map(block -> new Program(block.group(1), block.group(2), block.group(3) == null ? "" : block.group(3)))
                .toList();
    }

    /** Makes a class of it: imports stay at the top, the rest becomes its main method. */
    private static String asClass(String source) {
        List<String> lines = source.lines().toList();
        Stream<String> imports = lines.stream().filter(line -> line.startsWith("import "));
        Stream<String> body = lines.stream().filter(line -> !line.startsWith("import "));
        return imports.collect(Collectors.joining("\n"))
                + "\nclass Guide {\npublic static void main(String[] arguments) throws Exception {\n"
                + body.collect(Collectors.joining("\n")) + "\n}\n}\n";
    }

    private static List<String> classPath(boolean engineAlone) {
        String ours = Path.of("../..").toAbsolutePath().normalize() + File.separator;
        return Stream.of(System.getProperty("java.class.path").split(File.pathSeparator))
                .filter(entry -> !engineAlone
                        || (entry.startsWith(ours)
                                ? BELOW_OUTPUT.stream().anyMatch(room -> entry.startsWith(ours + room))
                                : !entry.contains("picocli") && !entry.contains("webjars")))
                .toList();
    }

    private String run(Program program, boolean engineAlone) throws IOException, InterruptedException {
        Path source = Files.writeString(directory.resolve("Guide.java"), asClass(program.source()));
        String path = String.join(File.pathSeparator, classPath(engineAlone));
        JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
        DiagnosticCollector<JavaFileObject> found = new DiagnosticCollector<>();
        try (StandardJavaFileManager files = compiler.getStandardFileManager(found, null, StandardCharsets.UTF_8)) {
            compiler.getTask(
                            null,
                            files,
                            found,
                            List.of("-cp", path, "-d", directory.toString(), "-proc:none"),
                            null,
                            files.getJavaFileObjects(source))
                    .call();
        }
        assertThat(found.getDiagnostics().stream()
                        .filter(diagnostic -> diagnostic.getKind() == Diagnostic.Kind.ERROR)
                        .map(Object::toString))
                .isEmpty();
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:TieredStopAtLevel=1",
                "-Duser.language=en",
                "-cp",
                directory + File.pathSeparator + path,
                "Guide"));
        Process process = new ProcessBuilder(command)
                .directory(directory.toFile())
                .redirectErrorStream(true)
                .start();
        String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertThat(process.waitFor()).as(said).isZero();
        return said.replace(System.lineSeparator(), "\n");
    }

    @ParameterizedTest
    @MethodSource("programs")
    void every_program_of_the_guide_compiles_runs_and_prints_what_stands_below_it(Program program)
            throws IOException, InterruptedException {
        assertThat(new TriedTool().run("new", directory.resolve("first"))).isZero();
        boolean engineAlone = !program.source().contains("org.evenstamp.output");

        String printed = run(program, engineAlone);
        if (Boolean.getBoolean("golden.update") && !program.printed().isEmpty()) {
            String guide = Files.readString(GUIDE);
            Files.writeString(GUIDE, guide.replace("```\n" + program.printed() + "```", "```\n" + printed + "```"));
        } else {
            assertThat(printed)
                    .as("with -Dgolden.update=true the guide takes it over")
                    .isEqualTo(program.printed());
        }
    }

    @Test
    void the_engine_alone_brings_no_files_pages_or_command_line() throws IOException, InterruptedException {
        Program program = new Program("none of these", """
                for (String name : new String[] {
                    "org.evenstamp.engine.run.Simulation", "org.evenstamp.output.page.ReportPage",
                    "org.evenstamp.tool.Main", "picocli.CommandLine"}) {
                    try {
                        System.out.println(Class.forName(name).getSimpleName());
                    } catch (ClassNotFoundException e) {
                        System.out.println("-");
                    }
                }
                """, "");

        assertThat(run(program, true)).isEqualTo("Simulation\n-\n-\n-\n");
    }

    @Test
    void the_guide_measures_runs_varies_reads_and_writes_in_about_ten_lines_each() throws IOException {
        assertThat(programs())
                .extracting(Program::title)
                .containsExactly(
                        "Measure a layout",
                        "Run a job",
                        "Vary a key",
                        "Read a field",
                        "Write the report and the results");
        assertThat(programs())
                .allSatisfy(program -> assertThat(
                                program.source().lines().filter(line -> !line.startsWith("import ") && !line.isBlank()))
                        .hasSizeBetween(3, 10));
    }

    @Test
    void what_the_guide_writes_is_what_the_tool_writes() throws IOException, InterruptedException {
        TriedTool tool = new TriedTool();
        assertThat(tool.run("new", directory.resolve("first"))).isZero();
        run(programs().get(4), false);
        assertThat(tool.run("run", directory.resolve("first/job.yaml"), "--out", directory.resolve("tool"), "--quiet"))
                .isZero();

        PublishedSchemas.checkUnder(directory);
        for (String name : List.of("result.json", "tiles.csv", "fields.npz", "findings.sarif", "report.html")) {
            assertThat(directory.resolve("out").resolve(name))
                    .hasSameBinaryContentAs(directory.resolve("tool").resolve(name));
        }
    }
}
