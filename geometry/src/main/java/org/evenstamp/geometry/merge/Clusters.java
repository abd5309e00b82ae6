package org.evenstamp.geometry.merge;

import java.util.Arrays;

/** Finds which bodies hang together through pairs that meet. */
final class Clusters {
    private Clusters() {}

    /**
     * Returns for every body the smallest body it is connected with.
     *
     * @param meeting pairs of bodies, one in the upper and one in the lower half of the bits
     */
    static int[] of(long[] meeting, int bodies) {
        int[] parent = new int[bodies];
        Arrays.setAll(parent, i -> i);
        for (long pair : meeting) {
            int a = root(parent, (int) (pair >> 32));
            int b = root(parent, (int) pair);
            parent[Math.max(a, b)] = Math.min(a, b);
        }
        for (int i = 0; i < bodies; i++) {
            parent[i] = root(parent, i);
        }
        return parent;
    }

    private static int root(int[] parent, int of) {
        int i = of;
        while (parent[i] != i) {
            parent[i] = parent[parent[i]];
            i = parent[i];
        }
        return i;
    }
}
