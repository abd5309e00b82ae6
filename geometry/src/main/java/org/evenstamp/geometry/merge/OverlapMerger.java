package org.evenstamp.geometry.merge;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.BitSet;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.DoublePredicate;
import org.evenstamp.geometry.clean.Crossings;
import org.evenstamp.geometry.coverage.Layer;
import org.evenstamp.geometry.coverage.LayerRules;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.layout.PolygonStore;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.thread.Workers;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Polygon;

/**
 * Finds polygons that overlap or share a stretch of edge and merges them.
 *
 * <p>{@link Bodies} touching in single points are left alone: neither area nor edge counts twice there.
 */
public final class OverlapMerger {
    /** Pairs of boxes looked at; a layout with more is not the kind that this tool can merge. */
    private static final long MAX_PAIRS = 20_000_000;
    /** From so many pairs for each box on, equal polygons are looked for first. A brick wall has four. */
    private static final long CROWDED = 8;

    /** The system property that raises {@link #MOST_CROSSINGS}. */
    private static final String CROSSINGS_PROPERTY = "evenstamp.crossings";
    /** Crossings among features that are merged as one: ten to twenty seconds of work. */
    private static final long MOST_CROSSINGS = 1_000_000;

    private final Survey survey;
    private final PolygonSource source;
    private final LayerRules rules;
    private final long candidateBytes;
    private final int threads;
    private final Progress progress;

    private Bodies all;
    private DoublePredicate counted = lowerEnd -> true;
    /** Polygons that are the same as one before them. */
    private BitSet repeated = new BitSet();

    /**
     * Prepares merging.
     *
     * @param source the surveyed layout
     * @param candidateBytes memory for the polygons that have to be looked at
     */
    public OverlapMerger(
            Survey survey,
            PolygonSource source,
            LayerRules rules,
            long candidateBytes,
            int threads,
            Progress progress) {
        this.survey = survey;
        this.source = source;
        this.rules = rules;
        this.candidateBytes = candidateBytes;
        this.threads = threads;
        this.progress = progress;
        all = new Bodies(survey, repeated);
    }

    /**
     * Lets the report count only what begins in some rows, so that the reports of several parts of a layout add up to that of the
     * whole; returns this merger.
     *
     * @param begins tells by the lower end of a box, m, whether it counts
     */
    public OverlapMerger counting(DoublePredicate begins) {
        counted = begins;
        return this;
    }

    private long counted(long[] pairs, float[] boxes) {
        long count = 0;
        for (long pair : pairs) {
            float a = boxes[4 * (int) (pair >> 32) + 1];
            float b = boxes[4 * (int) pair + 1];
            count += counted.test(Math.max(a, b)) ? 1 : 0;
        }
        return count;
    }

    /** Returns the layout in which nothing counts twice. */
    public MergedLayout merge() {
        float[] boxes = all.boxes;
        long[] pairs = pairs(boxes);
        if (pairs.length > CROWDED * (boxes.length / 4)) {
            repeated = RepeatedPolygons.find(survey, source, rules, threads, progress);
            if (!repeated.isEmpty()) {
                all = new Bodies(survey, repeated);
                boxes = all.boxes;
                pairs = pairs(boxes);
            }
        }
        if (pairs.length == 0) {
            return unmerged(0, "");
        }
        if (pairs.length > MAX_PAIRS) {
            return unmerged(pairs.length, "more than " + MAX_PAIRS + " pairs of features have boxes that meet");
        }
        Candidates candidates = collect(pairs);
        if (candidates == null) {
            return unmerged(
                    pairs.length,
                    "the features whose boxes meet do not fit into " + candidateBytes / (1 << 20) + " MB of memory");
        }
        long[] meeting = meeting(pairs, candidates);
        int[] clusterOf = Clusters.of(meeting, boxes.length / 4);
        return mergeClusters(counted(pairs, boxes), meeting, clusterOf, candidates, boxes);
    }

    private long[] pairs(float[] boxes) {
        try (Stage stage = progress.stage("comparing bounding boxes", boxes.length / 4, "boxes")) {
            return Workers.run(1, progress, () -> new BoxPairs(boxes, MAX_PAIRS).find(threads, stage))
                    .get(0);
        }
    }

    private MergedLayout unmerged(long pairs, String why) {
        int copies = repeated.cardinality();
        return new MergedLayout(
                source,
                survey,
                repeated,
                new PolygonStore(),
                List.of(),
                List.of(),
                new MergedLayout.Report(pairs, copies, 0, copies, all.uncheckedArrays, why));
    }

    /** The polygons of all bodies in a pair, in stores that may hold others too. */
    private final class Candidates {
        private final int[] polygons;
        private final int[] storeOf;
        private final int[] numberIn;
        private final List<PolygonStore> stores;

