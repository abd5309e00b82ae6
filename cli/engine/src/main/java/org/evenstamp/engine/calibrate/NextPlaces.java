package org.evenstamp.engine.calibrate;

import java.util.ArrayList;
import java.util.List;
import org.evenstamp.analysis.statistics.LeastSquaresFit;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.grid.TileGrid;

/**
 * The places that would tell most: one after the other, each where a further reading lowers the volume of the values' uncertainty
 * most (D-optimal, greedy), not in a keep-out and not in a tile beside one that was taken: a second reading there would share
 * what is wrong with the first.
 *
 * <p>A reading of variance {@code σ²} at a place with slopes {@code s} takes the covariance {@code C} to {@code C - C s sᵀ C/(σ² +
 * sᵀ C s)}, and its determinant falls by the factor {@code 1 + sᵀ C s/σ²}.
 */
final class NextPlaces {
    private NextPlaces() {}

    static List<CalibrationResult.NextPlace> of(
            List<Field> slopes,
            LeastSquaresFit.Result fit,
            double variance,
            int count,
            List<MapOptions.Outline> keepOuts) {
        int keys = slopes.size();
        TileGrid grid = slopes.get(0).grid();
        double[][] covariance = new double[keys][keys];
        for (int j = 0; j < keys; j++) {
            for (int k = 0; k < keys; k++) {
                covariance[j][k] = fit.covariance(j, k);
            }
        }
        boolean[] taken = new boolean[grid.size()];
        for (int i = 0; i < taken.length; i++) {
            double x = grid.centreXMetres(grid.column(i));
            double y = grid.centreYMetres(grid.row(i));
            taken[i] = keepOuts.stream().anyMatch(one -> one.holds(x, y));
        }
        List<CalibrationResult.NextPlace> places = new ArrayList<>();
        for (int n = 0; n < count; n++) {
            int best = -1;
            double gain = 0;
            for (int i = 0; i < grid.size(); i++) {
                double told = taken[i] ? 0 : told(slopes, covariance, i);
                if (told > gain) {
                    gain = told;
                    best = i;
                }
            }
            if (best < 0) {
                return places;
            }
            takeAround(best, grid, taken);
            double[] s = at(slopes, best);
            double[] cs = times(covariance, s);
            for (int j = 0; j < keys; j++) {
                for (int k = 0; k < keys; k++) {
                    covariance[j][k] -= cs[j] * cs[k] / (variance + gain);
                }
            }
            double[] errors = new double[keys];
            for (int k = 0; k < keys; k++) {
                errors[k] = Math.sqrt(Math.max(0, covariance[k][k]));
            }
            places.add(new CalibrationResult.NextPlace(
                    grid.centreXMetres(grid.column(best)), grid.centreYMetres(grid.row(best)), errors));
        }
        return places;
    }

    private static void takeAround(int tile, TileGrid grid, boolean[] taken) {
        for (int row = Math.max(0, grid.row(tile) - 1); row <= Math.min(grid.rows() - 1, grid.row(tile) + 1); row++) {
            for (int column = Math.max(0, grid.column(tile) - 1);
                    column <= Math.min(grid.columns() - 1, grid.column(tile) + 1);
                    column++) {
                taken[grid.index(column, row)] = true;
            }
        }
    }

    private static double told(List<Field> slopes, double[][] covariance, int tile) {
        double[] s = at(slopes, tile);
        double[] cs = times(covariance, s);
        double told = 0;
        for (int k = 0; k < s.length; k++) {
            told += s[k] * cs[k];
        }
        return told;
    }

    private static double[] at(List<Field> slopes, int tile) {
        double[] s = new double[slopes.size()];
        for (int k = 0; k < s.length; k++) {
            s[k] = slopes.get(k).known(tile) ? slopes.get(k).at(tile) : 0;
        }
        return s;
    }

    private static double[] times(double[][] matrix, double[] vector) {
        double[] product = new double[vector.length];
        for (int j = 0; j < vector.length; j++) {
            for (int k = 0; k < vector.length; k++) {
                product[j] += matrix[j][k] * vector[k];
            }
        }
        return product;
    }
}
