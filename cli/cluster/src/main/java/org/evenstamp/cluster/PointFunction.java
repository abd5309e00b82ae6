package org.evenstamp.cluster;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.apache.flink.api.common.functions.OpenContext;
import org.apache.flink.api.common.functions.RichMapFunction;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.sweep.PointFile;
import org.evenstamp.engine.sweep.PointRun;
import org.evenstamp.engine.sweep.SweepPoint;
import org.evenstamp.engine.sweep.SweepReader;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.thread.Workers;
import org.jspecify.annotations.Nullable;

/** Computes points on a worker and writes each into a file in the store; one that is there is not computed again. */
final class PointFunction extends RichMapFunction<Long, Integer> {
    private static final int SHARE = 1000;

    /** The sweep that this worker computes; its tile maps serve all threads of the worker. */
    private static @Nullable Sweeping current;

    private final SharedInputs inputs;
    private final int[] points;
    private transient @Nullable Sweeping sweep;

    private record Sweeping(String token, Job job, PointRun run) {}

    /**
     * Creates the function.
     *
     * @param points numbers of the points that are wanted
     */
    PointFunction(SharedInputs inputs, int[] points) {
        this.inputs = inputs;
        this.points = points.clone();
    }

    /** Returns where a point stands in the store. */
    static Path file(Path folder, int point) {
        return folder.resolve("points").resolve(String.valueOf(point / SHARE)).resolve(point + ".point");
    }

    @Override
    public void open(OpenContext context) {
        inputs.check();
        sweep = sweeping(inputs);
    }

    private static synchronized Sweeping sweeping(SharedInputs inputs) {
        Sweeping now = current;
        if (now == null || !now.token.equals(inputs.token())) {
            try {
                Job job = inputs.read();
                now = new Sweeping(inputs.token(), job, new PointRun(SweepReader.read(job)));
            } catch (InputException e) {
                throw WorkerProblem.of(e);
            }
            current = now;
        }
        return now;
    }

    @Override
    public Integer map(Long number) {
        Sweeping mine = sweep;
        if (mine == null) {
            throw new IllegalStateException("not open");
        }
        int index = points[Math.toIntExact(number)];
        Path file = file(Path.of(inputs.folder()), index);
        if (!Files.exists(file)) {
            write(file, compute(mine, index));
        }
        return index;
    }

    private PointRun.Found compute(Sweeping mine, int index) {
        Progress progress = new Progress();
        try {
            // Not on this thread, so that it hears when the engine wants it to end.
            PointRun.Found found = Workers.run("sweep", 1, progress, () -> mine.run.of(index, progress))
                    .get(0);
            return found.point().finished()
                    ? found
                    : new PointRun.Found(
                            SweepPoint.failed(
                                    index,
                                    inputs.asTheUserNamesThem(found.point().failure(), mine.job)),
                            found.kept());
        } catch (CancelledException e) {
            throw e;
        } catch (RuntimeException e) {
            throw new WorkerDefect(e);
        }
    }

    private void write(Path file, PointRun.Found found) {
        try {
            PointFile.write(file, found);
        } catch (IOException e) {
            throw Worker.unwritable(file, e);
        }
    }
}
