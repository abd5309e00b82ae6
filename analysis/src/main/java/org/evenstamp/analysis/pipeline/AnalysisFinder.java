package org.evenstamp.analysis.pipeline;

import java.io.IOException;
import java.lang.reflect.InvocationTargetException;
import java.net.MalformedURLException;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.CodeSource;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.ServiceConfigurationError;
import java.util.ServiceLoader;
import java.util.jar.JarFile;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.spi.AnalysisProvider;

/**
 * Finds analyses: ours on the class path, a stranger's in the jars of plug-in directories. Both are named in the same
 * services file and come in by the same interface.
 *
 * <p>All jars of all plug-in directories share one class loader whose parent is ours, so a plug-in may bring libraries
 * beside it. The services files of the jars are read one by one, not through {@link ServiceLoader}, which would merge
 * them and could no longer say which jar is at fault.
 */
public final class AnalysisFinder {
    private static final String SERVICES = "META-INF/services/" + AnalysisProvider.class.getName();

    private AnalysisFinder() {}

    /**
     * Finds all analyses: first those of the class path in the order of its services files, then those of the plug-in
     * directories in the order given, jars by name. The classes stay loaded as long as a returned provider is in use.
     *
     * @param pluginDirectories directories of jars; each must hold at least one provider
     * @throws InputException naming every directory that is missing or without a provider, every jar or class that cannot
     *     be loaded, and every pair of analyses that cannot run together
     */
    public static List<FoundAnalysis> find(List<Path> pluginDirectories) {
        Problems problems = new Problems();
        List<FoundAnalysis> found = new ArrayList<>();
        findOnClassPath(found, problems);
        findInJars(pluginDirectories, found, problems);
        Compatibility.check(found, problems);
        problems.throwIfAny();
        return List.copyOf(found);
    }

    private static void findOnClassPath(List<FoundAnalysis> found, Problems problems) {
        Iterator<AnalysisProvider> providers = ServiceLoader.load(
                        AnalysisProvider.class, AnalysisProvider.class.getClassLoader())
                .iterator();
        while (true) {
            try {
                if (!providers.hasNext()) {
                    return;
                }
                AnalysisProvider provider = providers.next();
                describe(provider, origin(provider.getClass()), found, problems);
            } catch (ServiceConfigurationError e) {
                problems.add(
                        "plugin.broken",
                        "class path",
                        "an analysis cannot be loaded: " + e.getMessage(),
                        "remove its jar");
            }
        }
    }

    private static String origin(Class<?> type) {
        CodeSource source = type.getProtectionDomain().getCodeSource();
        return source == null || source.getLocation() == null
                ? "the class path"
                : source.getLocation().getPath();
    }

    private static void findInJars(List<Path> directories, List<FoundAnalysis> found, Problems problems) {
        Map<Path, List<String>> classNamesByJar = new LinkedHashMap<>();
        for (Path directory : directories) {
            Map<Path, List<String>> here = new LinkedHashMap<>();
            int before = problems.all().size();
            for (Path jar : jars(directory, problems)) {
                readServices(jar, here, problems);
            }
            if (here.values().stream().allMatch(List::isEmpty) && problems.all().size() == before) {
                problems.add(
                        "plugin.none",
                        directory.toString(),
                        "no jar in this directory names an analysis",
                        "a plug-in jar names its classes in " + SERVICES);
            }
            classNamesByJar.putAll(here);
        }
        if (classNamesByJar.isEmpty()) {
            return;
        }
        ClassLoader loader = new URLClassLoader(
                "plug-ins",
                classNamesByJar.keySet().stream().map(AnalysisFinder::url).toArray(URL[]::new),
                AnalysisProvider.class.getClassLoader());
        classNamesByJar.forEach((jar, classNames) -> {
            for (String className : classNames) {
                load(loader, className, jar, found, problems);
            }
        });
    }

    private static List<Path> jars(Path directory, Problems problems) {
        try (Stream<Path> entries = Files.list(directory.toRealPath())) {
            return entries.filter(entry -> entry.getFileName().toString().endsWith(".jar"))
                    .sorted()
                    .toList();
        } catch (IOException e) {
            problems.add(
                    "plugin.directory",
                    directory.toString(),
                    Files.isRegularFile(directory)
                            ? "this is a file, not a directory of plug-in jars"
                            : "cannot read this plug-in directory",
                    "name a directory that holds the plug-in jars");
            return List.of();
        }
    }

    private static void readServices(Path jar, Map<Path, List<String>> classNamesByJar, Problems problems) {
        try (JarFile file = new JarFile(jar.toFile())) {
            ZipEntry services = file.getEntry(SERVICES);
            List<String> names = services == null
                    ? List.of()
                    : new String(file.getInputStream(services).readAllBytes(), StandardCharsets.UTF_8)
                            .lines()
                            .map(line -> line.replaceFirst("#.*", "").strip())
                            .filter(line -> !line.isEmpty())
                            .distinct()
                            .toList();
            classNamesByJar.put(jar, names);
        } catch (IOException e) {
            problems.add(
                    "plugin.broken", jar.toString(), "cannot read this jar: " + e.getMessage(), "copy it here again");
        }
    }

    private static URL url(Path jar) {
        try {
            return jar.toUri().toURL();
        } catch (MalformedURLException e) {
            throw new IllegalStateException("a file has a URL", e);
        }
    }

    private static void load(
            ClassLoader loader, String className, Path jar, List<FoundAnalysis> found, Problems problems) {
        try {
            AnalysisProvider provider = loader.loadClass(className)
                    .asSubclass(AnalysisProvider.class)
                    .getConstructor()
                    .newInstance();
            describe(provider, jar.toString(), found, problems);
        } catch (ClassNotFoundException e) {
            broken(jar, className, "is named in " + SERVICES + " but is not there", problems);
        } catch (ClassCastException e) {
            broken(jar, className, "is not an AnalysisProvider", problems);
        } catch (NoSuchMethodException | IllegalAccessException | InstantiationException e) {
            broken(jar, className, "is not a public class with a public constructor without arguments", problems);
        } catch (InvocationTargetException e) {
            broken(jar, className, "cannot be constructed: " + e.getCause(), problems);
        } catch (LinkageError e) {
            broken(jar, className, "cannot be linked: " + e, problems);
        }
    }

    private static void describe(
            AnalysisProvider provider, String origin, List<FoundAnalysis> found, Problems problems) {
        try {
            found.add(FoundAnalysis.of(provider, origin));
        } catch (Throwable e) { // a plug-in may throw anything, checked exceptions included
            broken(Path.of(origin), provider.getClass().getName(), "cannot describe itself: " + e, problems);
        }
    }

    private static void broken(Path jar, String className, String what, Problems problems) {
        problems.add(
                "plugin.broken",
                jar.toString(),
                "the analysis class " + className + " " + what,
                "mend the plug-in or take its jar away");
    }
}
