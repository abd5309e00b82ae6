package org.evenstamp.output.file;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class TilesGeoJsonTest {
    @TempDir
    Path directory;

    private JsonNode tiles() throws IOException {
        Path file = directory.resolve("tiles.geojson");
        try (Stage stage = new Progress().stage("tiles", SampleResults.GRID.rows(), "rows")) {
            TilesGeoJson.write(file, SampleResults.results(), stage);
            assertThat(stage.done()).isEqualTo(SampleResults.GRID.rows());
        }
        return new ObjectMapper().readTree(file.toFile());
    }

    @Test
    void each_tile_has_the_numbers_of_its_row_in_the_table() throws IOException {
        Path csv = directory.resolve("tiles.csv");
        TilesCsv.write(csv, SampleResults.fields());
        List<String> rows = Files.readAllLines(csv);
        List<String> names = List.of(rows.get(0).split(",", -1));

        JsonNode tiles = tiles();

        assertThat(tiles.get("features")).hasSize(rows.size() - 1);
        for (int i = 1; i < rows.size(); i++) {
            JsonNode properties = tiles.get("features").get(i - 1).get("properties");
            List<String> shown = new ArrayList<>();
            properties.properties().forEach(property -> shown.add(property.getKey()));
            assertThat(shown).isEqualTo(names);
            String[] cells = rows.get(i).split(",", -1);
            for (int c = 0; c < cells.length; c++) {
                JsonNode value = properties.get(names.get(c));
                if (cells[c].isEmpty()) {
                    assertThat(value.isNull()).isTrue();
                } else {
                    assertThat(value.asDouble()).isEqualTo(Double.parseDouble(cells[c]));
                }
            }
        }
    }

    @Test
    void a_tile_is_a_closed_anticlockwise_square_around_its_centre() throws IOException {
        JsonNode tile = tiles().get("features").get(4);

        assertThat(tile.at("/geometry/type").asText()).isEqualTo("Polygon");
        assertThat(tile.at("/geometry/coordinates").toString())
                .isEqualTo("[[[-50,100],[50,100],[50,200],[-50,200],[-50,100]]]");
        assertThat(tile.at("/properties/x_um").asDouble()).isZero();
        assertThat(tile.at("/properties/y_um").asDouble()).isEqualTo(150);
    }

    @Test
    void units_are_stated() throws IOException {
        JsonNode tiles = tiles();

        assertThat(tiles.get("units").asText()).isEqualTo("um");
        assertThat(tiles.get("field_units").toString())
                .isEqualTo("{\"x_um\":\"um\",\"y_um\":\"um\",\"residual.local\":\"nm\",\"fill.time\":\"s\"}");
    }
}
