package org.evenstamp.cli.command;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Objects;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import org.evenstamp.analysis.pipeline.FoundAnalysis;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.cli.exit.ExitCode;
import org.evenstamp.cli.job.Job;
import org.evenstamp.cli.job.JobReader;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** {@code check JOB}: all problems of a job, without computing anything. */
@Command(
        name = "check",
        description = "Shows all problems of a job at once and what would run; computes nothing and writes nothing.",
        footerHeading = "%nExample:%n",
        footer = "  evenstamp check first/job.yaml")
final class CheckCommand implements Callable<Integer> {
    private final Surroundings surroundings;

    @Parameters(paramLabel = "JOB", description = "The job file, YAML or JSON.")
    @Nullable
    Path file;

    @Mixin
    CommonOptions.Plugins plugins = new CommonOptions.Plugins();

    CheckCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() {
        Path jobFile = Objects.requireNonNull(file);
        Job job = JobReader.read(jobFile, new Pipeline(surroundings.analyses().apply(plugins.directories)));
        surroundings.layouts().open(job.layout());
        PrintWriter out = surroundings.console().out();
        out.println(jobFile + ": no problem found");
        out.println("will run: "
                + job.plan().running().stream().map(FoundAnalysis::id).collect(Collectors.joining(", ")));
        job.plan()
                .skipped()
                .forEach(skipped ->
                        out.println("will not run " + skipped.analysis().id() + ": " + skipped.reason()));
        out.println("results will go to " + job.output());
        return ExitCode.WITHIN_LIMITS;
    }
}
