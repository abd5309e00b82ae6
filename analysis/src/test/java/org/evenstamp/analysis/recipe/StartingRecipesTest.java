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
        List<StartingRecipe> recipes = new StartingRecipes(
                        library, 250e-9, volume, new double[] {0.5, 0, 0.5}, moment, 0)
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

    /**
     * By hand: Fox's rule with 100 and -123.15 degC puts 25 degC at 16.9091 % of solvent, 0.375758 of the 45 % at first. The middle of a strip has that left after
     * 0.494597 L²/D, so with 300 um to the edge and 10 um²/s after 4451.4 s; a tenth more is 81.6 min, rounded up to 82.
     */
    @Test
    void the_proposed_time_of_drying_lets_the_middle_of_the_widest_land_set() {
        double[] one = {75e-9};
        StartingRecipe solvent = new StartingRecipes(
                        library, 250e-9, one, new double[] {0.5}, new double[] {1e-10}, 300e-6)
                .of(library.get(MaterialKind.FILM, "ps-50k"), library.get(MaterialKind.FILM, "uv-acrylate"))
                .get(2);
        assertThat(solvent.values()).containsEntry("process.solvent-share", "45 %");
        assertThat(solvent.values()).containsEntry("process.dry-time", "4920 s");
        assertThat(solvent.reasons().toString()).contains("in 4.45e+03 s");
    }
}
