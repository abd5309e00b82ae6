package org.evenstamp.samples.campaign;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.evenstamp.tool.Main;

/**
 * Kills processes of the tool at random moments while they replace results, {@code KillMain NUMBER SEED DIRECTORY}, and looks at what is left: the
 * old results or the new ones, whole, at their place or, once another command has looked, put back there; and a file of the user's own. Ends with
 * exit code 1 when anything else was found.
 */
public final class KillMain {
    private final Path place;
    private final Path results;
    private final Map<String, Integer> ends = new TreeMap<>();

    private KillMain(Path place) {
        this.place = place;
        this.results = place.resolve("results");
    }

    /** Runs what the arguments say. */
    public static void main(String[] arguments) throws IOException, InterruptedException {
        KillMain kills =
                new KillMain(Files.createDirectories(Path.of(arguments[2])).toRealPath());
        System.exit(kills.run(Integer.parseInt(arguments[0]), Long.parseLong(arguments[1])) ? 0 : 1);
    }

    private Process start(Object... arguments) throws IOException {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:TieredStopAtLevel=1",
                "-XX:+UseSerialGC",
                "-cp",
                System.getProperty("java.class.path"),
                Main.class.getName()));
        Stream.of(arguments).map(Object::toString).forEach(command::add);
        return new ProcessBuilder(command)
                .redirectErrorStream(true)
                .redirectOutput(place.resolve("said").toFile())
                .start();
    }

    private double secondsOf(Object... arguments) throws IOException, InterruptedException {
        long begin = System.nanoTime();
        int code = start(arguments).waitFor();
        if (code > 1) {
            throw new IllegalStateException("exit code " + code + ": " + Files.readString(place.resolve("said")));
        }
        return (System.nanoTime() - begin) * 1e-9;
    }

    private boolean run(int number, long seed) throws IOException, InterruptedException {
        SplittableRandom random = new SplittableRandom(seed);
        Path starter = place.resolve("job");
        Path job = starter.resolve("job.yaml");
        secondsOf("new", starter);
        String first = Files.readString(job);
        String second = first.replace("pressure: \"2 MPa\"", "pressure: \"3 MPa\"");
        Object[] command = {"run", job, "--quiet", "--no-report", "--threads", 1, "--replace", "--out", results};
        List<Map<String, String>> whole = new ArrayList<>();
        double seconds = 0;
        for (String text : List.of(first, second)) {
            Files.writeString(job, text);
            seconds = secondsOf(command);
            whole.add(contents());
        }
        Files.writeString(results.resolve("maps/my-notes.txt"), "look here");
        for (int i = 0; i < number; i++) {
            Files.writeString(job, i % 2 == 0 ? first : second);
            Process process = start(command);
            // As long as a run takes, but more often near its end, where files are written and renamed.
            double moment = seconds * (random.nextBoolean() ? random.nextDouble(1.2) : random.nextDouble(0.7, 1.2));
            boolean ended = process.waitFor((long) (moment * 1e6), TimeUnit.MICROSECONDS);
            process.destroyForcibly().waitFor();
            String end = ended ? "ended before" : "killed";
            if (!Files.exists(results)) {
                start("compare", results, results).waitFor();
                end += ", put back by the next command";
            }
            Map<String, String> found = Files.exists(results) ? contents() : Map.of();
            int which = whole.indexOf(found);
            end += which < 0 ? ", BROKEN" : which == i % 2 ? ", new results" : ", old results";
            boolean notes = Files.exists(results.resolve("maps/my-notes.txt"));
            ends.merge(end + (notes ? "" : ", NOTES GONE"), 1, Integer::sum);
            if (i % 10 == 9) {
                System.out.println("after " + (i + 1) + ": " + ends);
            }
            if (which < 0 || !notes) {
                System.out.println("kill " + i + " after " + moment + " s: " + end + " " + found.keySet());
                Files.createDirectories(results.resolve("maps"));
                Files.writeString(results.resolve("maps/my-notes.txt"), "look here");
            }
        }
        secondsOf(command);
        List<String> litter;
        try (Stream<Path> list = Files.list(place)) {
            litter = list.map(path -> path.getFileName().toString())
                    .filter(name -> name.startsWith("."))
                    .toList();
        }
        ends.forEach((end, count) -> System.out.println(count + " " + end));
        System.out.println(
                "seed " + seed + "; a run takes " + seconds + " s; beside the results after one more run: " + litter);
        return litter.isEmpty()
                && ends.keySet().stream().noneMatch(end -> end.contains("BROKEN") || end.contains("GONE"));
    }

    /** Returns what is in the results, by name, without the user's notes and what tells of the run itself. */
    private Map<String, String> contents() {
        Map<String, String> contents = new TreeMap<>();
        try (Stream<Path> tree = Files.walk(results)) {
            for (Path file : tree.filter(Files::isRegularFile).toList()) {
                String name = results.relativize(file).toString();
                if (!name.equals("run.json") && !name.endsWith("my-notes.txt")) {
                    contents.put(name, Arrays.hashCode(Files.readAllBytes(file)) + " " + Files.size(file));
                } else if (name.equals("run.json")) {
                    contents.put(
                            name, Files.readString(file, StandardCharsets.UTF_8).endsWith("}\n") ? "whole" : "torn");
                }
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return contents;
    }
}
