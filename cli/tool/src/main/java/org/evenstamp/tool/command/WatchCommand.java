package org.evenstamp.tool.command;

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
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.JobText;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.FileHash;
import org.evenstamp.engine.run.RememberedAnalysis;
import org.evenstamp.engine.run.StageMemory;
import org.evenstamp.output.file.ResultJson;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.tool.console.Console;
import org.evenstamp.tool.console.Summary;
import org.evenstamp.tool.exit.ExitCode;
import org.evenstamp.tool.exit.Failure;
import org.evenstamp.tool.watch.Changes;
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
    private static final int KEPT = 4; // of two jobs, each on its tiles and on tiles twice as wide

    private final ToolContext context;
    private final Changes changes;
    private final StageMemory stages = new StageMemory(KEPT);
    private final StageMemory pictures = new StageMemory(KEPT);

    @Parameters(paramLabel = "JOB", description = "The job file, YAML or JSON.")
    @Nullable
    Path file;

    @Mixin
    CommonOptions options = new CommonOptions();

    @Mixin
    CommonOptions.Plugins plugins = new CommonOptions.Plugins();

    WatchCommand(ToolContext context, Changes changes) {
        this.context = context;
        this.changes = changes;
    }

    @Override
    public Integer call() {
        Path jobFile = Objects.requireNonNull(file);
        options.replace = true;
        Pipeline pipeline = new Pipeline(context.analyses().apply(plugins.directories).stream()
                .map(found -> RememberedAnalysis.of(found, stages))
                .toList());
        if (!Files.exists(jobFile)) {
            Job.read(jobFile, pipeline); // says so: more likely a wrong name than a file yet to come
        }
        try {
            watch(jobFile, pipeline);
        } catch (CancelledException e) {
            context.console().err().println("stopped; the results of the last complete run stay");
            context.console().err().flush();
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
                Failure.tell(e, context.console().err(), false);
            }
            stages.account();
            pictures.account();
            context.progress().forgetClosed();
            say("watching " + files.stream().map(Path::toString).collect(Collectors.joining(", ")));
        }
    }

    /** Returns the job and the files it names; while it cannot be read, those it named before. */
    private static Set<Path> files(Path jobFile, Set<Path> before) {
        Set<Path> files = new LinkedHashSet<>(List.of(jobFile));
        try {
            files.addAll(JobText.read(jobFile).namedFiles());
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
                hash = FileHash.start(each, each.toString(), context.progress())
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
        Job job = Job.read(jobFile, pipeline);
        Path out = options.out == null ? job.output() : options.out;
        Results results = new JobRunner(context, options, stages, pictures).write(job, out);
        double seconds = (System.nanoTime() - begin) * 1e-9;
        if (options.quiet) {
            return;
        }
        if (options.json) {
            context.console().out().print(ResultJson.write(results));
            context.console().out().flush();
            return;
        }
        Console console = context.console();
        PrintWriter lines = console.out();
        lines.print(first ? Summary.of(results, out.toString(), console) : Summary.ofLimits(results, console));
        StageMemory.Account account = stages.account();
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
        return stages.isEmpty()
                ? "nothing"
                : stages.stream().distinct().sorted().collect(Collectors.joining(", "));
    }

    private void say(String line) {
        if (!options.quiet && !options.json) {
            context.console().out().println(line);
            context.console().out().flush();
        }
    }
}
