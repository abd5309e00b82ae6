package org.evenstamp.engine.design;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.evenstamp.analysis.dummy.DummySearch;
import org.evenstamp.analysis.film.FilmSensitivity;
import org.evenstamp.analysis.film.LayerGoal;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.sensitivity.FilmVariant;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;

/** Solves of one stamp on films that differ from tile to tile. An amount is film that a tile has less, as a cavity takes it. */
final class FilmTrials implements DummySearch.Truth<FilmTrials.Trial> {
    private final Job job;
    private final FieldSet tiles;
    private final double[] film;
    private final LayerGoal goal;
    private final RunOptions options;
    private final Progress progress;

    /** Prepares, from a film of each tile in m. */
    FilmTrials(Job job, FieldSet tiles, double[] film, LayerGoal goal, RunOptions options, Progress progress) {
        this.job = job;
        this.tiles = tiles;
        this.film = film;
        this.goal = goal;
        this.options = options;
        this.progress = progress;
    }

    @Override
    public Trial solve(double[] amounts) {
        double[] coated = film.clone();
        Arrays.setAll(coated, i -> film[i] - amounts[i]);
        FieldSet on = LeverDesign.on(tiles, coated);
        return new Trial(
                amounts.clone(), coated, FilmSensitivity.solve(FilmVariant.of(job, on), options.threads(), progress));
    }

    /** A film that was solved. */
    final class Trial implements DummySearch.Trial {
        private final double[] amounts;
        private final double[] coated;
        private final double[] layer;
        private @Nullable FilmSensitivity solve;
        private double @Nullable [] slopes;

        private Trial(double[] amounts, double[] coated, FilmSensitivity solve) {
            this.amounts = amounts;
            this.coated = coated;
            this.solve = solve;
            layer = solve.residual();
        }

        double[] coated() {
            return coated.clone();
        }

        @Override
        public double[] amounts() {
            return amounts.clone();
        }

        @Override
        public double[] layer() {
            return layer.clone();
        }

        @Override
        public Optional<double[]> slopes() {
            if (slopes == null && solve != null) {
                slopes = solve.back(List.of(goal), List.of()).get(0).byThickness();
                for (int i = 0; i < slopes.length; i++) {
                    slopes[i] = -slopes[i];
                }
                solve = null; // its steps take much room
            }
            return Optional.ofNullable(slopes).map(double[]::clone);
        }
    }
}
