package org.evenstamp.analysis.recipe;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.evenstamp.analysis.material.MaterialKind;
import org.evenstamp.analysis.material.MaterialLibrary;
import org.junit.jupiter.api.Test;

class StartingRecipesTest {
    private final MaterialLibrary library = MaterialLibrary.standard();

    @Test
    void starting_recipes_press_resins_far_more_gently_than_melts() {
        double[] volume = {75e-9, 0, 100e-9};
        double[] moment = {1e-10, 1e-9, 2e-10};
        List<StartingRecipe> recipes = new StartingRecipes(library, 250e-9, volume, new double[] {0.5, 0, 0.5}, moment)
                .of(library.get(MaterialKind.FILM, "ps-50k"), library.get(MaterialKind.FILM, "uv-acrylate"));

        assertThat(recipes)
                .extracting(StartingRecipe::kind)
                .containsExactly("hot-press", "uv-press", "solvent-press", "roller");
        assertThat(recipes.get(0).values()).containsEntry("process.pressure", "5 MPa");
        assertThat(recipes.get(1).values()).containsEntry("process.pressure", "0.1 MPa");
        double need = 1e-10 * (1 / (150e-9 * 150e-9) - 1 / (250e-9 * 250e-9));
        double hold = Double.parseDouble(
                recipes.get(0).values().getOrDefault("process.hold", "").replace(" s", ""));
        assertThat(hold).isBetween(0.5 * 3 * need * 1000 / 5e6, Math.max(1, 3 * need * 1000 / 5e6 + 1));
        assertThat(need).isCloseTo(2844.444, within(0.001));
    }
}
