package org.evenstamp.analysis.film.solve;

import java.util.Arrays;
import org.evenstamp.analysis.film.load.PressLoad;

/** At which time of one load the same happens as at a time of another, both made of the same pieces, longer or shorter. */
final class StepWarp {
    private final double[] here;
    private final double[] there;

    StepWarp(PressLoad from, PressLoad to) {
        double[] a = ends(from);
        double[] b = ends(to);
        boolean alike = a.length == b.length;
        here = alike ? a : new double[] {0, from.endSeconds()};
        there = alike ? b : new double[] {0, to.endSeconds()};
    }

    private static double[] ends(PressLoad load) {
        double end = load.endSeconds();
        double[] inside = Arrays.stream(load.breaks())
                .filter(t -> t > 0 && t < end * (1 - 1e-12))
                .sorted()
                .toArray();
        double[] all = new double[inside.length + 2];
        System.arraycopy(inside, 0, all, 1, inside.length);
        all[all.length - 1] = end;
        return all;
    }

    double at(double seconds) {
        int piece = 0;
        while (piece + 2 < here.length && seconds > here[piece + 1]) {
            piece++;
        }
        double share = (seconds - here[piece]) / Math.max(here[piece + 1] - here[piece], 1e-300);
        return there[piece] + share * (there[piece + 1] - there[piece]);
    }
}
