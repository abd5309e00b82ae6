package org.evenstamp.engine.design;

import java.util.List;
import java.util.Optional;
import org.evenstamp.analysis.dummy.DummySearch;
import org.evenstamp.analysis.film.FilmSensitivity;
import org.evenstamp.analysis.film.LayerGoal;
import org.evenstamp.analysis.film.LayerSensitivity;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.result.ResidualLayer;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.engine.sensitivity.FilmVariant;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.thread.Workers;
import org.jspecify.annotations.Nullable;

/** Solves of a stamp with dummies: they are drawn, the layout with them is measured, and the film is solved on it. */
final class DummyTrials implements DummySearch.Truth<DummyTrials.Trial> {
    private final DummyFill fill;
    private final LayerGoal goal;
    private final RunOptions options;
    private final Progress progress;
    private String noSlopes;
    /** The last solve that was recorded: its steps take much room, so no other one is kept. */
    private @Nullable FilmSensitivity recorded;

    private @Nullable Trial recordedOf;

    /**
     * Prepares.
     *
     * @param noSlopes why the way back is not taken; empty where it is
     */
    DummyTrials(DummyFill fill, LayerGoal goal, String noSlopes, RunOptions options, Progress progress) {
        this.fill = fill;
        this.goal = goal;
        this.noSlopes = noSlopes;
        this.options = options;
        this.progress = progress;
    }

    /** Returns why the way back is not taken; empty where it is. */
    String noSlopes() {
        return noSlopes;
    }

    @Override
    public Trial solve(double[] amounts) {
        DummyFill.Filled filled = fill.fill(amounts);
        FieldSet tiles = Simulation.measure(filled.job(), options.withHashes(false), progress);
        if (!noSlopes.isEmpty()) {
            return forwards(filled, tiles);
        }
        try {
            FilmSensitivity film = record(filled.job(), tiles);
            Trial trial = new Trial(filled, tiles, film.residual());
            recorded = film;
            recordedOf = trial;
            return trial;
        } catch (InputException e) {
            noSlopes = e.problems().stream()
                    .filter(problem -> problem.code().equals("sensitivity.no-way-back"))
                    .findFirst()
                    .orElseThrow(() -> e)
                    .message();
            return forwards(filled, tiles);
        }
    }

    /** Where tiles are few, the film of one stamp is solved, which takes one thread, while the next one is drawn and measured. */
    @Override
    public List<Trial> solveEach(List<double[]> amounts) {
        Object drawing = new Object(); // all are drawn into the same files
        int atOnce = amounts.stream().anyMatch(one -> ThreadTeam.isWorthSharing(one.length)) ? 1 : 2;
        return Workers.map(amounts, Math.min(atOnce, options.threads()), one -> {
            DummyFill.Filled filled;
            FieldSet tiles;
            synchronized (drawing) {
                filled = fill.fill(one);
                tiles = Simulation.measure(filled.job(), options.withHashes(false), progress);
            }
            return noSlopes.isEmpty()
                    ? new Trial(
                            filled,
                            tiles,
                            FilmSensitivity.residual(FilmVariant.of(filled.job(), tiles), options.threads(), progress))
                    : forwards(filled, tiles);
        });
    }

    /** Solves without a way back, and with whatever the job computes the layer by. */
    private Trial forwards(DummyFill.Filled filled, FieldSet tiles) {
        return new Trial(
                filled,
                tiles,
                layer(Simulation.analyse(filled.job(), tiles, options, progress).fields()));
    }

    private FilmSensitivity record(Job job, FieldSet tiles) {
        recorded = null;
        recordedOf = null;
        return FilmSensitivity.solve(FilmVariant.of(job, tiles), options.threads(), progress);
    }

    /** Returns the residual layer of a run, in m. */
    static double[] layer(FieldSet fields) {
        return residual(fields).toArray();
    }

    /** Returns the residual layer of a run; a job that has none cannot be evened out. */
    static Field residual(FieldSet fields) {
        return ResidualLayer.of(fields)
                .orElseThrow(() -> new InputException(
                        "dummy.no-residual",
                        "",
                        "no analysis of this job gives a residual layer to even out",
                        "set film.thickness at least"));
    }

    /** A stamp with dummies that was solved. */
    final class Trial implements DummySearch.Trial {
        private final DummyFill.Filled filled;
        private final FieldSet tiles;
        private final double[] layer;
        private double @Nullable [] slopes;

        private Trial(DummyFill.Filled filled, FieldSet tiles, double[] layer) {
            this.filled = filled;
            this.tiles = tiles;
            this.layer = layer;
        }

        DummyFill.Filled filled() {
            return filled;
        }

        FieldSet tiles() {
            return tiles;
        }

        @Override
        public double[] amounts() {
            return fill.amounts(filled);
        }

        @Override
        public double[] layer() {
            return layer.clone();
        }

        @Override
        public Optional<double[]> slopes() {
            if (!noSlopes.isEmpty()) {
                return Optional.empty();
            }
            if (slopes == null) {
                FilmSensitivity film = recordedOf == this && recorded != null ? recorded : record(filled.job(), tiles);
                LayerSensitivity back = film.back(List.of(goal), List.of()).get(0);
                double[] found = back.byVolume();
                double[] byFraction = back.byFraction();
                double[] depth = fill.depthMetres();
                for (int i = 0; i < found.length; i++) {
                    found[i] += byFraction[i] / depth[i];
                }
                slopes = found;
            }
            return Optional.of(slopes.clone());
        }
    }
}
