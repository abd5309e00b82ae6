package org.evenstamp.geometry.read;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeMap;
import org.evenstamp.geometry.clean.Defect;
import org.evenstamp.geometry.clean.RingCheck;
import org.evenstamp.geometry.clean.RingRepair;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.Pose;
import org.evenstamp.geometry.layout.RegionLabel;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Traits;
import org.jspecify.annotations.Nullable;

/**
 * Where a worker's parser puts what it reads: collects rings in the file's unit, checks the polygon, mends or counts a bad one,
 * scales it to metres and hands it to the worker's sink. Keeps the worker's part of the {@link ReadReport}.
 */
final class FeatureCollector {
    private static final Set<Defect> MENDABLE = EnumSet.of(
            Defect.FEW_VERTICES, Defect.ZERO_AREA, Defect.SELF_CROSSING, Defect.HOLE_OUTSIDE, Defect.RINGS_OVERLAP);

    private static final int MOST_UNUSED = 100;
    private static final String OTHERS = "...";

    /** Why a region cannot be. */
    static final String NAMELESS = "a region needs a name";

    private final PolygonSink sink;
    private final double metresPerUnit;
    private final @Nullable Pose pose;
    private final boolean repairs;
    private final double farthest;
    private final RingCheck check = new RingCheck();
    private final RingRepair repair = new RingRepair();
    private final PackedPolygon polygon = new PackedPolygon();

    private Chunk chunk;
    private int ordinal;
    private int featureAt;
    private long line;
    /** What a feature without properties is; null for a region without a name, which nothing can be. */
    private final @Nullable Traits bare;

    private @Nullable Traits traits;
    private boolean discarding;
    private boolean gave;
    private boolean lost;
    /** Vertices of the polygon so far, those of its unfinished ring included. */
    private int vertices;

    private boolean open;

    private long accepted;
    private long partly;
    private long skippedFeatures;
    private long withoutArea;
    private long polygons;
    private long allVertices;
    private long srids;
    private final Map<Defect, Occurrences> skipped = new EnumMap<>(Defect.class);
    private final Map<Defect, Occurrences> repaired = new EnumMap<>(Defect.class);
    private final Map<String, Long> ignored = new TreeMap<>();
    private final Map<String, Long> unused = new TreeMap<>();

    /** Something counted, with the first places. The key of a place sorts as the file does. */
    private static final class Occurrences {
        private long count;
        private final List<Place> places = new ArrayList<>();
    }

    private record Place(long key, String text) {}

    FeatureCollector(PolygonSink sink, Chunk chunk, double metresPerUnit, ReadOptions options) {
        this.sink = sink;
        this.chunk = chunk;
        this.metresPerUnit = metresPerUnit;
        this.farthest = RingCheck.FARTHEST_METRES / metresPerUnit;
        this.repairs = options.badFeatures() == ReadOptions.Policy.REPAIR;
        this.bare = bare(options.assigned());
        this.traits = bare;
        Pose given = options.assigned().pose();
        this.pose = given.equals(Pose.AS_DRAWN) ? null : given;
    }

    private static @Nullable Traits bare(ReadOptions.Assigned assigned) {
        if (assigned.role() != Role.REGION) {
            Traits traits = new Traits(assigned.depthMetres(), assigned.role(), null, null);
            return traits.equals(Traits.NONE) ? Traits.NONE : traits;
        }
        String name = assigned.regionName();
        return name == null
                ? null
                : new Traits(null, Role.REGION, null, null, new RegionLabel(name, assigned.regionWeight()));
    }

    /** Begins a chunk: polygons are numbered from 0 again. */
    void chunk(Chunk next) {
        chunk = next;
        ordinal = 0;
    }

    /** Begins a feature without properties at a byte of the chunk. */
    void beginFeature(long onLine, int atByte) {
        line = onLine;
        featureAt = atByte;
        traits = bare;
        discarding = false;
        gave = false;
        lost = false;
        polygon.feature = accepted + partly + skippedFeatures + withoutArea;
    }

    /** Gives the feature its properties. */
    void traits(Traits given) {
        traits = given;
    }

    /**
     * Says that the feature's properties cannot be; nothing that it draws is taken.
     *
     * @param role whether it is its role that nobody knows
     */
    void badTraits(String why, boolean role) {
        discarding = true;
        lost = true;
        count(skipped, role ? Defect.ROLE : Defect.PROPERTY, " (" + why + ")");
    }

    /** Counts properties of the feature that mean nothing to the layout. */
    void unused(List<String> names) {
        for (String name : names) {
            unused.merge(unused.size() < MOST_UNUSED || unused.containsKey(name) ? name : OTHERS, 1L, Long::sum);
        }
    }

    /** Ends the feature. */
    void endFeature() {
        if (gave) {
            if (lost) {
                partly++;
            } else {
                accepted++;
            }
        } else if (lost) {
            skippedFeatures++;
        } else {
            withoutArea++;
        }
    }

    /** Begins a polygon. */
    void beginPolygon() {
        polygon.clear();
        vertices = 0;
        open = false;
    }

    /** Adds a vertex to the ring, unless it repeats the one before. */
    void vertex(double x, double y) {
        double[] xy = polygon.xy;
        int n = vertices;
        int k = 2 * n;
        if (k > 0 && xy[k - 2] == x && xy[k - 1] == y && n > polygon.ringStart(polygon.rings)) {
            return;
        }
        if (k + 2 > xy.length) {
            polygon.ensureVertices(n + 1);
            xy = polygon.xy;
        }
        xy[k] = x;
        xy[k + 1] = y;
        vertices = n + 1;
    }

