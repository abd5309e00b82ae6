package org.evenstamp.geometry.tile;

import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.assertj.core.api.Assertions;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.junit.jupiter.api.Test;

class TileMemoryTest {
    private static final long HEAP = 1L << 30;

    @Test
    void tiles_that_fit_are_let_through() {
        assertThatCode(() -> TileMemory.check(new TileGrid(0, 0, 1e-5, 500, 500), 2, 1500, HEAP))
                .doesNotThrowAnyException();
    }

    @Test
    void the_side_that_is_named_fits() {
        TileGrid grid = new TileGrid(0, 0, 4e-6, 3000, 3000);
        InputException refusal =
                Assertions.catchThrowableOfType(InputException.class, () -> TileMemory.check(grid, 2, 1500, HEAP));

        Matcher side =
                Pattern.compile("a side of ([0-9.]+) um or more fits").matcher(String.valueOf(refusal.getMessage()));
        Assertions.assertThat(side.find()).isTrue();
        double metres = Double.parseDouble(side.group(1)) * 1e-6;
        int count = (int) Math.ceil(12e-3 / metres);
        assertThatCode(() -> TileMemory.check(new TileGrid(0, 0, metres, count, count), 2, 1500, HEAP))
                .doesNotThrowAnyException();
        int more = (int) Math.ceil(12e-3 / (0.95 * metres));
        assertThatThrownBy(() -> TileMemory.check(new TileGrid(0, 0, 0.95 * metres, more, more), 2, 1500, HEAP))
                .hasMessageContaining("MB of memory, Java may use 1024 MB")
                .hasMessageContaining("-Xmx");
    }
}
