package org.evenstamp.samples.generate;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.zip.GZIPInputStream;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.geometry.write.LayoutWriter;
import org.evenstamp.geometry.write.LayoutWriter.Format;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.Polygon;

class WaterSensorLayoutTest {
    private static final Path SHIPPED = Path.of("water-sensor", "layout.geojson.gz");
    private static final WaterSensorLayout LAYOUT = new WaterSensorLayout(WaterSensorLayout.SHIPPED_SEED);

    @Test
    void the_shipped_file_is_what_the_generator_draws() throws IOException {
        if (Boolean.getBoolean("golden.update")) {
            GenerateMain.generate("water-sensor", SHIPPED.toString());
        }
        ByteArrayOutputStream drawn = new ByteArrayOutputStream();
        try (LayoutWriter writer = new LayoutWriter(drawn, Format.GEOJSON)) {
            LAYOUT.draw(writer);
        }
        // Unpacked: the packed bytes depend on the zlib that a Java runtime was built with.
        try (GZIPInputStream shipped = new GZIPInputStream(Files.newInputStream(SHIPPED))) {
            assertThat(shipped.readAllBytes())
                    .as("to redraw it: mvn -pl samples -am test -Dtest=WaterSensorLayoutTest -Dgolden.update=true")
                    .isEqualTo(drawn.toByteArray());
        }
        assertThat(Files.size(SHIPPED)).isLessThan(2_500_000);
    }

    @Test
    void another_seed_gives_another_layout_of_the_same_plan() {
        List<Polygon> shipped = JtsPolygons.of(LAYOUT::draw);
        List<Polygon> other = JtsPolygons.of(new WaterSensorLayout(99)::draw);
        assertThat(other).isNotEqualTo(shipped);
        assertThat(other).hasSizeBetween(shipped.size() - 1000, shipped.size() + 1000);
    }

    @Test
    void it_holds_what_the_page_beside_it_says() {
        List<Traits> drawn = new ArrayList<>();
        LAYOUT.draw(polygon -> drawn.add(polygon.traits));
        assertThat(drawn.stream().filter(t -> t.texture() == null && t.repeat() == null))
                .hasSizeGreaterThan(50_000);
        assertThat(drawn.stream().filter(t -> t.texture() != null)).hasSize(10);
        assertThat(drawn.stream().filter(t -> t.repeat() != null)).hasSize(4);
        assertThat(drawn.stream().filter(t -> t.depthMetres() != null)).hasSize(4);
    }

    @Test
    @Tag("slow")
    void polygons_are_valid_inside_the_stamp_and_overlap_only_at_the_ends_of_wires() {
        List<Polygon> polygons = JtsPolygons.of(LAYOUT::draw);
        Envelope stamp = new Envelope(-6000, 6000, -6000, 6000);
        assertThat(polygons).allMatch(Polygon::isValid).allMatch(p -> stamp.contains(p.getEnvelopeInternal()));
        List<JtsPolygons.Pair> pairs = JtsPolygons.touching(polygons);
        // 12 electrode wires, 4 thermometer wires, both ends of the guard ring and of the channel: two ends each.
        assertThat(pairs).hasSize(2 * 12 + 2 * 4 + 2 + 2);
        assertThat(pairs).allSatisfy(pair -> {
            Polygon first = polygons.get(pair.first());
            Polygon second = polygons.get(pair.second());
            assertThat(first.intersection(second).getArea()).isBetween(100.0, 6000.0);
        });
    }
}
