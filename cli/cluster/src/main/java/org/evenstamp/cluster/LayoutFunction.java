package org.evenstamp.cluster;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.apache.flink.api.common.functions.OpenContext;
import org.apache.flink.api.common.functions.RichMapFunction;
import org.evenstamp.geometry.tile.BandSpec;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.thread.Workers;
import org.jspecify.annotations.Nullable;

/** Does one kind of pieces of a layout on a worker; a piece whose file is in the store is not done again. */
final class LayoutFunction extends RichMapFunction<Long, Integer> {
    private final LayoutWork work;
    private final Kind kind;
    private final @Nullable BandSpec spec;
    private final long[] lines;

    /** The kinds of pieces, in their order. */
    enum Kind {
        SURVEY,
        SORT,
        SUM,
        LOOK
    }

    /**
     * Creates the function.
     *
     * @param spec the bands; null for a survey
     * @param lines first line of every part, for sorting
     */
    LayoutFunction(LayoutWork work, Kind kind, @Nullable BandSpec spec, long[] lines) {
        this.work = work;
        this.kind = kind;
        this.spec = spec;
        this.lines = lines.clone();
    }

    /** Returns the file that a piece comes to. */
    Path file(int number) {
        BandSpec bands = spec;
        if (bands == null) {
            return work.survey(number);
        }
        return switch (kind) {
            case SURVEY -> work.survey(number);
            case SORT -> work.sorted(bands, number);
            case SUM -> work.sums(bands, number);
            case LOOK -> work.look(bands, number);
        };
    }

    @Override
    public void open(OpenContext context) {
        Worker.check(work.version(), work.folder(), work.token());
    }

    @Override
    public Integer map(Long number) {
        int piece = Math.toIntExact(number);
        if (!Files.exists(file(piece))) {
            Progress progress = new Progress();
            try {
                // Not on this thread, so that it hears when the engine wants it to end.
                Workers.run("layout", 1, progress, () -> {
                    run(piece, progress);
                    return piece;
                });
            } catch (CancelledException | WorkerProblem e) {
                throw e;
            } catch (InputException e) {
                throw WorkerProblem.of(e);
            } catch (RuntimeException e) {
                throw e.getCause() instanceof IOException io
                        ? new WorkerProblem(
                                "engine.store-unreadable",
                                file(piece).toString(),
                                "a worker cannot use the store: " + io,
                                "look whether the disk is full or gone, and run again")
                        : new WorkerDefect(e);
            }
        }
        return piece;
    }

    private void run(int piece, Progress progress) throws IOException {
        BandSpec bands = spec;
        if (bands == null) {
            work.surveyPart(piece, progress);
            return;
        }
        switch (kind) {
            case SURVEY -> work.surveyPart(piece, progress);
            case SORT -> work.sortPart(bands, piece, lines[piece], progress);
            case SUM -> work.sumBand(bands, piece, progress);
            case LOOK -> work.lookAtBand(bands, piece, progress);
        }
    }
}
