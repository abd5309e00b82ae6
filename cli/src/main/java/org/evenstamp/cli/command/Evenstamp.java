package org.evenstamp.cli.command;

import java.io.PrintWriter;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.evenstamp.cli.console.Expense;
import org.evenstamp.cli.exit.ExitCode;
import org.evenstamp.cli.exit.Failure;
import org.evenstamp.cli.job.NearestWord;
import org.evenstamp.cli.watch.LookedAtFiles;
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
            "  3    the job, the layout or the place for results is not usable",
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
    public static int run(Surroundings surroundings, String... arguments) {
        CommandLine line = line(surroundings);
        long begin = surroundings.progress().nanos();
        int code = line.execute(arguments);
        Evenstamp root = line.getCommand();
        if (root.verbose && code != ExitCode.WRONG_USAGE) {
            double seconds = (surroundings.progress().nanos() - begin) * 1e-9;
            line.getErr().print(Expense.of(surroundings.progress().stages(), seconds, Expense.peakHeapBytes()));
        }
        line.getOut().flush();
        line.getErr().flush();
        return code;
    }

    /** Returns the command line with all its verbs. */
    static CommandLine line(Surroundings surroundings) {
        PrintWriter err = surroundings.console().err();
        Evenstamp root = new Evenstamp();
        CommandLine line = new CommandLine(root)
                .addSubcommand(new RunCommand(surroundings))
                .addSubcommand(new WatchCommand(surroundings, new LookedAtFiles(surroundings.progress())))
                .addSubcommand(new MeasureCommand(surroundings))
                .addSubcommand(new CheckCommand(surroundings))
                .addSubcommand(new DummyCommand(surroundings))
                .addSubcommand(new DropsCommand(surroundings))
                .addSubcommand(new FilmCommand(surroundings))
                .addSubcommand(new RecipeCommand(surroundings))
                .addSubcommand(new CompareCommand(surroundings))
                .addSubcommand(new NewCommand(surroundings))
                .addSubcommand(new ListCommand(surroundings))
                .addSubcommand(new CompletionCommand(surroundings))
                .addSubcommand(new ManualCommand(surroundings));
        line.getSubcommands().values().forEach(verb -> verb.getCommandSpec().mixinStandardHelpOptions(true));
        line.getCommandSpec().version("evenstamp " + surroundings.version());
        line.getSubcommands()
                .values()
                .forEach(verb -> verb.getCommandSpec().version("evenstamp " + surroundings.version()));
        return line.setOut(surroundings.console().out())
                .setErr(err)
                .setColorScheme(CommandLine.Help.defaultColorScheme(
                        surroundings.console().colour() ? CommandLine.Help.Ansi.ON : CommandLine.Help.Ansi.OFF))
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
