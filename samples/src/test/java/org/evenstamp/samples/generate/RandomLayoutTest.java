package org.evenstamp.samples.generate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import org.evenstamp.geometry.write.LayoutWriter;
import org.evenstamp.geometry.write.LayoutWriter.Format;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.Polygon;

class RandomLayoutTest {
    private static byte[] bytes(RandomLayout layout) throws IOException {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (LayoutWriter writer = new LayoutWriter(bytes, Format.GEOJSON)) {
            layout.draw(writer);
        }
        return bytes.toByteArray();
    }

    @Test
    void the_same_seed_gives_the_same_bytes_and_another_gives_others() throws IOException {
        RandomLayout layout = new RandomLayout(5, 300, 22, 1e-3, 1e-3);
        assertThat(bytes(layout)).isEqualTo(bytes(new RandomLayout(5, 300, 22, 1e-3, 1e-3)));
        assertThat(bytes(layout)).isNotEqualTo(bytes(new RandomLayout(6, 300, 22, 1e-3, 1e-3)));
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12})
    void polygons_are_simple_and_apart_and_inside_the_field(long seed) {
        int vertices = (int) (4 + seed * 5);
        List<Polygon> polygons = JtsPolygons.of(new RandomLayout(seed, 250, vertices, 0.8e-3, 0.5e-3)::draw);
        assertThat(polygons).hasSize(250).allMatch(Polygon::isValid);
        assertThat(JtsPolygons.touching(polygons)).isEmpty();
        Envelope field = new Envelope(0, 800, 0, 500);
        assertThat(polygons).allMatch(polygon -> field.contains(polygon.getEnvelopeInternal()));
    }

    @ParameterizedTest
    @CsvSource({"4, 0.1", "22, 0.3", "1000, 15"})
    void vertices_average_to_what_was_asked_for(int vertices, double tolerance) {
        long polygons = 4000;
        List<Integer> counts = new ArrayList<>();
        new RandomLayout(3, polygons, vertices, 1e-2, 1e-2).draw(polygon -> counts.add(polygon.vertices()));
        double mean = counts.stream().mapToInt(Integer::intValue).average().orElseThrow();
        // Standard error of the mean of the uniform spread, about 0.29 * vertices / sqrt(4000): 0.013, 0.10 and 4.6.
        assertThat(mean).isBetween(vertices - tolerance, vertices + tolerance);
        assertThat(counts).allMatch(count -> count >= 3 && count >= vertices / 2 - 1 && count <= vertices * 3 / 2);
    }

    @Test
    void impossible_sizes_are_refused() {
        assertThatIllegalArgumentException().isThrownBy(() -> new RandomLayout(1, 0, 22, 1, 1));
        assertThatIllegalArgumentException().isThrownBy(() -> new RandomLayout(1, 1, 3, 1, 1));
        assertThatIllegalArgumentException().isThrownBy(() -> new RandomLayout(1, 1, 22, 0, 1));
        assertThatIllegalArgumentException().isThrownBy(() -> new RandomLayout(1, 1, 22, 1, Double.NaN));
    }
}
