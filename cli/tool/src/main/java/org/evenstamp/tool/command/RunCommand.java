package org.evenstamp.tool.command;

import java.nio.file.Path;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.evenstamp.engine.job.Job;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** {@code run JOB}: the whole job. */
@Command(
        name = "run",
        description = {
            "Runs a job: measures its layout, runs every analysis it has the parameters for, checks its limits and writes"
                    + " the results.",
            "Without --out the results go where the job says (output.directory), or else into <job name>-results beside"
                    + " the job."
        },
        footerHeading = "%nExamples:%n",
        footer = {
            "  evenstamp run first/job.yaml",
            "  evenstamp run first/job.yaml --replace --json > result.json",
            "  evenstamp run first/job.yaml --out trial --pictures --tiles-geojson",
            "  evenstamp run first/job.yaml --replace --contours residual.final"
        })
final class RunCommand implements Callable<Integer> {
    private final ToolContext context;

    @Parameters(paramLabel = "JOB", description = "The job file, YAML or JSON.")
    @Nullable
    Path file;

    @Mixin
    CommonOptions options = new CommonOptions();

    @Mixin
    DrawingOptions drawings = new DrawingOptions();

    @Mixin
    CommonOptions.Plugins plugins = new CommonOptions.Plugins();

    RunCommand(ToolContext context) {
        this.context = context;
    }

    @Override
    public Integer call() {
        Job job = Job.read(Objects.requireNonNull(file), context.pipeline(plugins.directories));
        drawings.read(job);
        return new JobRunner(context, options)
                .drawing(drawings)
                .run(job, options.out == null ? job.output() : options.out);
    }
}