        Candidates(int[] polygons, List<PolygonStore> stores) {
            this.polygons = polygons;
            this.stores = stores;
            storeOf = new int[polygons.length];
            numberIn = new int[polygons.length];
            for (int s = 0; s < stores.size(); s++) {
                PolygonStore store = stores.get(s);
                for (int n = 0; n < store.size(); n++) {
                    int at = Arrays.binarySearch(polygons, survey.number(store.chunkOf(n), store.ordinalOf(n)));
                    if (at >= 0) {
                        storeOf[at] = s;
                        numberIn[at] = n;
                    }
                }
            }
        }

        void get(int body, PackedPolygon into) {
            int at = Arrays.binarySearch(polygons, all.polygonOf(body));
            stores.get(storeOf[at]).get(numberIn[at], into);
            all.move(body, into);
        }
    }

    private @Nullable Candidates collect(long[] pairs) {
        BitSet wanted = new BitSet(survey.size());
        for (long pair : pairs) {
            wanted.set(all.polygonOf((int) (pair >> 32)));
            wanted.set(all.polygonOf((int) pair));
        }
        List<PolygonStore> held = survey.stores();
        if (held != null) {
            return new Candidates(wanted.stream().toArray(), held);
        }
        AtomicLong memory = new AtomicLong(candidateBytes);
        class Collector implements PolygonSink {
            private final PolygonStore store = new PolygonStore();
            private long counted;

            @Override
            public void accept(PackedPolygon polygon) {
                if (memory.get() >= 0 && wanted.get(survey.number(polygon.chunk, polygon.ordinal))) {
                    store.add(polygon);
                    memory.addAndGet(counted - store.bytes());
                    counted = store.bytes();
                }
            }
        }
        List<PolygonStore> stores =
                source.forEach(Collector::new, threads, "fetching features that may meet", progress).stream()
                        .map(collector -> collector.store)
                        .toList();
        return memory.get() < 0 ? null : new Candidates(wanted.stream().toArray(), stores);
    }

    /** The pairs that really meet: share area or a stretch of edge. */
    private long[] meeting(long[] pairs, Candidates candidates) {
        try (Stage stage = progress.stage("comparing features", pairs.length, "pairs")) {
            AtomicInteger next = new AtomicInteger();
            List<long[]> found = Workers.run(threads, progress, () -> {
                PackedPolygon a = new PackedPolygon();
                PackedPolygon b = new PackedPolygon();
                long[] mine = new long[64];
                int size = 0;
                int from;
                while ((from = next.getAndAdd(1024)) < pairs.length) {
                    int to = Math.min(pairs.length, from + 1024);
                    int bodyA = -1;
                    for (int i = from; i < to; i++) {
                        if (bodyA != (int) (pairs[i] >> 32)) {
                            bodyA = (int) (pairs[i] >> 32);
                            candidates.get(bodyA, a);
                        }
                        candidates.get((int) pairs[i], b);
                        if (Meeting.of(a, b)) {
                            if (size == mine.length) {
                                mine = Arrays.copyOf(mine, 2 * size);
                            }
                            mine[size++] = pairs[i];
                        }
                    }
                    stage.advance(to - from);
                }
                return Arrays.copyOf(mine, size);
            });
            return found.stream().flatMapToLong(Arrays::stream).sorted().toArray();
        }
    }

    private MergedLayout mergeClusters(
            long candidatePairs, long[] meeting, int[] clusterOf, Candidates candidates, float[] boxes) {
        // Bodies that meet anybody, grouped by cluster, both in ascending order.
        BitSet involved = new BitSet();
        for (long pair : meeting) {
            involved.set((int) (pair >> 32));
            involved.set((int) pair);
        }
        int[] bodies = involved.stream().toArray();
        int[] heads = Arrays.stream(bodies)
                .map(body -> clusterOf[body])
                .distinct()
                .sorted()
                .toArray();
        List<List<Integer>> groups = new ArrayList<>();
        for (int i = 0; i < heads.length; i++) {
            groups.add(new ArrayList<>());
        }
        for (int body : bodies) {
            groups.get(Arrays.binarySearch(heads, clusterOf[body])).add(body);
        }
        @Nullable ClusterMerge[] merges = new @Nullable ClusterMerge[groups.size()];
        try (Stage stage = progress.stage("merging features", bodies.length, "features")) {
            AtomicInteger next = new AtomicInteger();
            Workers.run(threads, progress, () -> {
                int g;
                while ((g = next.getAndIncrement()) < groups.size()) {
                    merges[g] = mergeOne(groups.get(g), candidates);
                    stage.advance(groups.get(g).size());
                }
                return "";
            });
        }
        PolygonStore replacements = new PolygonStore();
        List<MergedLayout.Seam> seams = new ArrayList<>();
        for (ClusterMerge merge : merges) {
            if (merge != null) {
                merge.addTo(replacements, seams);
            }
        }
        BitSet replaced = (BitSet) repeated.clone();
        for (int body : bodies) {
            replaced.set(all.polygonOf(body));
        }
        keepFreeCopies(involved, replaced, candidates, replacements);
        return new MergedLayout(
                source,
                survey,
                replaced,
                replacements,
                seams,
                groups.stream().map(group -> span(group, boxes)).toList(),
                new MergedLayout.Report(
                        candidatePairs,
                        counted(meeting, boxes) + repeated.cardinality(),
                        groups.size(),
                        (int) Arrays.stream(bodies)
                                        .filter(body -> counted.test(boxes[4 * body + 1]))
                                        .count()
                                + repeated.cardinality(),
                        all.uncheckedArrays,
                        ""));
    }

