package org.evenstamp.analysis.balance;

import java.util.Arrays;
import org.evenstamp.shared.progress.Stage;

/**
 * The cheapest way to carry amounts from points to points of a plane, cost = amount x straight distance (the transport
 * problem of Monge and Kantorovich, known as the earth mover's distance).
 *
 * <p>Exact up to rounding, by the primal simplex method on the network (R. K. Ahuja, T. L. Magnanti, J. B. Orlin, Network
 * Flows, 1993, chapter 11). Amounts are whole numbers and the spanning tree is kept strongly feasible (W. H. Cunningham,
 * Math. Programming 11 (1976) 105), so the method cannot cycle: it ends by itself, when no way is cheaper than the
 * potentials say by more than 1e-11 of the longest distance. The side with the larger total serves, or is served, only in
 * part, where that is cheapest. The same input takes the same steps.
 *
 * <p>Memory is {@code 8 n m} bytes for {@code n} sources and {@code m} sinks.
 */
final class Transport {
    private static final double ROUNDING = 1e-11;

    private final int sources;
    private final int sinks;
    private final int root;

    /** From each source to each sink, row by row; the stand-in for what one side has too much is at no distance. */
    private final double[] distance;

    private final double artificial;

    // the tree: every node but the root hangs on its parent by an arc that carries something, or nothing
    private final int[] parent;
    private final boolean[] upward; // whether the arc runs from the node to its parent
    private final long[] carried;
    private final int[] depth;
    private final double[] potential;
    private final int[] firstChild;
    private final int[] nextSibling;
    private final int[] previousSibling;

    /** Points with amounts; arrays of one length, amounts positive. */
    static final class Points {
        private final double[] x;
        private final double[] y;
        private final long[] amounts;

        Points(double[] x, double[] y, long[] amounts) {
            this.x = x;
            this.y = y;
            this.amounts = amounts;
        }

        int size() {
            return amounts.length;
        }

        long total() {
            return Arrays.stream(amounts).sum();
        }
    }

    /** Is told who carries how much to whom. */
    @FunctionalInterface
    interface Receiver {
        void carried(int source, int sink, long amount, double distance);
    }

    /**
     * Solves the problem.
     *
     * @param stage counts steps of the method, and interrupts
     * @param receiver told every way that is used, in the order of the nodes
     */
    static void solve(Points from, Points to, Stage stage, Receiver receiver) {
        Transport transport = new Transport(from, to);
        transport.improve(stage);
        transport.report(from.size(), to.size(), receiver);
    }

    private Transport(Points from, Points to) {
        long excess = from.total() - to.total();
        sources = from.size() + (excess < 0 ? 1 : 0);
        sinks = to.size() + (excess > 0 ? 1 : 0);
        root = sources + sinks;
        distance = new double[sources * sinks];
        double longest = 0;
        for (int i = 0; i < from.size(); i++) {
            for (int j = 0; j < to.size(); j++) {
                double d = Math.hypot(from.x[i] - to.x[j], from.y[i] - to.y[j]);
                distance[i * sinks + j] = d;
                longest = Math.max(longest, d);
            }
        }
        artificial = longest + 1; // by way of the root costs twice this: never worth it in the end
        parent = new int[root + 1];
        upward = new boolean[root + 1];
        carried = new long[root + 1];
        depth = new int[root + 1];
        potential = new double[root + 1];
        firstChild = new int[root + 1];
        nextSibling = new int[root + 1];
        previousSibling = new int[root + 1];
        Arrays.fill(firstChild, -1);
        parent[root] = -1;
        for (int node = root - 1; node >= 0; node--) {
            boolean source = node < sources;
            int index = source ? node : node - sources;
            Points points = source ? from : to;
            upward[node] = source;
            carried[node] = index < points.size() ? points.amounts[index] : Math.abs(excess);
            hang(node, root);
            settle(node);
        }
    }

    private void hang(int node, int under) {
        parent[node] = under;
        previousSibling[node] = -1;
        nextSibling[node] = firstChild[under];
        if (firstChild[under] >= 0) {
            previousSibling[firstChild[under]] = node;
        }
        firstChild[under] = node;
    }

