package org.evenstamp.samples.campaign;

import java.io.IOException;
import java.nio.file.FileStore;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.evenstamp.samples.campaign.Trial.End;
import org.evenstamp.samples.campaign.Trial.Verdict;
import org.evenstamp.shared.progress.Progress;

/**
 * Runs the tool on a small disk, {@code FullDiskMain DISK JOB STEP}, with less and less room left on it: every step bytes a run is made, until there
 * is no room at all. A run that does not fit must be refused with a sentence and leave nothing of its own. Ends with exit code 1 when one did not.
 */
public final class FullDiskMain {
    private FullDiskMain() {}

    /** Runs what the arguments say. */
    public static void main(String[] arguments) throws IOException {
        Path disk = Path.of(arguments[0]).toRealPath();
        Path job = Path.of(arguments[1]);
        int step = Integer.parseInt(arguments[2]);
        FileStore store = Files.getFileStore(disk);
        Path ballast = disk.resolve("ballast");
        Path out = disk.resolve("out");
        Map<String, Integer> ends = new TreeMap<>();
        long room = store.getUsableSpace();
        for (long left = room; left >= 0; left -= step) {
            for (List<Object> verb : List.<List<Object>>of(
                    List.of("run", job, "--quiet", "--out", out), List.of("sweep", job, "--quiet", "--out", out))) {
                clear(disk);
                Files.write(ballast, new byte[(int) (room - left)]);
                Verdict verdict = Tool.run(new Progress(), verb.toArray());
                if (left == room && verdict.end() == End.REFUSED) {
                    throw new IllegalStateException(
                            verb.get(0) + " is refused even with all the room: " + verdict.what());
                }
                boolean there = Files.exists(out);
                String end =
                        verb.get(0) + " " + verdict.end() + (verdict.end() == End.FOUND ? ": " + verdict.what() : "");
                if (verdict.end() == End.REFUSED
                        && verb.get(0).equals("run")
                        && (there || !names(disk).equals(List.of("ballast")))) {
                    end += " BUT LEFT " + names(disk);
                }
                ends.merge(end, 1, Integer::sum);
            }
        }
        ends.forEach((end, count) -> System.out.println(count + " " + end));
        System.out.println("from " + room + " bytes in steps of " + step);
        System.exit(ends.keySet().stream().anyMatch(end -> end.contains("FOUND") || end.contains("LEFT")) ? 1 : 0);
    }

    private static List<String> names(Path directory) throws IOException {
        try (Stream<Path> list = Files.list(directory)) {
            return list.map(path -> path.getFileName().toString()).sorted().toList();
        }
    }

    private static void clear(Path disk) throws IOException {
        try (Stream<Path> tree = Files.walk(disk)) {
            for (Path path : tree.sorted(Comparator.reverseOrder()).toList()) {
                if (!path.equals(disk)) {
                    Files.delete(path);
                }
            }
        }
    }
}