    /** Ends a ring: the outline first, then the holes. */
    void endRing() {
        int start = polygon.ringStart(polygon.rings);
        double[] xy = polygon.xy;
        if (vertices - start > 1) {
            if (xy[2 * start] == xy[2 * vertices - 2] && xy[2 * start + 1] == xy[2 * vertices - 1]) {
                vertices--;
            } else {
                open = true;
            }
        }
        polygon.endRing(vertices);
    }

    /** Ends the polygon and hands it over, mends it or leaves it out. */
    void endPolygon() {
        if (traits == null && !discarding) {
            badTraits(NAMELESS, false);
        }
        if (discarding) {
            return;
        }
        Defect defect = check.check(polygon, farthest);
        // An open ring is named as such unless its coordinates make no sense to begin with.
        if (open && defect != Defect.NOT_FINITE && defect != Defect.OUT_OF_RANGE) {
            if (!repairs) {
                bad(Defect.OPEN_RING);
                return;
            }
            if (defect == null) {
                count(repaired, Defect.OPEN_RING, "");
            }
        }
        if (defect == null) {
            give(polygon);
        } else if (repairs && MENDABLE.contains(defect) && RingRepair.isTangled(polygon)) {
            bad(Defect.TANGLED);
        } else if (!repairs || !mend(defect)) {
            bad(defect);
        }
    }

    private boolean mend(Defect defect) {
        if (!MENDABLE.contains(defect)) {
            return false;
        }
        int before = ordinal;
        repair.repair(polygon, piece -> {
            if (check.check(piece, farthest) == null) {
                give(piece);
            }
        });
        if (ordinal > before) {
            count(repaired, defect, "");
        }
        return ordinal > before;
    }

    private void give(PackedPolygon sound) {
        double[] xy = sound.xy;
        int n = sound.vertices();
        for (int i = 0; i < 2 * n; i++) {
            xy[i] *= metresPerUnit;
        }
        if (pose != null) {
            pose.apply(xy, n);
        }
        sound.traits = Objects.requireNonNull(traits);
        sound.chunk = chunk.number;
        sound.ordinal = ordinal++;
        sound.line = line;
        gave = true;
        polygons++;
        allVertices += n;
        sink.accept(sound);
    }

    /** Counts something bad that the feature holds and that is left out. */
    void bad(Defect defect) {
        lost = true;
        if (!discarding) {
            count(skipped, defect, "");
        }
    }

    /** Counts a geometry that encloses no area. */
    void ignored(String kind) {
        ignored.merge(kind, 1L, Long::sum);
    }

    /** Counts a reference system number. */
    void srid() {
        srids++;
    }

    private void count(Map<Defect, Occurrences> into, Defect defect, String detail) {
        Occurrences occurrences = into.computeIfAbsent(defect, d -> new Occurrences());
        occurrences.count++;
        if (occurrences.places.size() < ReadReport.PLACES_KEPT) {
            long key = ((long) chunk.number << 32) | featureAt;
            occurrences.places.add(new Place(key, chunk.place(featureAt) + detail));
        }
    }

    /** Returns the report of all workers together; the same for any number of them. */
    static ReadReport report(
            List<FeatureCollector> intakes,
            LayoutFormat format,
            Compression compression,
            long fileBytes,
            long bytes,
            long lines,
            double metresPerUnit) {
        long[] sums = new long[7];
        Map<String, Long> ignored = new TreeMap<>();
        Map<String, Long> unused = new TreeMap<>();
        for (FeatureCollector intake : intakes) {
            sums[0] += intake.accepted;
            sums[1] += intake.partly;
            sums[2] += intake.skippedFeatures;
            sums[3] += intake.withoutArea;
            sums[4] += intake.polygons;
            sums[5] += intake.allVertices;
            sums[6] += intake.srids;
            intake.ignored.forEach((kind, count) -> ignored.merge(kind, count, Long::sum));
            intake.unused.forEach((name, count) -> unused.merge(name, count, Long::sum));
        }
        return new ReadReport(
                format,
                compression,
                fileBytes,
                bytes,
                lines,
                new ReadReport.Features(sums[0], sums[1], sums[2], sums[3]),
                sums[4],
                sums[5],
                tallies(intakes.stream().map(intake -> intake.skipped).toList()),
                tallies(intakes.stream().map(intake -> intake.repaired).toList()),
                ignored,
                unused,
                sums[6],
                metresPerUnit);
    }

    private static List<ReadReport.Tally> tallies(List<Map<Defect, Occurrences>> parts) {
        List<ReadReport.Tally> tallies = new ArrayList<>();
        for (Defect defect : Defect.values()) {
            long count = 0;
            List<Place> places = new ArrayList<>();
            for (Map<Defect, Occurrences> part : parts) {
                @Nullable Occurrences occurrences = part.get(defect);
                if (occurrences != null) {
                    count += occurrences.count;
                    places.addAll(occurrences.places);
                }
            }
            if (count > 0) {
                places.sort(java.util.Comparator.comparingLong(Place::key));
                tallies.add(new ReadReport.Tally(
                        defect.code(),
                        defect.meaning(),
                        count,
                        places.stream()
                                .limit(ReadReport.PLACES_KEPT)
                                .map(Place::text)
                                .toList()));
            }
        }
        return tallies;
    }
}
