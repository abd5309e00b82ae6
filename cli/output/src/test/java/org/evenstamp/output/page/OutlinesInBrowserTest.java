package org.evenstamp.output.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import javax.imageio.ImageIO;
import org.evenstamp.geometry.draw.Sketch;
import org.evenstamp.geometry.layout.Traits;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.openqa.selenium.OutputType;

/** What the outlines of a layout do to the colours of the tiles, on the pixels of a screen. */
@Tag("slow")
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class OutlinesInBrowserTest {
    /** Side of the squares that are looked at, pixels. */
    private static final int WINDOW = 24;

    private Browser browser;

    @BeforeAll
    void start(@TempDir Path directory) throws IOException {
        browser = Browser.start(false);
        SamplePage sample = SamplePage.of(50, 50); // 5 mm wide, from x -1 mm, y 2 mm
        sample.with(sample.field("a", "nm", i -> 250e-9));
        for (int line = 0; line < 2000; line++) { // a grating of 0.8 um lines, twice as far apart
            double x = -0.9e-3 + line * 0.8e-6;
            sample.with(rectangle(x, 2.2e-3, x + 0.4e-6, 3.8e-3));
        }
        for (int i = 0; i < 80; i++) { // squares of 10 um, 20 um apart
            for (int j = 0; j < 80; j++) {
                double x = 1.2e-3 + i * 20e-6;
                double y = 2.3e-3 + j * 20e-6;
                sample.with(rectangle(x, y, x + 10e-6, y + 10e-6));
            }
        }
        for (int i = 0; i < 4; i++) { // some that stand alone
            double x = -0.7e-3 + i * 1.1e-3;
            sample.with(rectangle(x, 4.6e-3, x + 0.6e-3, 5.6e-3));
        }
        Path file = directory.resolve("report.html");
        ReportPage.write(file, sample.content(), 2);
        browser.open(file);
        browser.js("stampMap.drawNumbers = () => {}"); // the numbers in large tiles are no outlines
    }

    @AfterAll
    void stop() {
        if (browser != null) {
            browser.close();
        }
    }

    private static Sketch.Outline rectangle(double x0, double y0, double x1, double y1) {
        return new Sketch.Outline(
                Sketch.Style.CAVITY, List.of(new double[] {x0, y0, x1, y0, x1, y1, x0, y1}), null, Traits.NONE, 0);
    }

    @ParameterizedTest
    @ValueSource(doubles = {1, 0.5, 0.25, 0.12, 0.06, 0.03, 0.015, 0.008, 0.004})
    void an_even_field_keeps_its_one_colour_under_the_outlines_at_every_zoom(double zoom) throws IOException {
        for (double[] centre : new double[][] {{0, 3200}, {1900, 3000}, {650, 3100}, {1500, 4500}}) {
            BufferedImage picture = view(centre[0], centre[1], zoom * 12);
            int even = even(picture);
            List<Double> covered = new ArrayList<>();
            int[] inside = inside();
            for (int y = inside[1]; y + WINDOW <= inside[3]; y += WINDOW) {
                for (int x = inside[0]; x + WINDOW <= inside[2]; x += WINDOW) {
                    covered.add(covered(picture, x, y, even));
                }
            }
            assertThat(covered)
                    .isNotEmpty()
                    .allSatisfy(share -> assertThat(share)
                            .as("share of a square that outlines cover, %s um a pixel around %s", zoom * 12, centre[0])
                            .isLessThanOrEqualTo(0.1));
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"auto", "dark", "light"})
    void outlines_that_stand_alone_are_drawn(String look) throws IOException {
        browser.select("outlines", look);
        BufferedImage picture = view(1500, 5100, 12);
        assertThat(seen(picture, even(picture))).isGreaterThan(500);
        browser.select("outlines", "auto");
    }

    /** Looks at a place, so many micrometres a pixel. */
    private BufferedImage view(double x, double y, double resolution) throws IOException {
        browser.js(
                "stampMap.view.setCenter([arguments[0], arguments[1]]); stampMap.view.setResolution(arguments[2]);"
                        + "window.drawn = false; stampMap.map.once('rendercomplete', () => { window.drawn = true; });"
                        + "stampMap.polygons.changed(); stampMap.map.render()",
                x,
                y,
                resolution);
        browser.until("return window.drawn");
        return ImageIO.read(new ByteArrayInputStream(browser.el("map").getScreenshotAs(OutputType.BYTES)));
    }

    /** The part of the map that shows tiles only: left, top, right, bottom in pixels. */
    private int[] inside() {
        List<?> corners = (List<?>) browser.js("const a = stampMap.map.getPixelFromCoordinate([-1000, 7000]);"
                + "const b = stampMap.map.getPixelFromCoordinate([4000, 2000]);"
                + "const [width, height] = stampMap.map.getSize();"
                + "return [Math.max(6, a[0] + 6), Math.max(6, a[1] + 6), Math.min(width - 6, b[0] - 6),"
                + " Math.min(height - 60, b[1] - 6)]"); // the bar of lengths stands at the bottom
        return corners.stream()
                .mapToInt(corner -> (int) Math.round(((Number) corner).doubleValue()))
                .toArray();
    }

    /** Returns the colour that most of the stamp has: that of the scale, or the test ends here. */
    private int even(BufferedImage picture) {
        int[] inside = inside();
        Map<Integer, Integer> counts = new HashMap<>();
        for (int y = inside[1]; y < inside[3]; y++) {
            for (int x = inside[0]; x < inside[2]; x++) {
                counts.merge(picture.getRGB(x, y) & 0xffffff, 1, Integer::sum);
            }
        }
        int most = counts.entrySet().stream()
                .max(Map.Entry.comparingByValue())
                .orElseThrow()
                .getKey();
        long scale = (long) browser.number("const c = sequential[Math.round((sequential.length - 1) / 2)];"
                + "return (c & 255) << 16 | (c >> 8 & 255) << 8 | c >> 16 & 255");
        assertThat(Integer.toHexString(most)).isEqualTo(Long.toHexString(scale));
        return most;
    }

    /** Returns how far a square is from its colour on the mean, 1 for all black or all white. */
    private static double covered(BufferedImage picture, int left, int top, int even) {
        double sum = 0;
        for (int y = top; y < top + WINDOW; y++) {
            for (int x = left; x < left + WINDOW; x++) {
                sum += away(picture.getRGB(x, y), even);
            }
        }
        return sum / (WINDOW * WINDOW);
    }

    private long seen(BufferedImage picture, int even) {
        int[] inside = inside();
        long sum = 0;
        for (int y = inside[1]; y < inside[3]; y++) {
            for (int x = inside[0]; x < inside[2]; x++) {
                sum += away(picture.getRGB(x, y), even) > 0.2 ? 1 : 0;
            }
        }
        return sum;
    }

    /** Returns the distance of two colours over that of the farther of black and white. */
    private static double away(int colour, int even) {
        double sum = 0;
        double toWhite = 0;
        double toBlack = 0;
        for (int shift = 0; shift < 24; shift += 8) {
            int own = colour >> shift & 255;
            int base = even >> shift & 255;
            sum += Math.abs(own - base);
            toWhite += 255 - base;
            toBlack += base;
        }
        return sum / Math.max(toWhite, toBlack);
    }
}
