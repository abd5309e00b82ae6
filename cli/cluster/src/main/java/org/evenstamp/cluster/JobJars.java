package org.evenstamp.cluster;

import java.io.File;
import java.io.IOException;
import java.net.URISyntaxException;
import java.nio.file.Path;
import java.security.CodeSource;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.jar.Attributes;
import java.util.jar.JarFile;
import java.util.jar.Manifest;
import org.apache.flink.streaming.api.environment.StreamExecutionEnvironment;
import org.evenstamp.shared.problem.InputException;

/** The jars that a job brings along to its workers: this module's own and what its manifest names, but those of the engine. */
final class JobJars {
    private JobJars() {}

    /** Returns their paths. */
    static List<String> ofClassPath() {
        Path own = place(JobJars.class);
        Path engine = place(StreamExecutionEnvironment.class);
        if (!own.toString().endsWith(".jar")) {
            throw new InputException(
                    "engine.no-jar",
                    own.toString(),
                    "workers need the classes of evenstamp in jars",
                    "build them: mvn -Dfast -DskipTests package");
        }
        Map<String, Path> onClassPath = new LinkedHashMap<>();
        for (String entry : System.getProperty("java.class.path").split(File.pathSeparator, -1)) {
            Path jar = Path.of(entry).toAbsolutePath();
            boolean engines = Objects.equals(engine.getParent(), jar.getParent()) && !isOurs(jar);
            if (entry.endsWith(".jar") && !engines) {
                onClassPath.putIfAbsent(name(jar), jar);
            }
        }
        List<String> jars = new ArrayList<>(List.of(own.toString()));
        for (String name : named(own)) {
            Path jar = onClassPath.get(name);
            if (jar != null) {
                jars.add(jar.toString());
            }
        }
        return jars;
    }

    private static boolean isOurs(Path jar) {
        return name(jar).startsWith("evenstamp-");
    }

    private static String name(Path jar) {
        return String.valueOf(jar.getFileName());
    }

    private static Path place(Class<?> type) {
        CodeSource source = type.getProtectionDomain().getCodeSource();
        try {
            return Path.of(source.getLocation().toURI()).toAbsolutePath();
        } catch (URISyntaxException e) {
            throw new IllegalStateException(e);
        }
    }

    private static List<String> named(Path own) {
        try (JarFile jar = new JarFile(own.toFile())) {
            Manifest manifest = jar.getManifest();
            String path = manifest == null ? null : manifest.getMainAttributes().getValue(Attributes.Name.CLASS_PATH);
            List<String> names = new ArrayList<>();
            for (String entry : path == null ? new String[0] : path.split(" ", -1)) {
                names.add(entry.substring(entry.lastIndexOf('/') + 1));
            }
            return names;
        } catch (IOException e) {
            throw new InputException(
                    "engine.no-jar", own.toString(), "cannot be read: " + e.getMessage(), "install evenstamp again");
        }
    }
}
