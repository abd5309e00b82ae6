package org.evenstamp.tool.command;

import java.nio.file.Path;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.sensitivity.Sensitivity;
import org.evenstamp.engine.sensitivity.SensitivityAnswer;
import org.evenstamp.output.file.ResultsDirectory;
import org.evenstamp.output.file.ResultsWriter;
import org.evenstamp.output.file.RunRecord;
import org.evenstamp.output.file.SensitivityText;
import org.evenstamp.output.page.PageContent;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code sensitivity JOB}: the film solve asked backwards. */
@Command(
        name = "sensitivity",
        description = {
            "Says what moves the residual layer and the time of filling: for each limit on the layer, for its mean and spread"
                    + " over the stamp and its regions, and for the time, how much a small turn of every value of the job"
                    + " changes it, which cavities a spread comes from, and in maps where more cavity area or more film would"
                    + " help or hurt.",
            "All of it follows from one solve and one way back through its time steps. Without --out the results go beside"
                    + " those of a run, into <output.directory>-sensitivity."
        },
        footerHeading = "%nExamples:%n",
        footer = {
            "  evenstamp sensitivity first/job.yaml",
            "  evenstamp sensitivity first/job.yaml --check --out slopes"
        })
final class SensitivityCommand implements Callable<Integer> {
    private final ToolContext context;

    @Parameters(paramLabel = "JOB", description = "The job file, YAML or JSON.")
    @Nullable
    Path file;

    @Option(
            names = "--check",
            description = "Compare the strongest values of each number with solves on both sides, and print both.")
    boolean check;

    @Mixin
    CommonOptions options = new CommonOptions();

    @Mixin
    CommonOptions.Plugins plugins = new CommonOptions.Plugins();

    SensitivityCommand(ToolContext context) {
        this.context = context;
    }

    @Override
    public Integer call() {
        Job job = Job.read(Objects.requireNonNull(file), context.pipeline(plugins.directories));
        Path out = options.out != null
                ? options.out
                : job.output().resolveSibling(job.output().getFileName() + "-sensitivity");
        JobRunner runner = new JobRunner(context, options);
        try (ResultsDirectory directory = ResultsDirectory.open(out, options.replace)) {
            context.interruption().cleanUpWith(directory::close);
            RunRecord started = RunRecord.start(options.threads());
            SensitivityAnswer answer =
                    runner.watched(() -> Sensitivity.of(job, check, options.run(), context.progress()));
            RunRecord run = started.end();
            runner.watched(() -> {
                runner.writeReport(PageContent.of(job, answer.results()), directory);
                runner.writeTiles(answer.results(), directory);
                directory.add("sensitivity.json", SensitivityText.json(answer));
                ResultsWriter.write(answer.results(), run, directory, context.progress());
                context.progress().checkCancelled();
                return true;
            });
            runner.publish(directory, out);
            if (!options.quiet) {
                context.console()
                        .out()
                        .print(
                                options.json
                                        ? SensitivityText.json(answer)
                                        : SensitivityText.text(answer) + "results: " + out + System.lineSeparator());
                context.console().out().flush();
            }
            return options.exitCode(answer.results());
        }
    }
}
