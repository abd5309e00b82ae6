package org.evenstamp.tool.command;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import org.evenstamp.analysis.pipeline.FoundAnalysis;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.analysis.pipeline.Skipped;
import org.evenstamp.analysis.process.SafetyCautions;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.JobText;
import org.evenstamp.engine.run.OpenLayout;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.output.file.AnswerJson;
import org.evenstamp.output.file.ProblemsJson;
import org.evenstamp.output.text.PlainText;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.tool.exit.ExitCode;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code check JOB}: all problems of a job, without computing anything. */
@Command(
        name = "check",
        description = {
            "Shows all problems of a job at once and what would run; runs no analysis and writes nothing.",
            "A film that is given as a map is laid over the layout, which is read for it."
        },
        footerHeading = "%nExamples:%n",
        footer = {"  evenstamp check first/job.yaml", "  evenstamp check first/job.yaml --json"})
final class CheckCommand implements Callable<Integer> {
    private final ToolContext context;

    @Parameters(paramLabel = "JOB", description = "The job file, YAML or JSON.")
    @Nullable
    Path file;

    @Option(names = "--json", description = "Print as JSON what would run, or the problems.")
    boolean json;

    @Mixin
    CommonOptions.Plugins plugins = new CommonOptions.Plugins();

    CheckCommand(ToolContext context) {
        this.context = context;
    }

    @Override
    public Integer call() {
        Path jobFile = Objects.requireNonNull(file);
        PrintWriter out = context.console().out();
        Job job;
        try {
            job = Job.read(jobFile, new Pipeline(context.analyses().apply(plugins.directories)));
            if (job.layout().table() == null) {
                OpenLayout.open(job.layout());
            }
            if (job.film() != null) {
                // whether points or drops lie on the stamp, only its layout tells
                context.watched(!json, () -> Simulation.measure(job, RunOptions.STANDARD, context.progress()));
            }
        } catch (InputException e) {
            if (json) {
                out.print(json(JobText.name(jobFile), e.problems()));
            }
            throw e;
        }
        if (json) {
            out.print(json(job));
            return ExitCode.WITHIN_LIMITS;
        }
        out.println(PlainText.of(jobFile.toString()) + ": no problem found");
        out.println("will run: "
                + job.plan().running().stream().map(FoundAnalysis::id).collect(Collectors.joining(", ")));
        job.plan().skipped().stream()
                .filter(Skipped::isTold)
                .forEach(skipped ->
                        out.println("will not run " + skipped.analysis().id() + ": " + skipped.reason()));
        out.println("results will go to " + PlainText.of(job.output().toString()));
        if (!job.plan().running().isEmpty()) {
            boolean etches =
                    job.plan().running().stream().anyMatch(one -> one.id().equals("etch"));
            SafetyCautions.of(job.settings(), etches).forEach(caution -> out.println("take care: " + caution));
        }
        return ExitCode.WITHIN_LIMITS;
    }

    private static String json(String name, List<Problem> problems) {
        return AnswerJson.write(json -> {
            json.text("name", name)
                    .text("verdict", problems.size() == 1 ? "1 problem found" : problems.size() + " problems found");
            ProblemsJson.write(json, problems);
        });
    }

    /** The keys that {@code result.json} has too mean the same here. */
    private static String json(Job job) {
        return AnswerJson.write(json -> {
            json.text("name", job.name()).text("verdict", "no problem found");
            ProblemsJson.write(json, List.of());
            json.list("analyses", list -> {
                        for (FoundAnalysis analysis : job.plan().running()) {
                            list.item(item -> item.text("id", analysis.id())
                                    .text("summary", analysis.description().summary()));
                        }
                    })
                    .group("skipped", group -> {
                        for (var skipped : job.plan().skipped()) {
                            if (!skipped.isTold()) {
                                continue;
                            }
                            group.text(skipped.analysis().id(), skipped.reason());
                        }
                    })
                    .text("output", job.output().toString());
        });
    }
}
