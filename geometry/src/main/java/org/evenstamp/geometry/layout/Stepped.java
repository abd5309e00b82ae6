package org.evenstamp.geometry.layout;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Supplier;
import org.evenstamp.shared.progress.Progress;

/**
 * A layout that stands on the stamp several times: every polygon once for each pose. Polygons of one chunk stay together and in
 * order; the copies of a polygon have numbers in a row.
 *
 * @param one the layout as it is drawn
 * @param poses how each copy lies, at least one
 * @param wanted which copies are handed on
 */
public record Stepped(PolygonSource one, List<Pose> poses, Wanted wanted) implements PolygonSource {
    /** Decides by a box which copies of polygons matter. */
    @FunctionalInterface
    public interface Wanted {
        /** Everything. */
        Wanted ALL = (minX, minY, maxX, maxY) -> true;

        /** Returns whether what lies in a box matters; metres. */
        boolean meets(double minX, double minY, double maxX, double maxY);
    }

    /** Copies the list. */
    public Stepped {
        if (poses.isEmpty()) {
            throw new IllegalArgumentException("a stepped layout needs a place");
        }
        poses = List.copyOf(poses);
    }

    @Override
    public <S extends PolygonSink> List<S> forEach(Supplier<S> sink, int threads, String stage, Progress progress) {
        List<S> sinks = new ArrayList<>();
        one.forEach(() -> new Stepper<>(sink.get()), threads, stage, progress)
                .forEach(stepper -> sinks.add(stepper.inner));
        return sinks;
    }

    /** Hands on the copies of each polygon. */
    private final class Stepper<S extends PolygonSink> implements PolygonSink {
        private final S inner;
        private final PackedPolygon copy = new PackedPolygon();
        private final double[] drawn = new double[4];
        private final double[] box = new double[4];
        /** The traits of a turned polygon, by how it lies but for the shift and by its own. */
        private final Map<Pose, Map<Traits, Traits>> turned = new HashMap<>();

        Stepper(S inner) {
            this.inner = inner;
        }

        @Override
        public void accept(PackedPolygon polygon) {
            polygon.box(drawn);
            for (int i = 0; i < poses.size(); i++) {
                Pose pose = poses.get(i);
                Traits traits = traits(pose, polygon.traits);
                System.arraycopy(drawn, 0, box, 0, 4);
                pose.applyToBox(box);
                Repeat.stretch(box, traits.repeat());
                if (wanted.meets(box[0], box[1], box[2], box[3])) {
                    copy(polygon, pose, traits, i);
                    inner.accept(copy);
                }
            }
        }

        private void copy(PackedPolygon polygon, Pose pose, Traits traits, int number) {
            int vertices = polygon.vertices();
            copy.clear();
            copy.ensureVertices(vertices);
            System.arraycopy(polygon.xy, 0, copy.xy, 0, 2 * vertices);
            pose.apply(copy.xy, vertices);
            for (int ring = 0; ring < polygon.rings; ring++) {
                copy.endRing(polygon.ringEnd[ring]);
            }
            copy.traits = traits;
            copy.chunk = polygon.chunk;
            copy.ordinal = Math.addExact(Math.multiplyExact(polygon.ordinal, poses.size()), number);
            copy.feature = polygon.feature;
            copy.line = polygon.line;
        }

        private Traits traits(Pose pose, Traits own) {
            if ((own.repeat() == null && own.texture() == null) || (!pose.mirroredX() && pose.quarterTurns() == 0)) {
                return own;
            }
            return turned.computeIfAbsent(new Pose(pose.mirroredX(), pose.quarterTurns(), 0, 0), key -> new HashMap<>())
                    .computeIfAbsent(
                            own,
                            key -> new Traits(
                                    key.depthMetres(),
                                    key.role(),
                                    pose.apply(key.repeat()),
                                    pose.apply(key.texture()),
                                    key.region()));
        }
    }
}
