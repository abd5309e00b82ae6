package org.evenstamp.samples.campaign;

import java.io.IOException;
import java.io.PrintStream;
import java.io.UncheckedIOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.Stream;
import org.evenstamp.samples.campaign.Trial.Verdict;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;

/**
 * Runs a campaign and prints its tally; ends with exit code 1 when something was found.
 *
 * <pre>
 * [--layouts N] [--jobs N] [--results N] [--plug-ins N] [--seed S] [--portions P] [--first I] [--seconds T] [--threads N] [--scratch DIR] [--keep]
 * </pre>
 *
 * The numbers and the seconds are for each portion and kind. Portions have the seeds S, S + 1 and so on; each tells its tally when it ends, and after
 * the last the sum is told, so that of a campaign that was stopped nothing is lost but the portion it was at. Input number I of a kind follows
 * from the seed, the kind and I alone, so {@code --first I --layouts 1 --keep} makes it again.
 */
public final class CampaignMain {
    private static final double LIMIT_SECONDS = 20;
    private static final double LISTEN_SECONDS = 5;

    private final Map<String, Long> options = new LinkedHashMap<>(Map.of(
            "--layouts",
            0L,
            "--jobs",
            0L,
            "--results",
            0L,
            "--plug-ins",
            0L,
            "--seed",
            1L,
            "--portions",
            1L,
            "--first",
            0L,
            "--seconds",
            1_000_000L));
    private Path scratch = Path.of(System.getProperty("java.io.tmpdir"));
    private int threads = Math.max(1, Runtime.getRuntime().availableProcessors() / 2);
    private boolean keep;

    private CampaignMain() {}

    /** Runs what the arguments say. */
    public static void main(String[] arguments) throws IOException, InterruptedException {
        System.exit(run(System.out, arguments) ? 0 : 1);
    }

    /** Runs what the arguments say; returns whether nothing was found. */
    static boolean run(PrintStream out, String... arguments) throws IOException, InterruptedException {
        CampaignMain campaign = new CampaignMain();
        campaign.parse(arguments);
        return campaign.run(out);
    }

    private void parse(String... arguments) {
        for (int i = 0; i < arguments.length; i++) {
            String name = arguments[i];
            if (name.equals("--keep")) {
                keep = true;
            } else if (i + 1 == arguments.length) {
                throw new IllegalArgumentException(name + " is no option, or lacks its value");
            } else if (name.equals("--scratch")) {
                scratch = Path.of(arguments[++i]);
            } else if (name.equals("--threads")) {
                threads = Integer.parseInt(arguments[++i]);
            } else if (options.containsKey(name)) {
                options.put(name, Long.parseLong(arguments[++i]));
            } else {
                throw new IllegalArgumentException(name + " is no option");
            }
        }
    }

    private long option(String name) {
        return options.getOrDefault(name, 0L);
    }

    private boolean run(PrintStream out) throws IOException, InterruptedException {
        Path place = Files.createTempDirectory(Files.createDirectories(scratch), "campaign-");
        Map<String, Trial> trials = new LinkedHashMap<>();
        trials.put("--layouts", new LayoutTrial(20));
        trials.put("--jobs", new JobTrial(100));
        if (option("--results") > 0) {
            trials.put("--results", new ResultsTrial(original(place)));
        }
        trials.put("--plug-ins", new PlugInTrial());
        trials.keySet().removeIf(kind -> option(kind) == 0);
        Map<String, Tally> sums = new LinkedHashMap<>();
        trials.keySet().forEach(kind -> sums.put(kind, new Tally()));
        long portions = option("--portions");
        for (long portion = 0; portion < portions; portion++) {
            long begin = System.nanoTime();
            long seed = option("--seed") + portion;
            for (Map.Entry<String, Trial> trial : trials.entrySet()) {
                Tally tally = new Tally();
                long deadline = System.nanoTime() + option("--seconds") * 1_000_000_000L;
                many(seed, trial.getKey(), trial.getValue(), tally, place, deadline, out);
                out.print(tally.text(trial.getKey().substring(2)));
                sums.getOrDefault(trial.getKey(), tally).add(tally);
            }
            out.printf("seed %d, %d threads, %.0f s%n", seed, threads, (System.nanoTime() - begin) * 1e-9);
        }
        if (portions > 1) {
            out.printf("all of seeds %d to %d%n", option("--seed"), option("--seed") + portions - 1);
            sums.forEach((kind, sum) -> out.print(sum.text(kind.substring(2))));
        }
        if (!keep) {
            clear(place);
            Files.delete(place);
        }
        return sums.values().stream().allMatch(Tally::isClean);
    }

    /** Results of the starter job on coarse tiles, since every changed copy of them is read as a whole. */
    private static Path original(Path place) throws IOException {
        Path job = place.resolve("original");
        Tool.run(new Progress(), "new", job);
        Path file = job.resolve("job.yaml");
        Files.writeString(file, Files.readString(file).replace("side: \"50 um\"", "side: \"150 um\""));
        Path results = place.resolve("results");
        Tool.run(new Progress(), "run", file, "--quiet", "--no-report", "--out", results);
        return results;
    }

