package org.evenstamp.engine.sensitivity;

import java.util.List;
import java.util.OptionalDouble;
import org.evenstamp.engine.result.Results;

/**
 * What a solve that was asked backwards has to say.
 *
 * @param results the run, with the maps of where cavity area and film help among its fields
 * @param goals the numbers asked for
 * @param left limits and numbers that were not asked for
 * @param unfilledTiles tiles whose cavities are not full at the end
 * @param steps time steps that were gone back
 */
public record SensitivityAnswer(
        Results results, List<OfGoal> goals, List<Goal.Left> left, int unfilledTiles, int steps) {
    /** Copies the lists. */
    public SensitivityAnswer {
        goals = List.copyOf(goals);
        left = List.copyOf(left);
    }

    /**
     * One goal.
     *
     * @param goal what was asked
     * @param value the number as it is, in m or s
     * @param turns what each knob does to it, the strongest first
     * @param shares who causes it; empty where it is no spread
     */
    public record OfGoal(Goal goal, double value, List<Turned> turns, List<Share> shares) {
        /** Copies the lists. */
        public OfGoal {
            turns = List.copyOf(turns);
            shares = List.copyOf(shares);
        }
    }

    /**
     * What one turn of a knob does to a goal.
     *
     * @param key of the job
     * @param step what one turn is
     * @param meaning of the key
     * @param change of the goal in its SI unit, to first order
     * @param checked the same by central differences of solves; empty where none were asked for
     */
    public record Turned(String key, String step, String meaning, double change, OptionalDouble checked) {}

    /**
     * A part of a spread.
     *
     * @param what who causes it
     * @param share of the whole; negative where it evens out
     * @param areaShare share of the map's area
     */
    public record Share(String what, double share, double areaShare) {}
}
