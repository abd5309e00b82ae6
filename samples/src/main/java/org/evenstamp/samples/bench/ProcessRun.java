package org.evenstamp.samples.bench;

import java.io.IOException;
import java.io.InterruptedIOException;
import java.lang.ProcessBuilder.Redirect;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.concurrent.TimeUnit;

/**
 * What a process took from start to end.
 *
 * @param wallSeconds by the clock
 * @param cpuSeconds user and system time of the process and what it waited for
 * @param peakMebibytes largest resident memory; empty where GNU time is not installed
 */
record ProcessRun(double wallSeconds, double cpuSeconds, OptionalDouble peakMebibytes) {
    private static final Path GNU_TIME = Path.of("/usr/bin/time");
    private static final long POLL_MILLISECONDS = 5;

    /**
     * Runs a command to its end and discards what it prints.
     *
     * <p>With GNU time the figures are the system's own. Without it processor time is sampled while the process lives, at
     * most {@value #POLL_MILLISECONDS} ms too little for each of its threads, and memory is not known.
     *
     * @param environment variables set for it beside the present ones
     * @throws IllegalStateException when it ends with another exit code than 0; carries the end of what it said
     * @throws IOException when it cannot be started
     */
    static ProcessRun of(List<String> command, Map<String, String> environment) throws IOException {
        boolean gnuTime = Files.isExecutable(GNU_TIME);
        Path figures = Files.createTempFile("run", ".txt");
        Path messages = Files.createTempFile("run", ".err");
        try {
            List<String> whole = new ArrayList<>();
            if (gnuTime) {
                whole.addAll(List.of(GNU_TIME.toString(), "-q", "-f", "%U %S %M", "-o", figures.toString()));
            }
            whole.addAll(command);
            ProcessBuilder builder =
                    new ProcessBuilder(whole).redirectOutput(Redirect.DISCARD).redirectError(messages.toFile());
            builder.environment().putAll(environment);
            long start = System.nanoTime();
            Process process = builder.start();
            double sampled = waitFor(process, gnuTime);
            double wall = (System.nanoTime() - start) * 1e-9;
            if (process.exitValue() != 0) {
                String said = Files.readString(messages);
                throw new IllegalStateException("exit code " + process.exitValue() + " from "
                        + String.join(" ", command) + "\n" + said.substring(Math.max(0, said.length() - 2000)));
            }
            if (!gnuTime) {
                return new ProcessRun(wall, sampled, OptionalDouble.empty());
            }
            String[] words = Files.readString(figures).strip().split(" ", -1);
            return new ProcessRun(
                    wall,
                    Double.parseDouble(words[0]) + Double.parseDouble(words[1]),
                    OptionalDouble.of(Double.parseDouble(words[2]) / 1024));
        } finally {
            Files.delete(figures);
            Files.delete(messages);
        }
    }

    /** Waits for the end; returns the processor time last seen, 0 when nobody asks for it. */
    private static double waitFor(Process process, boolean gnuTime) throws IOException {
        Duration cpu = Duration.ZERO;
        try {
            if (gnuTime) {
                process.waitFor();
            } else {
                do {
                    cpu = process.info().totalCpuDuration().orElse(cpu);
                } while (!process.waitFor(POLL_MILLISECONDS, TimeUnit.MILLISECONDS));
            }
        } catch (InterruptedException e) {
            process.destroy();
            throw new InterruptedIOException("interrupted while a process ran");
        }
        return cpu.toNanos() * 1e-9;
    }
}
