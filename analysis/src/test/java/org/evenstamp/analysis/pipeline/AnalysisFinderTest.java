package org.evenstamp.analysis.pipeline;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.tuple;

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
import java.util.Locale;
import java.util.Map;
import java.util.jar.JarEntry;
import java.util.jar.JarOutputStream;
import javax.tools.JavaCompiler;
import javax.tools.StandardJavaFileManager;
import javax.tools.ToolProvider;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Plug-ins here are compiled and packed on the spot, so their classes are nowhere but in their jars. */
class AnalysisFinderTest {
    private static final String SERVICES = "META-INF/services/" + AnalysisProvider.class.getName();

    @TempDir
    static Path classes;

    @TempDir
    Path temp;

    @BeforeAll
    static void compile() throws IOException {
        Map<String, String> sources = new LinkedHashMap<>();
        for (String name : List.of("Tilt", "Yaw", "Roll", "Pitch", "Fine")) {
            sources.put(name, provider(name, name.toLowerCase(Locale.ROOT)));
        }
        sources.put("One", provider("One", "same"));
        sources.put("Two", provider("Two", "same"));
        sources.put("Mumbler", provider("Mumbler", "Not An Id"));
        sources.put("Shy", provider("Shy", "shy").replace("public Shy()", "Shy()"));
        sources.put(
                "Thrower",
                provider("Thrower", "thrower")
                        .replace("Thrower() {}", "Thrower() { throw new IllegalStateException(\"not today\"); }"));
        List<File> files = new ArrayList<>();
        for (Map.Entry<String, String> source : sources.entrySet()) {
            files.add(Files.writeString(classes.resolve(source.getKey() + ".java"), source.getValue())
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
            List<String> options = List.of("-cp", shared, "-proc:none", "-d", classes.toString());
            boolean done = compiler.getTask(
                            messages, manager, null, options, null, manager.getJavaFileObjectsFromFiles(files))
                    .call();
            assertThat(done).as(messages.toString()).isTrue();
        }
    }

    @Test
    void ours_are_found_without_any_plug_in_directory() {
        assertThat(AnalysisFinder.find(List.of())).extracting(FoundAnalysis::id).contains("balance");
    }

    @Test
    void a_plug_in_is_found_after_ours_and_says_where_it_came_from() throws IOException {
        Path jar = plugin("plugins/tilt.jar", "Tilt");

        List<FoundAnalysis> found = AnalysisFinder.find(List.of(temp.resolve("plugins")));

        FoundAnalysis last = found.get(found.size() - 1);
        assertThat(last.id()).isEqualTo("tilt");
        assertThat(last.origin()).isEqualTo(jar.toRealPath().toString());
        assertThat(found).extracting(FoundAnalysis::id).contains("balance");
    }

    @Test
    void plug_ins_of_several_jars_and_directories_come_in_a_fixed_order() throws IOException {
        plugin("b/y.jar", "Yaw");
        plugin("b/x.jar", "Roll");
        plugin("a/z.jar", "Pitch");

        List<FoundAnalysis> found = AnalysisFinder.find(List.of(temp.resolve("b"), temp.resolve("a")));

        assertThat(found).extracting(FoundAnalysis::id).endsWith("roll", "yaw", "pitch");
    }

    @Test
    void a_library_may_lie_beside_the_plug_in() throws IOException {
        plugin("plugins/tilt.jar", "Tilt");
        jar(temp.resolve("plugins/library.jar"), "readme.txt", "no analysis in here".getBytes(StandardCharsets.UTF_8));

        assertThat(AnalysisFinder.find(List.of(temp.resolve("plugins"))))
                .extracting(FoundAnalysis::id)
                .contains("tilt");
    }

    @Test
    void two_plug_ins_with_one_id_are_refused_naming_classes_and_jars() throws IOException {
        plugin("plugins/one.jar", "One");
        plugin("plugins/two.jar", "Two");

        assertThatThrownBy(() -> AnalysisFinder.find(List.of(temp.resolve("plugins"))))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("class One")
                .hasMessageContaining("one.jar")
                .hasMessageContaining("class Two")
                .hasMessageContaining("two.jar");
    }

    @Test
    void a_second_copy_of_a_plug_in_is_refused_naming_both_jars() throws IOException {
        Path jar = plugin("a/tilt.jar", "Tilt");
        Files.createDirectories(temp.resolve("b"));
        Files.copy(jar, temp.resolve("b/tilt-old.jar"));

        assertThatThrownBy(() -> AnalysisFinder.find(List.of(temp.resolve("a"), temp.resolve("b"))))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("two analyses have the id tilt")
                .hasMessageContaining("tilt-old.jar");
    }

    @Test
    void the_same_directory_named_twice_is_read_once() throws IOException {
        plugin("plugins/tilt.jar", "Tilt");
        Path directory = temp.resolve("plugins");

        assertThat(AnalysisFinder.find(List.of(directory, temp.resolve("plugins/../plugins"))))
                .filteredOn(found -> found.id().equals("tilt"))
                .hasSize(1);
    }

    @Test
    void every_broken_plug_in_is_named_at_once() throws IOException {
        Path directory = Files.createDirectories(temp.resolve("plugins"));
        plugin("plugins/fine.jar", "Fine");
        jar(directory.resolve("absent.jar"), SERVICES, "no.such.Thing # gone\n".getBytes(StandardCharsets.UTF_8));
        jar(directory.resolve("alien.jar"), SERVICES, "java.lang.Object\n".getBytes(StandardCharsets.UTF_8));
        Files.writeString(directory.resolve("garbled.jar"), "this is not a jar");
        plugin("plugins/thrower.jar", "Thrower");
        plugin("plugins/mumbler.jar", "Mumbler");
        plugin("plugins/shy.jar", "Shy");

        InputException thrown =
                catchThrowableOfType(InputException.class, () -> AnalysisFinder.find(List.of(directory)));

        assertThat(thrown.problems()).extracting(Problem::code).containsOnly("plugin.broken");
        assertThat(thrown.problems()).hasSize(6);
        assertThat(thrown)
                .hasMessageContaining("absent.jar: the analysis class no.such.Thing is named in")
                .hasMessageContaining("alien.jar: the analysis class java.lang.Object is not an AnalysisProvider")
                .hasMessageContaining("garbled.jar: cannot read this jar")
                .hasMessageContaining("not today")
                .hasMessageContaining("Mumbler cannot describe itself")
                .hasMessageContaining("Shy is not a public class with a public constructor");
    }

    @Test
    void a_missing_directory_and_one_without_analyses_are_named() throws IOException {
        Path empty = Files.createDirectories(temp.resolve("empty"));
        Path file = Files.writeString(temp.resolve("file.jar"), "");
        Path missing = temp.resolve("missing");

        InputException thrown =
                catchThrowableOfType(InputException.class, () -> AnalysisFinder.find(List.of(empty, file, missing)));

        assertThat(thrown.problems())
                .extracting(Problem::code, Problem::place)
                .containsExactly(
                        tuple("plugin.none", empty.toString()),
                        tuple("plugin.directory", file.toString()),
                        tuple("plugin.directory", missing.toString()));
    }

    private Path plugin(String jar, String className) throws IOException {
        Path target = temp.resolve(jar);
        Files.createDirectories(target.getParent());
        try (OutputStream out = Files.newOutputStream(target);
                JarOutputStream entries = new JarOutputStream(out)) {
            entries.putNextEntry(new JarEntry(className + ".class"));
            Files.copy(classes.resolve(className + ".class"), entries);
            entries.putNextEntry(new JarEntry(SERVICES));
            entries.write(className.getBytes(StandardCharsets.UTF_8));
        }
        return target;
    }

    private static String provider(String className, String id) {
        return """
                import java.util.List;
                import org.evenstamp.shared.field.FieldName;
                import org.evenstamp.shared.spi.*;

                public class NAME implements AnalysisProvider {
                    public NAME() {}

                    public AnalysisDescription description() {
                        return new AnalysisDescription("ID", "made for a test", List.of(), List.of(), List.of(),
                                List.of(FieldName.of("NAME".toLowerCase() + ".value", "1", "nothing")));
                    }

                    public Analysis create(Parameters parameters) {
                        return context -> AnalysisResult.of(List.of());
                    }
                }
                """.replace("NAME", className).replace("ID", id);
    }

    private static void jar(Path jar, String entry, byte[] content) throws IOException {
        try (OutputStream out = Files.newOutputStream(jar);
                JarOutputStream entries = new JarOutputStream(out)) {
            entries.putNextEntry(new JarEntry(entry));
            entries.write(content);
        }
    }
}
