package org.evenstamp.output.picture;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.StringReader;
import java.util.Base64;
import java.util.List;
import javax.imageio.ImageIO;
import javax.xml.parsers.DocumentBuilderFactory;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.output.file.SampleResults;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.spi.Curve;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.xml.sax.InputSource;

class DrawingTest {
    private static final String HOSTILE = "</text><script>alert(1)</script>&\"\u0001'";
    private static final MapOptions.Outline OUTLINE = new MapOptions.Outline(-1.5e-4, 0, 1.5e-4, 2e-4);

    private static Document parsed(String svg) {
        try {
            DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
            factory.setFeature("http://apache.org/xml/features/disallow-doctype-decl", true);
            return factory.newDocumentBuilder().parse(new InputSource(new StringReader(svg)));
        } catch (Exception e) {
            throw new AssertionError(svg, e);
        }
    }

    private static Field field(String id) {
        return SampleResults.fields().find(id).orElseThrow();
    }

    @Test
    void tiles_have_the_colours_of_the_scale_and_none_where_nothing_is_known() throws IOException {
        Document svg = parsed(MapSvg.of(field("fill.time"), OUTLINE));

        String picture = ((Element) svg.getElementsByTagName("image").item(0)).getAttribute("xlink:href");
        BufferedImage tiles = ImageIO.read(
                new ByteArrayInputStream(Base64.getDecoder().decode(picture.substring(picture.indexOf(',') + 1))));
        assertThat(tiles.getWidth()).isEqualTo(3);
        assertThat(tiles.getHeight()).isEqualTo(2);
        assertThat(tiles.getRGB(0, 0)).as("largest, upper row").isEqualTo(0xff000000 | ColourScale.at(1));
        assertThat(tiles.getRGB(1, 0)).as("smallest, upper row").isEqualTo(0xff000000 | ColourScale.at(0));
        assertThat(tiles.getRGB(2, 1) >>> 24).as("no value, lower row").isZero();
        assertThat(svg.getElementsByTagName("pattern").getLength()).isEqualTo(1);
    }

    /** Half the rows lie on the stamp: the frame of the stamp covers the lower half of the picture. */
    @Test
    void the_frame_is_drawn_where_the_stamp_is() {
        var grid = field("fill.time").grid();
        double side = grid.pitchMetres();
        var lower = new MapOptions.Outline(
                grid.originXMetres(),
                grid.originYMetres(),
                grid.originXMetres() + 3 * side,
                grid.originYMetres() + side);
        Document svg = parsed(MapSvg.of(field("fill.time"), lower));
        Element picture = (Element) svg.getElementsByTagName("image").item(0);
        double top = Double.parseDouble(picture.getAttribute("y"));
        double height = Double.parseDouble(picture.getAttribute("height"));
        var rectangles = svg.getElementsByTagName("rect");
        boolean found = false;
        for (int i = 0; i < rectangles.getLength(); i++) {
            Element frame = (Element) rectangles.item(i);
            found |= frame.getAttribute("fill").equals("none")
                    && Math.abs(Double.parseDouble(frame.getAttribute("y")) - (top + height / 2)) < 0.02
                    && Math.abs(Double.parseDouble(frame.getAttribute("height")) - height / 2) < 0.02;
        }
        assertThat(found).isTrue();
    }

    @Test
    void a_curve_is_drawn_through_its_points() {
        Curve curve = new Curve(
                "c",
                "a line",
                List.of(
                        new Curve.Column("time", "s", new double[] {0, 1, 4}),
                        new Curve.Column("height", "nm", new double[] {0, 1e-9, 2e-9})));

        Document svg = parsed(CurveDrawing.svg(curve));

        // The key's stroke comes first. The panel is 560 x 200 with its lower left corner at (90, 278).
        assertThat(((Element) svg.getElementsByTagName("polyline").item(1)).getAttribute("points"))
                .isEqualTo("90,278 230,178 650,78");
    }

    @Test
    void a_curve_as_pixels_is_that_of_the_drawing() throws IOException {
        Curve curve = new Curve(
                "c",
                "a line",
                List.of(
                        new Curve.Column("time", "s", new double[] {0, 1, 4}),
                        new Curve.Column("height", "nm", new double[] {0, 1e-9, 2e-9})));
        Element drawing = parsed(CurveDrawing.svg(curve)).getDocumentElement();

        byte[] file = CurveDrawing.png(curve);

        BufferedImage picture = ImageIO.read(new ByteArrayInputStream(file));
        assertThat(picture.getWidth()).isEqualTo(2 * Integer.parseInt(drawing.getAttribute("width")));
        assertThat(picture.getHeight()).isEqualTo(2 * Integer.parseInt(drawing.getAttribute("height")));
        for (int[] on : new int[][] {{160, 228}, {230, 178}, {440, 128}}) {
            assertThat(picture.getRGB(2 * on[0], 2 * on[1]))
                    .as("at %d, %d", on[0], on[1])
                    .isEqualTo(0xff0b5566);
        }
        assertThat(picture.getRGB(2 * 185, 2 * 147)).as("beside the curve").isEqualTo(0xffffffff);
        assertThat(CurveDrawing.png(curve)).isEqualTo(file);
    }

    @Test
    void series_of_another_unit_have_their_own_panel() {
        Curve curve = new Curve(
                "c",
                "two",
                List.of(
                        new Curve.Column("time", "s", new double[] {0, 1e-3, 1e-1, 10}),
                        new Curve.Column("height", "nm", new double[] {3e-9, 3e-9, 3e-9, 3e-9}),
                        new Curve.Column("force", "N", new double[] {1, 2, 3, 4})));

        Document svg = parsed(CurveDrawing.svg(curve));

        assertThat(svg.getElementsByTagName("polyline").getLength()).isEqualTo(4);
        assertThat(((Element) svg.getElementsByTagName("polyline").item(1)).getAttribute("points"))
                .as("a logarithmic axis leaves out what is not positive")
                .isEqualTo("90,178 370,178 650,178");
    }

    @Test
    void hostile_names_stay_texts() {
        Field named = Field.of(FieldName.of("a", "nm", HOSTILE), SampleResults.GRID, new double[6]);
        Curve curve = new Curve(
                "c",
                HOSTILE,
                List.of(
                        new Curve.Column(HOSTILE, "s", new double[] {0, 1}),
                        new Curve.Column(HOSTILE, "nm", new double[] {0, 1})));

        for (String svg : List.of(MapSvg.of(named, OUTLINE), CurveDrawing.svg(curve))) {
            Document document = parsed(svg);
            assertThat(document.getElementsByTagName("script").getLength()).isZero();
            assertThat(document.getElementsByTagName("text").item(0).getTextContent())
                    .startsWith("</text><script>alert(1)</script>&\"");
        }
    }
}
