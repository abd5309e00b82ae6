package org.evenstamp.analysis.film;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Map;
import java.util.Objects;
import java.util.OptionalDouble;
import org.evenstamp.analysis.film.load.PressLoad;
import org.evenstamp.analysis.film.record.FilmHistory;
import org.evenstamp.analysis.film.record.FilmSnapshots;
import org.evenstamp.analysis.film.solve.FilmSolver;
import org.evenstamp.analysis.film.solve.SolverInput;
import org.evenstamp.analysis.film.solve.SolverOptions;
import org.evenstamp.analysis.material.FilmLaws;
import org.evenstamp.analysis.material.Material;
import org.evenstamp.analysis.material.MaterialKind;
import org.evenstamp.analysis.material.MaterialLibrary;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.analysis.recipe.StartingRecipes;
import org.evenstamp.analysis.rheology.ShearThinning;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The hold that is proposed for a hot press, a third of which is what its slowest tile needs, against the solve of that tile alone. */
class ProposedHoldTest {
    private static final double FILM = 250e-9;
    private static final double VOLUME = 100e-9;
    private static final double SHARE = 0.6;

    private final MaterialLibrary library = MaterialLibrary.standard();

    @ParameterizedTest(name = "{0}, squeeze moment {1} m²: {2} of the time without thinning at most")
    @CsvSource({"pmma-350k, 1e-9, 0.05", "pmma-350k, 1e-8, 0.2", "ps-50k, 1e-7, 1"})
    void the_proposed_hold_is_three_times_what_the_solve_needs(String name, double moment, double mostOfUnthinned) {
        Material film = library.get(MaterialKind.FILM, name);
        Map<String, String> values = new StartingRecipes(
                        library, FILM, new double[] {VOLUME}, new double[] {SHARE}, new double[] {moment}, 0)
                .of(film, library.get(MaterialKind.FILM, "uv-acrylate"))
                .get(0)
                .values();
        double hold = number(values, "process.hold");
        double pascals = 1e6 * number(values, "process.pressure");
        double eta = FilmLaws.of(film).viscosity().pascalSeconds(number(values, "process.temperature") + 273.15);
        ShearThinning law = FilmLaws.of(film).thinning();

        SolverInput input = SolverInput.of(new TileGrid(0, 0, 1e-4, 1, 1), FILM, PressLoad.constant(eta, pascals, hold))
                .relief(new double[] {VOLUME}, new double[] {SHARE}, new double[] {moment})
                .thinning(law)
                .build();
        FilmHistory history = new FilmHistory(input, FilmSnapshots.along(0, FILM), OptionalDouble.empty());
        try (ThreadTeam team = new ThreadTeam(1)) {
            new FilmSolver(input, SolverOptions.STANDARD.withTimeControl(1.05, 1e-3), team)
                    .run(new double[0], history, new Progress().stage("film", 0, "iterations"));
        }
        assertThat(hold).as("rounded up to a second").isGreaterThan(60);
        assertThat(history.fillTime()[0]).isCloseTo(hold / 3, withinPercentage(1));
        double unthinned = 0.5 * moment * (1 / ((FILM - VOLUME) * (FILM - VOLUME)) - 1 / (FILM * FILM)) * eta / pascals;
        assertThat(hold / 3).isLessThan(1.01 * mostOfUnthinned * unthinned);
    }

    private static double number(Map<String, String> values, String key) {
        String value = Objects.requireNonNull(values.get(key));
        return Double.parseDouble(value.substring(0, value.indexOf(' ')));
    }
}
