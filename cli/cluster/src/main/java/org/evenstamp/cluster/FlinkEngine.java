package org.evenstamp.cluster;

import java.nio.file.Path;
import java.util.Map;
import org.evenstamp.engine.remote.RemoteEngine;
import org.evenstamp.engine.remote.RemotePlace;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.engine.sweep.PointRunner;
import org.evenstamp.engine.sweep.SweepPlan;
import org.evenstamp.shared.progress.Progress;

/** Apache Flink: a standing cluster behind its REST address, or one within this process. */
public final class FlinkEngine implements RemoteEngine {
    /** Where the logs of the engine's own classes in this process go; nowhere unless the user wants them. */
    private static final String LOG_LEVEL = "org.slf4j.simpleLogger.defaultLogLevel";

    /** Creates it for whoever found its name. */
    public FlinkEngine() {
        if (System.getProperty(LOG_LEVEL) == null) {
            System.setProperty(LOG_LEVEL, "off");
        }
    }

    @Override
    public String scheme() {
        return "flink";
    }

    @Override
    public String version() {
        return ownVersion();
    }

    /** Returns the version of this part; {@link Simulation#NOT_PACKED} when its classes do not come from a jar. */
    static String ownVersion() {
        String version = FlinkEngine.class.getPackage().getImplementationVersion();
        return version == null ? Simulation.NOT_PACKED : version;
    }

    @Override
    public PointRunner points(RemotePlace place, SweepPlan plan, String identity, Progress progress) {
        Cluster cluster = Cluster.connect(place);
        StoreFolder store = StoreFolder.open(place.store(), "sweep-" + identity.substring(0, 16));
        try {
            return new SweepClient(cluster, store, plan, place.plugins());
        } catch (RuntimeException e) {
            store.close();
            throw e;
        }
    }

    @Override
    public Results.MeasuredLayout measure(
            RemotePlace place, Path layout, Map<String, String> options, Progress progress) {
        Cluster cluster = Cluster.connect(place);
        try (StoreFolder store = StoreFolder.open(place.store(), LayoutClient.folder(layout, options))) {
            return new LayoutClient(cluster, store, place.threads(), progress).measure(place, layout, options);
        }
    }
}
