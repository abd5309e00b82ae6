package org.evenstamp.geometry.merge;

import java.util.Arrays;
import java.util.BitSet;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.Repeat;

/**
 * Everybody in a layout that may meet somebody: the polygons, by their numbers, and after them the further copies of arrays. What
 * repeats a polygon before it, and arrays of too many copies, have boxes that meet nobody.
 */
final class Bodies {
    /** Copies of arrays that are compared one by one; arrays beyond are counted as not compared. */
    private static final long MAX_COPIES = 4_000_000;

    private final Survey survey;
    /** For bodies after the polygons: the array, and the copy within it. */
    private final int[] arrayOfBody;

    private final int[] copyOfBody;
    /** Least x and y, largest x and y of each body, m. */
    final float[] boxes;

    final int uncheckedArrays;

    Bodies(Survey survey, BitSet repeated) {
        this.survey = survey;
        long copies = 0;
        int unchecked = 0;
        BitSet compared = new BitSet();
        float[] polygonBoxes = survey.boxes();
        for (int a = 0; a < survey.arrays().size(); a++) {
            long count = survey.arrays().get(a).repeat().count();
            if (repeated.get(survey.arrays().get(a).polygon())) {
                continue;
            }
            if (copies + count > MAX_COPIES) {
                unchecked++;
                continue;
            }
            copies += count - 1;
            compared.set(a);
        }
        uncheckedArrays = unchecked;
        if (copies == 0 && unchecked == 0 && repeated.isEmpty()) {
            boxes = polygonBoxes;
            arrayOfBody = new int[0];
            copyOfBody = new int[0];
            return;
        }
        int polygons = survey.size();
        float[] all = Arrays.copyOf(polygonBoxes, Math.multiplyExact(4, Math.addExact(polygons, (int) copies)));
        arrayOfBody = new int[(int) copies];
        copyOfBody = new int[(int) copies];
        repeated.stream().forEach(polygon -> takeOut(polygon, all));
        int body = polygons;
        for (int a = 0; a < survey.arrays().size(); a++) {
            Survey.Array array = survey.arrays().get(a);
            Repeat repeat = array.repeat();
            int p = array.polygon();
            if (!compared.get(a)) {
                takeOut(p, all);
                continue;
            }
            for (int copy = 1; copy < repeat.count(); copy++) {
                double dx = (copy % repeat.columns()) * repeat.dxMetres();
                double dy = copyRow(copy, repeat) * repeat.dyMetres();
                all[4 * body] = Math.nextDown((float) (polygonBoxes[4 * p] + dx));
                all[4 * body + 1] = Math.nextDown((float) (polygonBoxes[4 * p + 1] + dy));
                all[4 * body + 2] = Math.nextUp((float) (polygonBoxes[4 * p + 2] + dx));
                all[4 * body + 3] = Math.nextUp((float) (polygonBoxes[4 * p + 3] + dy));
                arrayOfBody[body - polygons] = a;
                copyOfBody[body - polygons] = copy;
                body++;
            }
        }
        boxes = all;
    }

    private static void takeOut(int polygon, float[] boxes) {
        boxes[4 * polygon] = 1;
        boxes[4 * polygon + 2] = -1;
    }

    /** Returns the polygon that a body is, or is a copy of. */
    int polygonOf(int body) {
        return body < survey.size()
                ? body
                : survey.arrays().get(arrayOfBody[body - survey.size()]).polygon();
    }

    /** Returns whether a body is a copy of an array, if it is one at all. */
    boolean isCopyOf(int body, Survey.Array array) {
        int copy = body - survey.size();
        return copy < arrayOfBody.length
                && survey.arrays().get(arrayOfBody[copy]).equals(array);
    }

    /** Moves a polygon to where a body is that is its copy. */
    void move(int body, PackedPolygon polygon) {
        if (body >= survey.size()) {
            Repeat repeat =
                    survey.arrays().get(arrayOfBody[body - survey.size()]).repeat();
            int copy = copyOfBody[body - survey.size()];
            shift(polygon, (copy % repeat.columns()) * repeat.dxMetres(), copyRow(copy, repeat) * repeat.dyMetres());
        }
    }

    private static int copyRow(int copy, Repeat repeat) {
        return copy / repeat.columns();
    }

    static void shift(PackedPolygon polygon, double dx, double dy) {
        int end = 2 * polygon.vertices();
        for (int i = 0; i < end; i += 2) {
            polygon.xy[i] += dx;
            polygon.xy[i + 1] += dy;
        }
    }
}
