package org.evenstamp.geometry.merge;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.evenstamp.geometry.coverage.Layer;
import org.evenstamp.geometry.coverage.LayerRules;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.shared.progress.Progress;

/**
 * Finds polygons that are drawn several times: the same vertices in the same order, of one layer. A layout exported twice over
 * makes as many pairs of boxes that meet as the square of the times; all but the first of such polygons change nothing.
 */
final class RepeatedPolygons {
    private RepeatedPolygons() {}

    /** A SHA-256 digest of all that makes a polygon, as a key. */
    private record Key(long a, long b, long c, long d) {}

    private record Seen(Key key, int number) {}

    private static final class Sink implements PolygonSink {
        private final Survey survey;
        private final LayerRules rules;
        private final List<Seen> seen = new ArrayList<>();
        private final MessageDigest digest = sha256();

        Sink(Survey survey, LayerRules rules) {
            this.survey = survey;
            this.rules = rules;
        }

        @Override
        public void accept(PackedPolygon polygon) {
            Layer layer = rules.layerOf(polygon.traits);
            if (layer == null) {
                return;
            }
            ByteBuffer shape = ByteBuffer.allocate(4 * polygon.rings + 16 * polygon.vertices());
            for (int ring = 0; ring < polygon.rings; ring++) {
                shape.putInt(polygon.ringEnd[ring]);
            }
            for (int i = 0; i < 2 * polygon.vertices(); i++) {
                shape.putDouble(polygon.xy[i]);
            }
            digest.update((layer + " " + polygon.traits.repeat()).getBytes(StandardCharsets.UTF_8));
            ByteBuffer key = ByteBuffer.wrap(digest.digest(shape.array()));
            seen.add(new Seen(
                    new Key(key.getLong(), key.getLong(), key.getLong(), key.getLong()),
                    survey.number(polygon.chunk, polygon.ordinal)));
        }

        private static MessageDigest sha256() {
            try {
                return MessageDigest.getInstance("SHA-256");
            } catch (NoSuchAlgorithmException e) {
                throw new IllegalStateException("every Java has SHA-256", e);
            }
        }
    }

    /** Returns the numbers of all polygons that are the same as one with a smaller number. */
    static BitSet find(Survey survey, PolygonSource source, LayerRules rules, int threads, Progress progress) {
        List<Sink> sinks =
                source.forEach(() -> new Sink(survey, rules), threads, "looking for repeated features", progress);
        Map<Key, Integer> first = new HashMap<>();
        for (Sink sink : sinks) {
            sink.seen.forEach(one -> first.merge(one.key, one.number, Math::min));
        }
        BitSet repeated = new BitSet();
        for (Sink sink : sinks) {
            for (Seen one : sink.seen) {
                if (first.getOrDefault(one.key, one.number) != one.number) {
                    repeated.set(one.number);
                }
            }
        }
        return repeated;
    }
}
