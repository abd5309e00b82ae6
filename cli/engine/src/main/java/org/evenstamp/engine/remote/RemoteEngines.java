package org.evenstamp.engine.remote;

import java.util.List;
import java.util.ServiceLoader;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.shared.problem.InputException;

/** Finds the engine of an address. */
public final class RemoteEngines {
    /** What an address of ours may begin with; its engine comes in an archive of its own. */
    private static final String KNOWN = "flink";

    private RemoteEngines() {}

    /**
     * Finds the engine.
     *
     * @throws InputException when none understands the address, or the one that does is of another version
     */
    public static RemoteEngine of(RemotePlace place) {
        for (RemoteEngine engine : ServiceLoader.load(RemoteEngine.class)) {
            if (engine.scheme().equals(place.scheme())) {
                return sameVersion(engine, place);
            }
        }
        if (place.scheme().equals(KNOWN)) {
            throw new InputException(
                    "engine.missing",
                    place.address(),
                    "the part of evenstamp that runs work on a cluster is not here",
                    "unpack evenstamp-cluster-" + Simulation.version()
                            + ".tar.gz beside the launcher, or pack it with cli/cluster/archive; docs/cluster.md");
        }
        throw new InputException(
                "engine.address",
                place.address(),
                "this is no address of an engine",
                "write flink://HOST:PORT, or flink://local for one in this process");
    }

    private static RemoteEngine sameVersion(RemoteEngine engine, RemotePlace place) {
        List<String> both = List.of(engine.version(), Simulation.version());
        // Classes that are not packed have no version to compare.
        if (!both.contains(Simulation.NOT_PACKED) && !both.get(0).equals(both.get(1))) {
            throw new InputException(
                    "engine.version",
                    place.address(),
                    "evenstamp is of version " + Simulation.version() + ", its part for clusters of "
                            + engine.version(),
                    "take both of one version");
        }
        return engine;
    }
}
