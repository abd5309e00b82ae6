package org.evenstamp.geometry.tile;

import java.util.ArrayList;
import java.util.List;
import org.evenstamp.geometry.layout.Pose;
import org.evenstamp.geometry.tile.MapOptions.Outline;
import org.jspecify.annotations.Nullable;

/**
 * How a layout is stepped over the stamp: copies of it, called dies, in columns and rows. The first die, column 1 and row 1,
 * lies as the layout is drawn but for an offset; columns count along x and rows along y.
 *
 * @param columns dies along x, at least 1
 * @param rows dies along y, at least 1
 * @param stepXMetres from one column to the next, positive
 * @param stepYMetres from one row to the next, positive
 * @param offsetXMetres shift of the first die
 * @param offsetYMetres shift of the first die
 * @param rectangle what belongs to the die as the layout is drawn; null for the bounding box of its features
 * @param omitted places without a die
 * @param turned places with a die that is turned about the middle of its rectangle; of several rules for one place the last counts
 */
public record DieArray(
        int columns,
        int rows,
        double stepXMetres,
        double stepYMetres,
        double offsetXMetres,
        double offsetYMetres,
        @Nullable Outline rectangle,
        List<Places> omitted,
        List<Turn> turned) {
    /** Most places of an array. */
    public static final int MOST_PLACES = 100_000;

    /** Checks the ranges. */
    public DieArray {
        if (columns < 1 || rows < 1 || (long) columns * rows > MOST_PLACES) {
            throw new IllegalArgumentException("an array of " + columns + " x " + rows + " dies");
        }
        if (!(stepXMetres > 0) || !(stepYMetres > 0)) {
            throw new IllegalArgumentException("the steps of an array must be positive");
        }
        omitted = List.copyOf(omitted);
        turned = List.copyOf(turned);
    }

    /**
     * Some places of an array.
     *
     * @param column which column, from 1; 0 for all
     * @param row which row, from 1; 0 for all
     */
    public record Places(int column, int row) {
        boolean holds(int itsColumn, int itsRow) {
            return (column == 0 || column == itsColumn) && (row == 0 || row == itsRow);
        }
    }

    /**
     * Places with a turned die.
     *
     * @param places where
     * @param quarterTurns counterclockwise, 0 to 3
     */
    public record Turn(Places places, int quarterTurns) {}

    /** Returns whether there is a die at a place. */
    private boolean stands(int column, int row) {
        return omitted.stream().noneMatch(places -> places.holds(column, row));
    }

    /** Returns the number of dies. */
    public int places() {
        int count = 0;
        for (int row = 1; row <= rows; row++) {
            for (int column = 1; column <= columns; column++) {
                count += stands(column, row) ? 1 : 0;
            }
        }
        return count;
    }

    /**
     * Returns the dies, row by row from the lowest, each from left to right.
     *
     * @param die rectangle of the die as the layout is drawn
     */
    public List<Die> dies(MapOptions.Outline die) {
        List<Die> dies = new ArrayList<>();
        for (int row = 1; row <= rows; row++) {
            for (int column = 1; column <= columns; column++) {
                if (stands(column, row)) {
                    dies.add(die(column, row, die));
                }
            }
        }
        return dies;
    }

    private Die die(int column, int row, MapOptions.Outline die) {
        int turns = 0;
        for (Turn turn : turned) {
            turns = turn.places.holds(column, row) ? turn.quarterTurns : turns;
        }
        double middleX = (die.minX() + die.maxX()) / 2;
        double middleY = (die.minY() + die.maxY()) / 2;
        double[] middle = {middleX, middleY};
        new Pose(false, turns, 0, 0).apply(middle, 1);
        // Undisturbed by the turn where there is none: middle - middle is 0.
        Pose pose = new Pose(
                false,
                turns,
                middleX - middle[0] + offsetXMetres + (column - 1) * stepXMetres,
                middleY - middle[1] + offsetYMetres + (row - 1) * stepYMetres);
        double[] box = {die.minX(), die.minY(), die.maxX(), die.maxY()};
        pose.applyToBox(box);
        return new Die(column, row, pose, new MapOptions.Outline(box[0], box[1], box[2], box[3]));
    }
}
