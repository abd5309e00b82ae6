package org.evenstamp.analysis.balance;

import java.util.Arrays;
import org.evenstamp.shared.progress.Stage;

/**
 * The cheapest way to carry amounts from points to points of a plane, cost = amount x straight distance (the transport
 * problem of Monge and Kantorovich, known as the earth mover's distance).
 *
 * <p>Exact up to rounding: shortest augmenting paths with node potentials on the dense bipartite graph (R. K. Ahuja, T. L.
 * Magnanti, J. B. Orlin, Network Flows, 1993, chapter 9). Amounts are whole numbers, so each path moves at least one unit
 * and the method ends. The side with the smaller total is carried completely; of the other what is cheapest to serve. Ties
 * go to the lower index.
 *
 * <p>Memory is {@code 16 n m} bytes; time grows about as {@code (n + m) n m} for {@code n} sources and {@code m} sinks.
 */
final class Transport {
    /** Who carries how much to whom; {@code amount[source][sink]}. */
    private final long[][] amount;

    private final double[][] distance;

    private Transport(long[][] amount, double[][] distance) {
        this.amount = amount;
        this.distance = distance;
    }

    /** Points with amounts; arrays of one length, amounts positive. */
    record Points(double[] x, double[] y, long[] amounts) {
        int size() {
            return amounts.length;
        }

        long total() {
            return Arrays.stream(amounts).sum();
        }
    }

    /** Returns the amount carried from a source to a sink. */
    long amount(int source, int sink) {
        return amount[source][sink];
    }

    /** Returns the distance from a source to a sink. */
    double distance(int source, int sink) {
        return distance[source][sink];
    }

    /**
     * Solves the problem.
     *
     * @param stage counts one for every source and sink that has been served, and interrupts
     */
    static Transport solve(Points sources, Points sinks, Stage stage) {
        if (sources.total() > sinks.total()) {
            Transport turned = solve(sinks, sources, stage);
            return new Transport(
                    transpose(turned.amount, sources.size()), transposeDistances(turned.distance, sources.size()));
        }
        double[][] distance = new double[sources.size()][sinks.size()];
        for (int i = 0; i < sources.size(); i++) {
            for (int j = 0; j < sinks.size(); j++) {
                distance[i][j] = Math.hypot(sources.x[i] - sinks.x[j], sources.y[i] - sinks.y[j]);
            }
        }
        long[][] amount = new Paths(distance, sources.amounts, sinks.amounts).serveAll(stage);
        return new Transport(amount, distance);
    }

    private static long[][] transpose(long[][] matrix, int rows) {
        long[][] turned = new long[rows][matrix.length];
        for (int i = 0; i < rows; i++) {
            for (int j = 0; j < matrix.length; j++) {
                turned[i][j] = matrix[j][i];
            }
        }
        return turned;
    }

    private static double[][] transposeDistances(double[][] matrix, int rows) {
        double[][] turned = new double[rows][matrix.length];
        for (int i = 0; i < rows; i++) {
            for (int j = 0; j < matrix.length; j++) {
                turned[i][j] = matrix[j][i];
            }
        }
        return turned;
    }

    /**
     * The search for augmenting paths. Potentials {@code a} of sources and {@code b} of sinks keep {@code distance - a - b}
     * nonnegative, and zero where something is carried; so Dijkstra's method finds the cheapest change of the plan.
     */
    private static final class Paths {
        private final double[][] distance;
        private final long[] supply;
        private final long[] room;
        private final long[][] carried; // [sink][source]: the search walks from a sink to those who serve it
        private final double[] a;
        private final double[] b;
        private final double[] sourceCost;
        private final double[] sinkCost;
        private final int[] sourceBefore; // the sink through which a source was reached, -1 for the start
        private final int[] sinkBefore; // the source from which a sink was reached
        private final int[] reached; // sources in the order in which they were reached
        private final boolean[] sourceReached;
        private final int[] open; // sinks not settled yet: the first openCount entries
        private final int[] settled;

        Paths(double[][] distance, long[] supply, long[] room) {
            int n = supply.length;
            int m = room.length;
            this.distance = distance;
            this.supply = supply.clone();
            this.room = room.clone();
            carried = new long[m][n];
            a = new double[n];
            b = new double[m];
            sourceCost = new double[n];
            sinkCost = new double[m];
            sourceBefore = new int[n];
            sinkBefore = new int[m];
            reached = new int[n];
            sourceReached = new boolean[n];
            open = new int[m];
            settled = new int[m];
        }

        long[][] serveAll(Stage stage) {
            for (int start = 0; start < supply.length; start++) {
                while (supply[start] > 0) {
                    int end = search(start);
                    augment(start, end);
                    if (room[end] == 0) {
                        stage.advance(1);
                    }
                }
                stage.advance(1);
            }
            return transpose(carried, supply.length);
        }

        /** Finds the sink with room that is cheapest to reach, and updates the potentials. */
        private int search(int start) {
            int m = room.length;
            Arrays.fill(sinkCost, Double.POSITIVE_INFINITY);
            Arrays.fill(sourceReached, false);
            for (int j = 0; j < m; j++) {
                open[j] = j;
            }
            int openCount = m;
            int settledCount = 0;
            int reachedCount = 1;
            int expanded = 0;
            reached[0] = start;
            sourceReached[start] = true;
            sourceCost[start] = 0;
            sourceBefore[start] = -1;
            while (true) {
                for (; expanded < reachedCount; expanded++) {
                    int source = reached[expanded];
                    double base = sourceCost[source] - a[source];
                    double[] row = distance[source];
                    for (int k = 0; k < openCount; k++) {
                        int j = open[k];
                        double cost = base + row[j] - b[j];
                        if (cost < sinkCost[j]) {
                            sinkCost[j] = cost;
                            sinkBefore[j] = source;
                        }
                    }
                }
                int best = 0;
                for (int k = 1; k < openCount; k++) {
                    double difference = sinkCost[open[k]] - sinkCost[open[best]];
                    if (difference < 0 || (difference == 0 && open[k] < open[best])) {
                        best = k;
                    }
                }
                int sink = open[best];
                if (room[sink] > 0) {
                    raisePotentials(sinkCost[sink], reachedCount, settledCount);
                    return sink;
                }
                open[best] = open[--openCount];
                settled[settledCount++] = sink;
                long[] servers = carried[sink];
                for (int i = 0; i < servers.length; i++) {
                    if (servers[i] > 0 && !sourceReached[i]) {
                        sourceReached[i] = true;
                        sourceCost[i] = sinkCost[sink];
                        sourceBefore[i] = sink;
                        reached[reachedCount++] = i;
                    }
                }
            }
        }

        private void raisePotentials(double end, int reachedCount, int settledCount) {
            for (int k = 0; k < reachedCount; k++) {
                a[reached[k]] += end - sourceCost[reached[k]];
            }
            for (int k = 0; k < settledCount; k++) {
                b[settled[k]] -= end - sinkCost[settled[k]];
            }
        }

        /** Carries as much as the path found last allows. */
        private void augment(int start, int end) {
            long most = Math.min(supply[start], room[end]);
            for (int source = sinkBefore[end]; source != start; source = sinkBefore[sourceBefore[source]]) {
                most = Math.min(most, carried[sourceBefore[source]][source]);
            }
            int sink = end;
            while (true) {
                int source = sinkBefore[sink];
                carried[sink][source] += most;
                if (source == start) {
                    break;
                }
                sink = sourceBefore[source];
                carried[sink][source] -= most;
            }
            supply[start] -= most;
            room[end] -= most;
        }
    }
}
