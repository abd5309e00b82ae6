package org.evenstamp.tool.command;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.evenstamp.analysis.drops.DropMap;
import org.evenstamp.engine.design.DropDesign;
import org.evenstamp.engine.design.DropProposal;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.result.Results;
import org.evenstamp.output.file.DropFiles;
import org.evenstamp.output.file.ResultJson;
import org.evenstamp.output.file.ResultsDirectory;
import org.evenstamp.output.file.ResultsWriter;
import org.evenstamp.output.file.RunRecord;
import org.evenstamp.output.page.PageContent;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** {@code drops JOB}: where to put how many drops of a dispensed film. */
@Command(
        name = "drops",
        description = {
            "Places drops of the volume and on the raster that the job's section drops states, so that cavities are filled and"
                    + " the wanted residual layer is left everywhere; writes drops.csv, drops.geojson and maps.",
            "Without --out the results go beside those of a run, into <output.directory>-drops."
        },
        footerHeading = "%nExamples:%n",
        footer = {"  evenstamp drops first/job.yaml", "  evenstamp drops first/job.yaml --out dropped"})
final class DropsCommand implements Callable<Integer> {
    private final ToolContext context;

    @Parameters(paramLabel = "JOB", description = "The job file, YAML or JSON.")
    @Nullable
    Path file;

    @Mixin
    CommonOptions options = new CommonOptions();

    @Mixin
    CommonOptions.Plugins plugins = new CommonOptions.Plugins();

    DropsCommand(ToolContext context) {
        this.context = context;
    }

    @Override
    public Integer call() {
        Job job = Job.read(Objects.requireNonNull(file), context.pipeline(plugins.directories));
        Path out = options.out != null
                ? options.out
                : job.output().resolveSibling(job.output().getFileName() + "-drops");
        JobRunner runner = new JobRunner(context, options);
        try (ResultsDirectory directory = ResultsDirectory.open(out, options.replace)) {
            context.interruption().cleanUpWith(directory::close);
            RunRecord started = RunRecord.start(options.threads());
            DropProposal proposal = runner.watched(() -> DropDesign.of(job, options.run(), context.progress()));
            RunRecord run = started.end();
            Results results = proposal.results();
            DropFiles files = new DropFiles(proposal);
            directory.add("drops.csv", files::csv);
            directory.add("drops.geojson", files::geoJson);
            runner.watched(() -> {
                runner.writeReport(PageContent.of(job.measuring(), results), directory);
                runner.writeTiles(results, directory);
                ResultsWriter.write(results, run, directory, context.progress());
                context.progress().checkCancelled();
                return true;
            });
            runner.publish(directory, out);
            if (options.json && !options.quiet) {
                context.console().out().print(ResultJson.write(results));
            } else if (!options.quiet) {
                tell(proposal, out);
            }
            return options.exitCode(results);
        }
    }

    private void tell(DropProposal proposal, Path out) {
        PrintWriter text = context.console().out();
        DropMap map = proposal.drops();
        text.println(String.format(
                Locale.ROOT,
                "%,d drops of %.4g pL on %,d x %,d sites: %.6g nL dispensed, %.6g nL left after evaporation",
                map.total(),
                proposal.dropCubicMetres() * 1e15,
                map.columns(),
                map.rows(),
                map.total() * proposal.dropCubicMetres() * 1e12,
                map.total() * proposal.leftCubicMetres() * 1e12));
        if (proposal.slowestSeconds() > 0) {
            text.println(String.format(
                    Locale.ROOT, "the slowest drops meet after %.4g s at least", proposal.slowestSeconds()));
        }
        proposal.results()
                .warnings()
                .forEach(warning -> text.println("warning " + warning.origin() + ": " + warning.message()));
        text.println("results: " + out);
        text.println(
                "Solvents and uncured resins harm skin and lungs and may burn: follow the makers' instructions, local codes"
                        + " and trained staff.");
        text.flush();
    }
}