    private void unhang(int node) {
        if (previousSibling[node] >= 0) {
            nextSibling[previousSibling[node]] = nextSibling[node];
        } else {
            firstChild[parent[node]] = nextSibling[node];
        }
        if (nextSibling[node] >= 0) {
            previousSibling[nextSibling[node]] = previousSibling[node];
        }
    }

    /** Sets depth and potential of a node from its parent's: along an arc of the tree the potential rises by its cost. */
    private void settle(int node) {
        int up = parent[node];
        double cost;
        if (up == root) {
            cost = artificial;
        } else {
            cost = node < sources ? distance[node * sinks + up - sources] : distance[up * sinks + node - sources];
        }
        depth[node] = depth[up] + 1;
        potential[node] = upward[node] ? potential[up] - cost : potential[up] + cost;
    }

    /** Takes in the best way of one source after the other, until none gains. */
    private void improve(Stage stage) {
        double gainWorthwhile = ROUNDING * artificial;
        int source = 0;
        for (int fruitless = 0; fruitless < sources; fruitless++) {
            int best = -1;
            double least = -gainWorthwhile - potential[source];
            for (int j = 0; j < sinks; j++) {
                double reduced = distance[source * sinks + j] - potential[sources + j];
                if (reduced < least) {
                    least = reduced;
                    best = j;
                }
            }
            if (best >= 0) {
                takeIn(source, sources + best);
                stage.advance(1);
                fruitless = -1;
            }
            source = source + 1 == sources ? 0 : source + 1;
        }
    }

    /** Carries as much as possible from {@code source} to {@code sink} round the cycle that this closes in the tree. */
    private void takeIn(int source, int sink) {
        // Of the arcs that run empty the last one round the cycle, seen from its top, leaves: that keeps every empty
        // arc
        // of the tree pointing to the root.
        long most = Long.MAX_VALUE;
        int leaving = -1;
        boolean onSourceSide = false;
        int top = top(source, sink);
        for (int node = source; node != top; node = parent[node]) {
            if (upward[node] && carried[node] < most) {
                most = carried[node];
                leaving = node;
                onSourceSide = true;
            }
        }
        for (int node = sink; node != top; node = parent[node]) {
            if (!upward[node] && carried[node] <= most) {
                most = carried[node];
                leaving = node;
                onSourceSide = false;
            }
        }
        for (int node = source; node != top; node = parent[node]) {
            carried[node] += upward[node] ? -most : most;
        }
        for (int node = sink; node != top; node = parent[node]) {
            carried[node] += upward[node] ? most : -most;
        }
        int node = onSourceSide ? source : sink;
        int under = onSourceSide ? sink : source;
        int moved = node;
        boolean up = onSourceSide;
        long amount = most;
        while (true) { // turn the path from the new arc to the leaving one upside down
            int next = parent[node];
            boolean nextUp = !upward[node];
            long nextAmount = carried[node];
            unhang(node);
            upward[node] = up;
            carried[node] = amount;
            hang(node, under);
            if (node == leaving) {
                break;
            }
            up = nextUp;
            amount = nextAmount;
            under = node;
            node = next;
        }
        settleBelow(moved);
    }

    private int top(int a, int b) {
        int x = a;
        int y = b;
        while (x != y) {
            if (depth[x] >= depth[y]) {
                x = parent[x];
            } else {
                y = parent[y];
            }
        }
        return x;
    }

    private void settleBelow(int start) {
        int node = start;
        while (true) {
            settle(node);
            if (firstChild[node] >= 0) {
                node = firstChild[node];
                continue;
            }
            while (node != start && nextSibling[node] < 0) {
                node = parent[node];
            }
            if (node == start) {
                return;
            }
            node = nextSibling[node];
        }
    }

    private void report(int realSources, int realSinks, Receiver receiver) {
        for (int node = 0; node < root; node++) {
            int up = parent[node];
            if (carried[node] > 0 && up != root) {
                int source = Math.min(node, up);
                int sink = Math.max(node, up) - sources;
                if (source < realSources && sink < realSinks) {
                    receiver.carried(source, sink, carried[node], distance[source * sinks + sink]);
                }
            }
        }
    }
}
