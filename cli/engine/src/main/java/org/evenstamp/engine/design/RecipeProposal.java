package org.evenstamp.engine.design;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.analysis.feature.Unfilled;
import org.evenstamp.analysis.pipeline.Outcome;
import org.evenstamp.analysis.recipe.StartingRecipe;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.spi.Figure;

/**
 * A recipe of each kind of process that was proposed for a stamp.
 *
 * @param filmMetres thickness of the film, its mean where it differs from place to place
 * @param tiles the measured layout
 * @param recipes the recipes, each with what the film solve says of it
 */
public record RecipeProposal(double filmMetres, FieldSet tiles, List<Solved> recipes) {
    /** Copies the list. */
    public RecipeProposal {
        recipes = List.copyOf(recipes);
    }

    /**
     * A recipe and what the film solve says of it.
     *
     * @param recipe the recipe
     * @param outcome of the film solve
     */
    public record Solved(StartingRecipe recipe, Outcome outcome) {
        /** Returns the tiles that are not full when the film sets; empty when all are. */
        public Optional<Unfilled> unfilled() {
            return Unfilled.of(outcome.fields());
        }

        /** Returns this with one reason more. */
        Solved because(String reason) {
            return new Solved(recipe.because(reason), outcome);
        }

        /** Returns the figures of the film solve. */
        public List<Figure> figures() {
            return outcome.results().get(0).result().figures();
        }

        /** Returns a figure of the film solve, SI; empty when it has none of that id. */
        public OptionalDouble figure(String id) {
            return figures().stream()
                    .filter(figure -> figure.id().equals(id))
                    .mapToDouble(Figure::valueSi)
                    .findFirst();
        }

        /** Returns the field of an id, which the film solve must give. */
        public Field field(String id) {
            return outcome.fields().find(id).orElseThrow();
        }

        /** Returns what a reader must know. */
        public List<Finding.Warning> warnings() {
            return outcome.warnings();
        }
    }
}
