package org.evenstamp.tool.command;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.evenstamp.engine.remote.RemotePlace;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Options of commands whose work others may do. */
final class EngineOptions {
    @Option(
            names = "--engine",
            paramLabel = "ADDRESS",
            description =
                    "Let a cluster do the work: flink://HOST:PORT, or flink://local for one in this process. Does not change the results.")
    @Nullable
    String engine;

    @Option(
            names = "--store",
            paramLabel = "DIR",
            description = "With --engine: a directory that this machine and all workers see under the same name.")
    @Nullable
    Path store;

    @Spec(Spec.Target.MIXEE)
    CommandSpec spec = CommandSpec.create();

    /** Returns where the work is to be done; nothing when here. */
    Optional<RemotePlace> place(int threads, List<Path> plugins) {
        if (engine == null && store == null) {
            return Optional.empty();
        }
        if (engine == null || store == null) {
            throw new ParameterException(spec.commandLine(), "--engine and --store go together");
        }
        return Optional.of(new RemotePlace(engine, store, threads, plugins));
    }
}