    private static MergedLayout.Span span(List<Integer> bodies, float[] boxes) {
        double minY = Double.POSITIVE_INFINITY;
        double maxY = Double.NEGATIVE_INFINITY;
        for (int body : bodies) {
            minY = Math.min(minY, boxes[4 * body + 1]);
            maxY = Math.max(maxY, boxes[4 * body + 3]);
        }
        return new MergedLayout.Span(minY, maxY);
    }

    private ClusterMerge mergeOne(List<Integer> bodies, Candidates candidates) {
        ClusterMerge merge = new ClusterMerge();
        PackedPolygon polygon = new PackedPolygon();
        refuseTangle(bodies, candidates);
        for (int body : bodies) {
            candidates.get(body, polygon);
            Layer layer = rules.layerOf(polygon.traits);
            if (layer == null) {
                throw new IllegalStateException("a polygon without a part in the relief was compared");
            }
            Polygon shape = Shapes.polygon(polygon);
            merge.add(layer, shape);
        }
        merge.resolve(rules);
        return merge;
    }

    /** Merging takes a time that grows with the crossings, and nothing can be said of how far it has come. */
    private static void refuseTangle(List<Integer> bodies, Candidates candidates) {
        long most = Long.getLong(CROSSINGS_PROPERTY, MOST_CROSSINGS);
        PackedPolygon polygon = new PackedPolygon();
        Crossings crossings = new Crossings(false);
        long vertices = 0;
        for (int body : bodies) {
            candidates.get(body, polygon);
            vertices += polygon.vertices();
        }
        if (vertices * vertices / 2 <= most) {
            return;
        }
        long line = Long.MAX_VALUE;
        for (int body : bodies) {
            candidates.get(body, polygon);
            line = Math.min(line, polygon.line);
            crossings.add(polygon);
        }
        if (crossings.moreThan(most)) {
            throw new InputException(
                    "layout.tangled",
                    line == 0 ? "layout" : "line " + line,
                    bodies.size() + " features hang together, the first of them here, and cross each other more than "
                            + most + " times, too often to be merged",
                    "merge them before the export, draw them as a texture, or allow more with EVENSTAMP_JAVA_OPTS=-D"
                            + CROSSINGS_PROPERTY + "=100000000");
        }
    }

    /** Copies of a replaced array that meet nobody stay, as runs of copies row by row. */
    private void keepFreeCopies(BitSet involved, BitSet replaced, Candidates candidates, PolygonStore replacements) {
        PackedPolygon polygon = new PackedPolygon();
        int firstCopy = survey.size();
        for (Survey.Array array : survey.arrays()) {
            Repeat repeat = array.repeat();
            int bodyOfCopyOne = firstCopy;
            if (all.isCopyOf(bodyOfCopyOne, array)) {
                firstCopy += (int) repeat.count() - 1;
            }
            if (!replaced.get(array.polygon()) || repeated.get(array.polygon())) {
                continue;
            }
            for (int row = 0; row < repeat.rows(); row++) {
                int from = 0;
                for (int column = 0; column <= repeat.columns(); column++) {
                    int copy = row * repeat.columns() + column;
                    boolean free = column < repeat.columns()
                            && !involved.get(copy == 0 ? array.polygon() : bodyOfCopyOne + copy - 1);
                    if (free) {
                        continue;
                    }
                    if (column > from) {
                        candidates.get(array.polygon(), polygon);
                        Bodies.shift(polygon, from * repeat.dxMetres(), row * repeat.dyMetres());
                        Traits own = polygon.traits;
                        polygon.traits = new Traits(
                                own.depthMetres(),
                                own.role(),
                                new Repeat(column - from, 1, repeat.dxMetres(), repeat.dyMetres()),
                                own.texture());
                        replacements.add(polygon);
                    }
                    from = column + 1;
                }
            }
        }
    }
}
