package org.evenstamp.geometry.layout;

/** Takes polygons one at a time, from one thread. */
@FunctionalInterface
public interface PolygonSink {
    /** Takes a polygon; must not keep it or its arrays. */
    void accept(PackedPolygon polygon);
}
