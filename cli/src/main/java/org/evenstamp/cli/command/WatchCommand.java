package org.evenstamp.cli.command;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.cli.console.Console;
import org.evenstamp.cli.console.Summary;
import org.evenstamp.cli.exit.ExitCode;
import org.evenstamp.cli.exit.Failure;
import org.evenstamp.cli.job.Job;
import org.evenstamp.cli.job.JobReader;
import org.evenstamp.cli.report.ResultJson;
import org.evenstamp.cli.report.Results;
import org.evenstamp.cli.watch.Changes;
import org.evenstamp.cli.watch.Recall;
import org.evenstamp.cli.watch.RecalledAnalysis;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.CancelledException;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** {@code watch JOB}: the whole job, again whenever one of its files changes. */
@Command(
        name = "watch",
        description = {
            "Runs a job as \"run\" does, and again whenever the job, its layout, its materials or its film map changes. What"
                    + " does not depend on the change is not computed again.",
            "New results take the place of those before; after a mistake these stay. Ctrl-C ends it (exit code 130)."
        },
        footerHeading = "%nExamples:%n",
        footer = {"  evenstamp watch first/job.yaml", "  evenstamp watch first/job.yaml --out trial --no-report"})
final class WatchCommand implements Callable<Integer> {
    /** Of every stage the present state and the one before, so that trying a value and going back costs nothing. */
    private static final int KEPT = 2;

    private final Surroundings surroundings;
    private final Changes changes;
    private final Recall stages = new Recall(KEPT);
    private final Recall pictures = new Recall(KEPT);

    @Parameters(paramLabel = "JOB", description = "The job file, YAML or JSON.")
    @Nullable
    Path file;

    @Mixin
    CommonOptions options = new CommonOptions();

    @Mixin
    CommonOptions.Plugins plugins = new CommonOptions.Plugins();

    WatchCommand(Surroundings surroundings, Changes changes) {
        this.surroundings = surroundings;
        this.changes = changes;
    }

    @Override
    public Integer call() {
        Path jobFile = Objects.requireNonNull(file);
        options.replace = true;
        Pipeline pipeline = new Pipeline(surroundings.analyses().apply(plugins.directories).stream()
                .map(found -> RecalledAnalysis.of(found, stages))
                .toList());
        if (!Files.exists(jobFile)) {
            JobReader.read(jobFile, pipeline); // says so: more likely a wrong name than a file yet to come
        }
        try {
            watch(jobFile, pipeline);
        } catch (CancelledException e) {
            surroundings.console().err().println("stopped; the results of the last complete run stay");
            surroundings.console().err().flush();
        }
        return ExitCode.CANCELLED;
    }

    private void watch(Path jobFile, Pipeline pipeline) {
        Set<Path> files = files(jobFile, Set.of());
        Map<Path, String> contents = Map.of();
        boolean told = false;
        while (true) {
            changes.await(files);
            files = files(jobFile, files);
            Map<Path, String> now = contents(files);
            if (now.equals(contents)) {
                continue;
            }
            contents = now;
            try {
                run(jobFile, pipeline, !told);
                told = true;
            } catch (InputException e) {
                Failure.tell(e, surroundings.console().err(), false);
            }
            stages.account();
            pictures.account();
            surroundings.progress().forgetClosed();
            say("watching " + files.stream().map(Path::toString).collect(Collectors.joining(", ")));
        }
    }

    /** Returns the job and the files it names; while it cannot be read, those it named before. */
    private static Set<Path> files(Path jobFile, Set<Path> before) {
        Set<Path> files = new LinkedHashSet<>(List.of(jobFile));
        try {
            files.addAll(JobReader.named(jobFile));
        } catch (InputException e) {
            files.addAll(before);
        }
        return files;
    }

    private Map<Path, String> contents(Set<Path> files) {
        Map<Path, String> contents = new LinkedHashMap<>();
        for (Path each : files) {
            String hash;
            try {
                hash = Hashing.start(each, each.toString(), surroundings.progress())
                        .await()
                        .sha256();
            } catch (InputException e) {
                hash = "unreadable";
            }
            contents.put(each, hash);
        }
        return contents;
    }

    private void run(Path jobFile, Pipeline pipeline, boolean first) {
        long begin = System.nanoTime();
        Job job = JobReader.read(jobFile, pipeline);
        Path out = options.out == null ? job.output() : options.out;
        Results results =
                new Delivery(surroundings, options, stages, pictures).write(job, Delivery.Input.of(jobFile, job), out);
        double seconds = (System.nanoTime() - begin) * 1e-9;
        if (options.quiet) {
            return;
        }
        if (options.json) {
            surroundings.console().out().print(ResultJson.write(results));
            surroundings.console().out().flush();
            return;
        }
        Console console = surroundings.console();
        PrintWriter lines = console.out();
        lines.print(first ? Summary.of(results, out.toString(), console) : Summary.ofLimits(results, console));
        Recall.Account account = stages.account();
        say(String.format(
                Locale.ROOT,
                "%s in %.2f s, computed: %s; from before: %s%s",
                first ? "ran" : "ran again",
                seconds,
                list(account.computed()),
                list(account.recalled()),
                first || options.noReport ? "" : "; reload " + out.resolve("report.html")));
    }

    private static String list(List<String> stages) {
        return stages.isEmpty() ? "nothing" : stages.stream().sorted().collect(Collectors.joining(", "));
    }

    private void say(String line) {
        if (!options.quiet && !options.json) {
            surroundings.console().out().println(line);
            surroundings.console().out().flush();
        }
    }
}
