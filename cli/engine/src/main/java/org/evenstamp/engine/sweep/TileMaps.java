package org.evenstamp.engine.sweep;

import java.util.Optional;
import org.evenstamp.engine.job.FilmMap;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.LampMap;
import org.evenstamp.engine.job.LayoutChoice;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.engine.run.StageMemory;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;

/** Tile maps of variants of a job: those that need the same share it. */
final class TileMaps {
    /** Tile maps that are kept for further points; more than these are measured again. */
    private static final int MAPS = 4;

    private final StageMemory memory = new StageMemory(MAPS);

    /** What a tile map depends on; the layout's file does not change while variants run. */
    private record MeasuredFrom(
            LayoutChoice layout,
            @Nullable Double sideMetres,
            @Nullable Double depthMetres,
            MapOptions.Structure structure,
            Optional<String> surround,
            Optional<String> edge,
            @Nullable FilmMap film,
            @Nullable LampMap lamp) {}

    /** Returns the tile map of a job. */
    synchronized FieldSet of(Job job, Progress progress) {
        Job.Coating film = job.film();
        return memory.of(
                "tile map",
                () -> new MeasuredFrom(
                        job.layout(),
                        job.tileSideMetres(),
                        job.depthMetres(),
                        job.structure(),
                        job.settings().findChoice("stamp.surround"),
                        job.settings().findChoice("film.edge"),
                        film == null ? null : film.map(),
                        job.lamp()),
                () -> Simulation.measure(job, RunOptions.STANDARD, progress));
    }
}
