package org.evenstamp.samples.generate;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;

/**
 * The stamp of an invented pocket spectrometer, 20 mm x 20 mm with its origin at the lower left corner, in five files of four
 * formats: gratings that say their depth, light guides and wells whose depth and role the job's layers say, a window without
 * dummies, and the regions that matter.
 *
 * <p>All lengths are in micrometres. The files are text and small: what repeats is drawn as an array.
 */
public final class SpectrometerLayout {
    private static final double GRATING = 3000;
    private static final double[] GRATINGS_X = {2000, 7000, 12000};
    private static final double GRATINGS_Y = 14000;
    private static final double[] PITCHES = {0.6, 0.8, 1.2};
    private static final double WELL = 400;
    private static final double WELL_STEP = 800;

    private SpectrometerLayout() {}

    /** Returns the text of every file by its name. */
    public static Map<String, String> files() {
        Map<String, String> files = new LinkedHashMap<>();
        files.put("gratings.geojson", gratings());
        files.put("guides.wkt", guides());
        files.put("wells.csv", wells());
        files.put(
                "keepout.wkt",
                "# the window of the camera: no dummy may scatter light there\n" + box(12500, 1500, 6000, 7000) + "\n");
        files.put("regions.geojson", regions());
        return files;
    }

    /** Three gratings too fine to draw, and the entrance slit: twelve lines of 5 um. */
    private static String gratings() {
        StringBuilder text =
                new StringBuilder("{\"type\": \"FeatureCollection\", \"units\": \"um\", \"features\": [\n");
        for (int i = 0; i < PITCHES.length; i++) {
            text.append(String.format(
                    Locale.ROOT,
                    "{\"type\": \"Feature\", \"id\": \"grating-%d\", \"properties\": {\"depth\": \"200 nm\", \"texture\":"
                            + " {\"kind\": \"lines\", \"pitch\": %.1f, \"width\": %.1f, \"angle\": 90}}, \"geometry\": %s},\n",
                    i + 1,
                    PITCHES[i],
                    PITCHES[i] / 2,
                    polygon(GRATINGS_X[i], GRATINGS_Y, GRATING, GRATING)));
        }
        text.append(String.format(
                Locale.ROOT,
                "{\"type\": \"Feature\", \"id\": \"slit\", \"properties\": {\"depth\": \"200 nm\", \"repeat\": {\"columns\": 12,"
                        + " \"rows\": 1, \"dx\": 25, \"dy\": 0}}, \"geometry\": %s}\n",
                polygon(17000, 14000, 5, 3000)));
        return text.append("]}\n").toString();
    }

    /** A guide from below each grating to the edge of the window; the outer ones bend. */
    private static String guides() {
        StringBuilder text = new StringBuilder("# light guides, 60 um wide; their depth is said by the job's layer\n");
        for (int i = 0; i < GRATINGS_X.length; i++) {
            double x = GRATINGS_X[i] + GRATING / 2;
            double low = 3000 + 1500.0 * i;
            text.append(path(60, x, GRATINGS_Y - 200, low)).append('\n');
        }
        return text.toString();
    }

    /** A wire that goes down from a point and then to the right up to the window. */
    private static String path(double width, double x, double top, double low) {
        double a = width / 2;
        double right = 12300;
        return String.format(
                Locale.ROOT,
                "POLYGON ((%1$s %3$s, %1$s %4$s, %6$s %4$s, %6$s %5$s, %2$s %5$s, %2$s %3$s, %1$s %3$s))",
                number(x - a),
                number(x + a),
                number(top),
                number(low - a),
                number(low + a),
                number(Math.max(right, x + 400)));
    }

    /** Six times four wells for the sample's liquid; the depth column is in nanometres. */
    private static String wells() {
        StringBuilder text = new StringBuilder("name,depth,wkt\n");
        for (int row = 0; row < 4; row++) {
            for (int column = 0; column < 6; column++) {
                text.append(String.format(Locale.ROOT, "%c%d,600,\"", 'A' + row, column + 1))
                        .append(box(4000 + WELL_STEP * column, 8500 + WELL_STEP * row, WELL, WELL))
                        .append("\"\n");
            }
        }
        return text.toString();
    }

    private static String regions() {
        return "{\"type\": \"FeatureCollection\", \"units\": \"um\", \"features\": [\n"
                + "{\"type\": \"Feature\", \"properties\": {\"role\": \"region\", \"name\": \"optics\", \"weight\": 3}, \"geometry\": "
                + polygon(1800, 13800, 13400, 3400) + "},\n"
                + "{\"type\": \"Feature\", \"properties\": {\"role\": \"region\", \"name\": \"optics\"}, \"geometry\": "
                + polygon(16800, 13800, 700, 3400) + "},\n"
                + "{\"type\": \"Feature\", \"properties\": {\"role\": \"region\", \"name\": \"wells\"}, \"geometry\": "
                + polygon(3800, 8300, 4650, 3200) + "}\n]}\n";
    }

    private static String box(double x, double y, double w, double h) {
        return String.format(
                Locale.ROOT,
                "POLYGON ((%1$s %2$s, %3$s %2$s, %3$s %4$s, %1$s %4$s, %1$s %2$s))",
                number(x),
                number(y),
                number(x + w),
                number(y + h));
    }

    private static String polygon(double x, double y, double w, double h) {
        return String.format(
                Locale.ROOT,
                "{\"type\": \"Polygon\", \"coordinates\": [[[%1$s, %2$s], [%3$s, %2$s], [%3$s, %4$s], [%1$s, %4$s], [%1$s, %2$s]]]}",
                number(x),
                number(y),
                number(x + w),
                number(y + h));
    }

    private static String number(double micrometres) {
        return Long.toString(Math.round(micrometres));
    }
}
