package org.evenstamp.output.file;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Which files of a directory of results evenstamp has written: {@value #LIST} in it names them, one a line, with slashes. In a
 * directory without that file, made by an older version or copied in part, they are known by their names.
 */
final class WrittenFiles {
    static final String LIST = ".evenstamp-files";

    private static final Pattern KNOWN = Pattern.compile(
            "result\\.json|report\\.html|run\\.json|tiles\\.(csv|geojson)|dies\\.csv|features\\.geojson|features/layer-[0-9]+\\.geojson"
                    + "|findings\\.(junit\\.xml|sarif)|fields\\.(json|npz)|snapshots\\.npz|comparison\\.json|sensitivity\\.json|dummies\\.geojson"
                    + "|merged\\.geojson\\.gz|drops\\.(csv|geojson)"
                    + "|(maps|curves|comparison|contours)/[a-z][a-z0-9]*(\\.[a-z0-9-]+)*\\.(png|svg|csv|geojson)");

    private WrittenFiles() {}

    /** Writes the list into a directory. */
    static void write(Path directory, Set<String> names) throws IOException {
        Files.write(
                directory.resolve(LIST),
                names.stream()
                        .map(name -> name + "\n")
                        .collect(Collectors.joining())
                        .getBytes(StandardCharsets.UTF_8));
    }

    /** Returns the names of all files in a directory. */
    static Set<String> in(Path directory) throws IOException {
        try (Stream<Path> tree = Files.walk(directory)) {
            return tree.filter(path -> !Files.isDirectory(path, LinkOption.NOFOLLOW_LINKS))
                    .map(path -> name(directory, path))
                    .collect(Collectors.toCollection(TreeSet::new));
        }
    }

    /** Returns the names of what evenstamp has written into a directory, the list included. */
    static Set<String> of(Path directory) throws IOException {
        Set<String> names = new TreeSet<>();
        Path list = directory.resolve(LIST);
        if (Files.isRegularFile(list, LinkOption.NOFOLLOW_LINKS)) {
            new String(Files.readAllBytes(list), StandardCharsets.UTF_8).lines().forEach(names::add);
        } else {
            try (Stream<Path> tree = Files.walk(directory)) {
                tree.map(path -> name(directory, path))
                        .filter(name -> KNOWN.matcher(name).matches())
                        .forEach(names::add);
            }
        }
        names.add(LIST);
        return names;
    }

    static boolean isList(Path directory, Path file) {
        return name(directory, file).equals(LIST);
    }

    /** Returns the name of a file within a directory, with slashes on every system. */
    static String name(Path directory, Path file) {
        return directory
                .relativize(file)
                .toString()
                .replace(directory.getFileSystem().getSeparator(), "/");
    }
}
