package org.evenstamp.cli.command;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.cli.job.Job;
import org.evenstamp.cli.job.JobReader;
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
        })
final class RunCommand implements Callable<Integer> {
    private final Surroundings surroundings;

    @Parameters(paramLabel = "JOB", description = "The job file, YAML or JSON.")
    @Nullable
    Path file;

    @Mixin
    CommonOptions options = new CommonOptions();

    @Mixin
    CommonOptions.Plugins plugins = new CommonOptions.Plugins();

    RunCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() {
        Path jobFile = java.util.Objects.requireNonNull(file);
        Pipeline pipeline = new Pipeline(surroundings.analyses().apply(plugins.directories));
        Job job = JobReader.read(jobFile, pipeline);
        Path fileName = java.util.Objects.requireNonNull(jobFile.getFileName());
        List<Delivery.Input> inputs = new ArrayList<>();
        inputs.add(new Delivery.Input(jobFile, fileName.toString()));
        inputs.add(new Delivery.Input(job.layout().file(), job.layout().asWritten()));
        Job.MaterialFile materials = job.materials();
        if (materials != null) {
            inputs.add(new Delivery.Input(materials.file(), materials.asWritten()));
        }
        Job.Coating film = job.film();
        if (film != null) {
            inputs.add(new Delivery.Input(film.map().file(), film.map().asWritten()));
        }
        return new Delivery(surroundings, options).run(job, inputs, options.out == null ? job.output() : options.out);
    }
}
