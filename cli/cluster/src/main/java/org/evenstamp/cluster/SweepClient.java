package org.evenstamp.cluster;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.IntStream;
import org.apache.flink.api.common.eventtime.WatermarkStrategy;
import org.apache.flink.streaming.api.environment.StreamExecutionEnvironment;
import org.apache.flink.streaming.api.functions.sink.v2.DiscardingSink;
import org.evenstamp.engine.sweep.PointFile;
import org.evenstamp.engine.sweep.PointRun;
import org.evenstamp.engine.sweep.PointRunner;
import org.evenstamp.engine.sweep.SweepPlan;
import org.evenstamp.engine.sweep.SweepStore;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;

/** Has the points of a sweep computed by a cluster, and takes each from the store as soon as it is there. */
final class SweepClient implements PointRunner {
    private final Cluster cluster;
    private final StoreFolder folder;
    private final SweepPlan plan;
    private final SharedInputs inputs;

    SweepClient(Cluster cluster, StoreFolder folder, SweepPlan plan, List<Path> plugins) {
        this.cluster = cluster;
        this.folder = folder;
        this.plan = plan;
        this.inputs = SharedInputs.copy(folder, plan, plugins);
        folder.lastJob().ifPresent(cluster::cancel);
    }

    @Override
    public void run(int from, int to, SweepStore store, Stage stage, Progress progress) {
        TreeSet<Integer> missing = new TreeSet<>();
        IntStream.range(from, to).filter(index -> !store.has(index)).forEach(missing::add);
        stage.advance(to - from - missing.size());
        take(missing, store, stage);
        if (missing.isEmpty()) {
            return;
        }
        int[] wanted = missing.stream().mapToInt(Integer::intValue).toArray();
        StreamExecutionEnvironment environment = cluster.environment(Math.min(wanted.length, cluster.tasks()));
        environment
                .fromSource(new PointSource(wanted.length), WatermarkStrategy.noWatermarks(), "points")
                .map(new PointFunction(inputs, wanted))
                .name("compute")
                .sinkTo(new DiscardingSink<>());
        cluster.run(
                environment,
                "evenstamp sweep " + plan.job().name(),
                folder,
                () -> take(missing, store, stage),
                progress);
        take(missing, store, stage);
        if (!missing.isEmpty()) {
            throw new IllegalStateException(
                    "the job ended, and point " + missing.first() + " is not in " + folder.directory());
        }
    }

    /** Moves what has ended from the folder into the store. */
    private void take(Set<Integer> missing, SweepStore store, Stage stage) {
        for (int index : List.copyOf(missing)) {
            Optional<PointRun.Found> found;
            try {
                found = PointFile.read(PointFunction.file(folder.directory(), index), plan);
            } catch (IOException e) {
                throw StoreFolder.unusable(folder.directory(), e);
            }
            if (found.isPresent()) {
                store.add(found.get().point(), found.get().kept());
                missing.remove(index);
                stage.advance(1);
            }
        }
    }

    @Override
    public void close() {
        folder.close();
    }
}
