package org.evenstamp.tool.command;

import java.io.PrintWriter;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.evenstamp.engine.job.NearestWord;
import org.evenstamp.tool.console.RunCost;
import org.evenstamp.tool.exit.ExitCode;
import org.evenstamp.tool.exit.Failure;
import org.evenstamp.tool.watch.PolledFiles;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.ScopeType;
import picocli.CommandLine.Spec;
import picocli.CommandLine.UnmatchedArgumentException;

/** The command line as a whole. */
@Command(
        name = "evenstamp",
        mixinStandardHelpOptions = true,
        description = "Maps of cavity, film and residual layer for nanoimprint stamps, from the layout's polygons.",
        footerHeading = "%nExit codes:%n",
        footer = {
            "  0    done, within all limits",
            "  1    done, a limit of the job is exceeded",
            "  2    wrong usage of the command line",
            "  3    the job, the layout, a plug-in or the place for results is not usable",
            "  4    a defect of evenstamp",
            "  130  interrupted",
            "",
            "First steps:",
            "  evenstamp new first",
            "  evenstamp run first/job.yaml",
            "  evenstamp run --help"
        })
public final class Evenstamp implements Callable<Integer> {
    @Spec
    CommandSpec spec = CommandSpec.create();

    @Option(
            names = "--verbose",
            scope = ScopeType.INHERIT,
            description =
                    "Show at the end how long each stage took and how much memory was used, and the stack trace when a"
                            + " defect of evenstamp ends the run.")
    boolean verbose;

    private Evenstamp() {}

    @Override
    public Integer call() {
        spec.commandLine().usage(spec.commandLine().getErr());
        return ExitCode.WRONG_USAGE;
    }

    /**
     * Runs a command line.
     *
     * @return the exit code
     */
    public static int run(ToolContext context, String... arguments) {
        CommandLine line = line(context);
        long begin = context.progress().nanos();
        Evenstamp root = line.getCommand();
        int code = executed(line, root, context.console().err(), arguments);
        if (root.verbose && code != ExitCode.WRONG_USAGE) {
            double seconds = (context.progress().nanos() - begin) * 1e-9;
            line.getErr().print(RunCost.of(context.progress().stages(), seconds, RunCost.peakHeapBytes()));
        }
        line.getErr().flush();
        return line.getOut().checkError() ? Failure.unwritableOutput(line.getErr()) : code;
    }

    private static int executed(CommandLine line, Evenstamp root, PrintWriter err, String... arguments) {
        try {
            return line.execute(arguments);
        } catch (Throwable failure) { // the command line library hands on what is no exception but an error
            return Failure.tell(failure, err, root.verbose);
        }
    }

    /** Returns the command line with all its verbs. */
    static CommandLine line(ToolContext context) {
        PrintWriter err = context.console().err();
        Evenstamp root = new Evenstamp();
        CommandLine line = new CommandLine(root)
                .addSubcommand(new RunCommand(context))
                .addSubcommand(new WatchCommand(context, new PolledFiles(context.progress())))
                .addSubcommand(new MeasureCommand(context))
                .addSubcommand(new CheckCommand(context))
                .addSubcommand(new DummyCommand(context))
                .addSubcommand(new DropsCommand(context))
                .addSubcommand(new FilmCommand(context))
                .addSubcommand(new RecipeCommand(context))
                .addSubcommand(new SensitivityCommand(context))
                .addSubcommand(new SweepCommand(context))
                .addSubcommand(new CalibrateCommand(context))
                .addSubcommand(new CompareCommand(context))
                .addSubcommand(new NewCommand(context))
                .addSubcommand(new ListCommand(context))
                .addSubcommand(new CompletionCommand(context))
                .addSubcommand(new ManualCommand(context));
        line.getSubcommands().values().forEach(verb -> verb.getCommandSpec().mixinStandardHelpOptions(true));
        line.getCommandSpec().version("evenstamp " + context.version());
        line.getSubcommands().values().forEach(verb -> verb.getCommandSpec().version("evenstamp " + context.version()));
        return line.setOut(context.console().out())
                .setErr(err)
                .setColorScheme(CommandLine.Help.defaultColorScheme(
                        context.console().colour() ? CommandLine.Help.Ansi.ON : CommandLine.Help.Ansi.OFF))
                .setExecutionExceptionHandler((failure, command, parsed) -> {
                    if (failure instanceof ParameterException parameter) {
                        return usage(parameter, err);
                    }
                    return Failure.tell(failure, err, root.verbose);
                })
                .setParameterExceptionHandler((failure, parsed) -> usage(failure, err));
    }

    /** Returns the verb or option that the first word not understood was meant to be. */
    private static Optional<String> nearest(UnmatchedArgumentException failure) {
        CommandSpec command = failure.getCommandLine().getCommandSpec();
        String typed = failure.getUnmatched().get(0);
        return NearestWord.of(
                typed,
                typed.startsWith("-")
                        ? command.optionsMap().keySet()
                        : command.subcommands().keySet());
    }

    private static int usage(ParameterException failure, PrintWriter err) {
        String.valueOf(failure.getMessage()).lines().forEach(problem -> err.println("error: " + problem));
        if (failure instanceof UnmatchedArgumentException unmatched) {
            nearest(unmatched).ifPresent(word -> err.println("did you mean " + word + "?"));
        }
        err.println("try: " + failure.getCommandLine().getCommandSpec().qualifiedName() + " --help");
        err.flush();
        return ExitCode.WRONG_USAGE;
    }
}