    /** One worker: the input it is at, since when, and how to stop it. */
    private static final class Worker {
        private volatile long number = -1;
        private volatile long since;
        private volatile long cpuSince;
        private volatile long asked;
        private volatile boolean told;
        private volatile Progress progress = new Progress();
        private @Nullable Thread thread;
    }

    private void many(long seed, String kind, Trial trial, Tally tally, Path place, long deadline, PrintStream out)
            throws InterruptedException {
        AtomicLong next = new AtomicLong(option("--first"));
        long end = option("--first") + option(kind);
        List<Worker> workers = new ArrayList<>();
        for (int i = 0; i < threads; i++) {
            Worker worker = new Worker();
            Path directory = place.resolve(kind.substring(2) + "-" + i);
            Thread thread = new Thread(
                    () -> {
                        long number;
                        while ((number = next.getAndIncrement()) < end && System.nanoTime() < deadline) {
                            one(seed, kind, trial, number, tally, directory, worker);
                        }
                        worker.number = -1;
                    },
                    "campaign-" + i);
            thread.setDaemon(true);
            worker.thread = thread;
            thread.start();
            workers.add(worker);
        }
        long told = System.nanoTime();
        while (workers.stream().anyMatch(worker -> worker.thread != null && worker.thread.isAlive())) {
            Thread.sleep(20);
            workers.forEach(worker -> watch(worker, tally));
            if (System.nanoTime() - told > 60e9) {
                told = System.nanoTime();
                out.println("at " + next.get() + "; "
                        + tally.text(kind.substring(2)).strip());
            }
            if (workers.stream().allMatch(worker -> worker.told && secondsAt(worker) > 120)) {
                return; // none of them will come back
            }
        }
    }

    private static double secondsAt(Worker worker) {
        return (System.nanoTime() - worker.since) * 1e-9;
    }

    /** Whether an input takes too long, by the time of the processors where others use them too. */
    private static boolean tooLong(Worker worker) {
        double seconds = secondsAt(worker);
        return seconds > LIMIT_SECONDS
                && ((processNanos() - worker.cpuSince) * 1e-9 > LIMIT_SECONDS / 2 || seconds > 20 * LIMIT_SECONDS);
    }

    private static long processNanos() {
        return ManagementFactory.getOperatingSystemMXBean() instanceof com.sun.management.OperatingSystemMXBean system
                ? system.getProcessCpuTime()
                : System.nanoTime();
    }

    private static void watch(Worker worker, Tally tally) {
        Thread thread = worker.thread;
        long number = worker.number;
        if (number < 0 || thread == null) {
            return;
        }
        double seconds = secondsAt(worker);
        if (worker.asked == 0 && tooLong(worker)) {
            worker.asked = System.nanoTime();
            worker.progress.cancel();
        }
        boolean deaf = worker.asked != 0 && (System.nanoTime() - worker.asked) * 1e-9 > LISTEN_SECONDS;
        if (deaf && !worker.told) {
            worker.told = true;
            StringBuilder where = new StringBuilder("does not stop when it is asked to: ");
            for (StackTraceElement frame : thread.getStackTrace()) {
                where.append(frame.getClassName())
                        .append('.')
                        .append(frame.getMethodName())
                        .append(' ');
            }
            tally.add(number, Verdict.found(where.toString()), seconds);
        }
    }

    private void one(long seed, String kind, Trial trial, long number, Tally tally, Path directory, Worker worker) {
        SplittableRandom random =
                new SplittableRandom(seed * 1_000_003 + kind.hashCode() * 31L + number * 0x9E3779B97F4A7C15L);
        worker.progress = new Progress();
        worker.told = false;
        worker.asked = 0;
        worker.cpuSince = processNanos();
        worker.since = System.nanoTime();
        worker.number = number;
        Verdict verdict;
        try {
            Files.createDirectories(directory);
            clear(directory);
            verdict = trial.run(random, directory, worker.progress);
            if (worker.asked != 0) {
                verdict = Verdict.found("took longer than " + LIMIT_SECONDS + " s");
            }
        } catch (CancelledException e) {
            verdict = Verdict.found("took longer than " + LIMIT_SECONDS + " s");
        } catch (Throwable e) {
            StackTraceElement[] frames = e.getStackTrace();
            verdict = Verdict.found(e + (frames.length == 0 ? "" : " at " + frames[0]));
        }
        tally.add(number, verdict, secondsAt(worker));
        worker.number = -1;
    }

    private static void clear(Path directory) throws IOException {
        try (Stream<Path> tree = Files.walk(directory)) {
            for (Path path : tree.sorted(Comparator.reverseOrder()).toList()) {
                if (!path.equals(directory)) {
                    Files.deleteIfExists(path);
                }
            }
        } catch (UncheckedIOException e) {
            throw e.getCause();
        }
    }
}
