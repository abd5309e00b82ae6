package org.evenstamp.geometry.tile;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.evenstamp.geometry.layout.Pose;
import org.evenstamp.geometry.merge.Survey;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;
import org.jspecify.annotations.Nullable;

/**
 * The dies of a stepped layout, checked: none lies on another, and each has a part on the stamp.
 *
 * @param dies the copies
 * @param reliefBox left, lower, right and upper end of the relief as the layout is drawn
 */
@SuppressWarnings("ArrayRecordComponent") // read alone
record SteppedDies(List<Die> dies, double[] reliefBox) {
    private static final String KEY = "layout.array";
    /** Less of what is drawn is rounding; boxes are known to a millionth of their coordinates. */
    private static final double ROUNDING = 1e-6;

    /**
     * Places the dies.
     *
     * @param stamp the stamp's rectangle where it is given
     * @throws InputException when the layout is empty, dies overlap, or one lies beyond the stamp
     */
    static SteppedDies of(DieArray array, Survey survey, MapOptions.@Nullable Outline stamp) {
        double[] relief = survey.reliefBox();
        MapOptions.Outline drawn = array.rectangle();
        if (relief == null) {
            throw empty();
        }
        List<Die> dies = array.dies(drawn == null ? box(survey.totals()) : drawn);
        SteppedDies stepped = new SteppedDies(dies, relief);
        Problems problems = new Problems();
        stepped.refuseOverlaps(problems, drawn != null);
        if (stamp != null) {
            for (Die die : dies) {
                if (die.shareOn(stamp) == 0) {
                    problems.add(
                            "array.outside",
                            KEY,
                            die.name() + " lies beyond the stamp",
                            "omit it, or make the steps or layout.outline fit");
                }
            }
        }
        problems.throwIfAny();
        return stepped;
    }

    static InputException empty() {
        return new InputException(
                "layout.empty",
                "layout",
                "the layout has no usable polygon, so the stamp has no extent",
                "give the stamp's rectangle as layout.outline, or a layout with polygons");
    }

    /** Returns the bounding box of all features. */
    static MapOptions.Outline box(Survey.Totals totals) {
        if (totals.polygons() == 0 || !(totals.maxX() > totals.minX()) || !(totals.maxY() > totals.minY())) {
            throw empty();
        }
        return new MapOptions.Outline(totals.minX(), totals.minY(), totals.maxX(), totals.maxY());
    }

    private void refuseOverlaps(Problems problems, boolean given) {
        Pair worst = null;
        double deepest = 0;
        for (Pair pair : pairs(rounding())) {
            double over = Math.min(pair.overlapX, pair.overlapY);
            if (over > deepest) {
                deepest = over;
                worst = pair;
            }
        }
        if (worst != null) {
            problems.add(
                    "array.overlap",
                    KEY,
                    String.format(
                            Locale.ROOT,
                            "%s and %s overlap by %.6g x %.6g um: %s",
                            worst.one.name(),
                            worst.other.name(),
                            worst.overlapX * 1e6,
                            worst.overlapY * 1e6,
                            given
                                    ? "die, or what is drawn, is larger than a step"
                                    : "the drawn layout is larger than a step"),
                    "longer steps, a smaller layout, or fewer places");
        }
    }

    private record Pair(Die one, Die other, double overlapX, double overlapY) {}

    /** Pairs of dies whose places overlap by more than this along both axes; by less than nothing where it is negative. */
    private List<Pair> pairs(double least) {
        List<double[]> boxes = new ArrayList<>();
        double widest = 0;
        double highest = 0;
        for (Die die : dies) {
            double[] box = reliefBox.clone();
            die.pose().applyToBox(box);
            MapOptions.Outline its = die.rectangle();
            double[] both = {
                Math.min(box[0], its.minX()),
                Math.min(box[1], its.minY()),
                Math.max(box[2], its.maxX()),
                Math.max(box[3], its.maxY())
            };
            boxes.add(both);
            widest = Math.max(widest, both[2] - both[0]);
            highest = Math.max(highest, both[3] - both[1]);
        }
        double acrossX = widest + Math.max(0, -least);
        double acrossY = highest + Math.max(0, -least);
        Map<List<Long>, List<Integer>> bins = new HashMap<>();
        List<Pair> pairs = new ArrayList<>();
        for (int i = 0; i < boxes.size(); i++) {
            double[] box = boxes.get(i);
            long binX = (long) Math.floor(box[0] / acrossX);
            long binY = (long) Math.floor(box[1] / acrossY);
            for (long x = binX - 1; x <= binX + 1; x++) {
                for (long y = binY - 1; y <= binY + 1; y++) {
                    for (int other : bins.getOrDefault(List.of(x, y), List.of())) {
                        double[] its = boxes.get(other);
                        double overX = Math.min(box[2], its[2]) - Math.max(box[0], its[0]);
                        double overY = Math.min(box[3], its[3]) - Math.max(box[1], its[1]);
                        if (overX > least && overY > least) {
                            pairs.add(new Pair(dies.get(other), dies.get(i), overX, overY));
                        }
                    }
                }
            }
            bins.computeIfAbsent(List.of(binX, binY), key -> new ArrayList<>()).add(i);
        }
        return pairs;
    }

    /** Returns whether no feature of one die can touch one of another. */
    boolean standApart() {
        return new SteppedDies(reliefDies(), reliefBox).pairs(-rounding()).isEmpty();
    }

    private double rounding() {
        return ROUNDING * Math.max(reliefBox[2] - reliefBox[0], reliefBox[3] - reliefBox[1]);
    }

    /** The dies with nothing but what is drawn as their rectangle. */
    private List<Die> reliefDies() {
        return dies.stream()
                .map(die -> {
                    double[] box = reliefBox.clone();
                    die.pose().applyToBox(box);
                    return new Die(
                            die.column(),
                            die.row(),
                            die.pose(),
                            new MapOptions.Outline(box[0], box[1], box[2], box[3]));
                })
                .toList();
    }

    List<Pose> poses() {
        return dies.stream().map(Die::pose).toList();
    }

    /** Returns the stamp: as given, or else the rectangle around all dies. */
    MapOptions.Outline stamp(MapOptions.@Nullable Outline given) {
        if (given != null) {
            return given;
        }
        MapOptions.Outline all = dies.get(0).rectangle();
        for (Die die : dies) {
            MapOptions.Outline its = die.rectangle();
            all = new MapOptions.Outline(
                    Math.min(all.minX(), its.minX()),
                    Math.min(all.minY(), its.minY()),
                    Math.max(all.maxX(), its.maxX()),
                    Math.max(all.maxY(), its.maxY()));
        }
        return all;
    }

    /** Tells of dies that the stamp's rim cuts. */
    static List<Finding.Warning> warnings(List<Die> dies, MapOptions.Outline stamp) {
        List<Die> cut = dies.stream().filter(die -> die.shareOn(stamp) < 1).toList();
        return cut.isEmpty()
                ? List.of()
                : List.of(new Finding.Warning(
                        "tile-map",
                        "array.cut",
                        (cut.size() == 1
                                        ? "the stamp's rim cuts 1 die"
                                        : "the stamp's rim cuts " + cut.size() + " dies")
                                + " of " + dies.size() + ", such as "
                                + String.format(
                                        Locale.ROOT,
                                        "%s, of which %.3g %% lies on the stamp",
                                        cut.get(0).name(),
                                        100 * cut.get(0).shareOn(stamp)),
                        new Place.WholeStamp()));
    }
}
