package org.evenstamp.samples.bench;

import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import org.evenstamp.analysis.film.FilmSensitivity;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.engine.design.DummyDesign;
import org.evenstamp.engine.design.DummyProposal;
import org.evenstamp.engine.design.FileSink;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.engine.sensitivity.FilmVariant;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.progress.Progress;

/**
 * Times what it takes to propose dummies for a job against one forward solve of it: the layout measured once and the film solved
 * once. The proposal holds the runs before and after, all rounds, the ways back and the files. Prints one JSON object a run.
 *
 * <p>Arguments: the job, threads, repetitions. One forward solve before each that is timed warms it up; the proposal's own code
 * comes cold in the first run.
 */
public final class ProposalBenchmark {
    private ProposalBenchmark() {}

    /** Runs the benchmark. */
    public static void main(String[] args) throws IOException {
        Path file = Path.of(args.length > 0 ? args[0] : "samples/water-sensor/job.yaml");
        int threads = args.length > 1 ? Integer.parseInt(args[1]) : 2;
        int repetitions = args.length > 2 ? Integer.parseInt(args[2]) : 1;
        for (int run = 0; run < repetitions; run++) {
            System.out.println(run(file, threads));
        }
    }

    /**
     * Runs it once.
     *
     * @return the figures as a JSON object
     * @throws IOException when the files cannot be written
     */
    static String run(Path file, int threads) throws IOException {
        Job job = Job.read(file, Pipeline.standard());
        RunOptions options = RunOptions.STANDARD.withThreads(threads);
        Progress progress = new Progress();
        forward(job, options, progress);
        double begin = cpuSeconds();
        double film = forward(job, options, progress);
        double forward = cpuSeconds() - begin;

        Path folder = Files.createTempDirectory("proposal");
        begin = cpuSeconds();
        long start = System.nanoTime();
        DummyProposal proposal = DummyDesign.of(job, FileSink.into(folder), options, progress);
        double wall = (System.nanoTime() - start) * 1e-9;
        double all = cpuSeconds() - begin;
        delete(folder);
        return String.format(
                Locale.ROOT,
                "{\"tiles\": %d, \"threads\": %d, \"rounds\": %d, \"dummies\": %d, \"forward_cpu_s\": %.2f,"
                        + " \"film_of_it_cpu_s\": %.2f, \"proposal_cpu_s\": %.2f, \"proposal_s\": %.2f,"
                        + " \"proposal / forward\": %.1f}",
                proposal.before().fields().grid().size(),
                threads,
                proposal.rounds().size(),
                proposal.dummies(),
                forward,
                film,
                all,
                wall,
                all / forward);
    }

    /** Measures and solves; returns the processor seconds of the film. */
    private static double forward(Job job, RunOptions options, Progress progress) {
        FieldSet tiles = Simulation.measure(job, options.withHashes(false), progress);
        double begin = cpuSeconds();
        FilmSensitivity.residual(FilmVariant.of(job, tiles), options.threads(), progress);
        return cpuSeconds() - begin;
    }

    private static double cpuSeconds() {
        return ManagementFactory.getOperatingSystemMXBean() instanceof com.sun.management.OperatingSystemMXBean sun
                ? sun.getProcessCpuTime() * 1e-9
                : Double.NaN;
    }

    private static void delete(Path folder) throws IOException {
        List<Path> files;
        try (Stream<Path> all = Files.walk(folder)) {
            files = all.sorted(Comparator.reverseOrder()).toList();
        }
        for (Path one : files) {
            Files.delete(one);
        }
    }
}
