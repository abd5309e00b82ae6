package org.evenstamp.engine.design;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.completion.Absorption;
import org.evenstamp.analysis.completion.FilmThickness;
import org.evenstamp.analysis.feature.Unfilled;
import org.evenstamp.analysis.film.FilmProvider;
import org.evenstamp.analysis.imprint.FilmShape;
import org.evenstamp.analysis.material.Material;
import org.evenstamp.analysis.material.MaterialKind;
import org.evenstamp.analysis.process.Drying;
import org.evenstamp.analysis.process.LightPath;
import org.evenstamp.analysis.process.ProcessParameters;
import org.evenstamp.analysis.process.UnevenTemperature;
import org.evenstamp.analysis.recipe.StartingRecipe;
import org.evenstamp.analysis.recipe.StartingRecipes;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.JobVocabulary;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;

/** Proposes a first recipe of each kind of process for the layout, the film thickness and the stamp of a job. */
public final class RecipeDesign {
    private static final String FILM = new FilmProvider().description().id();

    /** Films of the library for the kinds that the job's own film does not fit. */
    private static final String MELT = "ps-50k";

    private static final String LIQUID = "uv-acrylate";

    /** What a recipe leaves as it is of film and process. */
    private static final Set<String> KEPT = Set.of(
            CommonParameters.FILM_THICKNESS.id(),
            JobVocabulary.FILM_MATERIALS.id(),
            FilmThickness.SPIN_SPEED.id(),
            FilmThickness.SPIN_MEASURED_SPEED.id(),
            FilmThickness.SPIN_MEASURED_THICKNESS.id(),
            FilmShape.UNEVEN_X.id(),
            FilmShape.UNEVEN_Y.id(),
            FilmShape.UNEVEN_RADIAL.id(),
            LightPath.SUBSTRATE_TRANSMISSION.id(),
            Absorption.SUBSTRATE.id(),
            CommonParameters.SUBSTRATE_THICKNESS.id(),
            Drying.THROUGH.id(),
            ProcessParameters.UNEVEN_X.id(),
            ProcessParameters.UNEVEN_Y.id(),
            UnevenTemperature.UNEVEN_X.id(),
            UnevenTemperature.UNEVEN_Y.id());

    private final Job job;
    private final RunOptions options;
    private final Progress progress;

    private RecipeDesign(Job job, RunOptions options, Progress progress) {
        this.job = job;
        this.options = options;
        this.progress = progress;
    }

    /**
     * Proposes recipes. A recipe is slowed down, and a web drawn tighter that lets go of what had filled, until every tile is full when the
     * film sets; when nothing helps, its reasons say that this kind of press does not suit this stamp.
     *
     * @throws InputException when the job has no film thickness, or a recipe does not go with its other values
     */
    public static RecipeProposal of(Job job, RunOptions options, Progress progress) {
        return new RecipeDesign(job, options, progress).propose();
    }

    private RecipeProposal propose() {
        double stated = job.settings()
                .find(CommonParameters.FILM_THICKNESS.id())
                .orElseThrow(() -> new InputException(
                        "job.missing-key",
                        job.place(),
                        "the job does not set " + CommonParameters.FILM_THICKNESS.id(),
                        ""));
        FieldSet tiles = Simulation.measure(job, options, progress);
        Optional<Field> coated = tiles.find(TileFields.FILM_COATED.id());
        double thickness = coated.map(Job::meanMetres).orElse(stated);
        Job film = job.only(Set.of(FILM));
        List<RecipeProposal.Solved> solved = new ArrayList<>();
        for (StartingRecipe recipe : new StartingRecipes(
                        job.library(),
                        thickness,
                        tiles.get(TileFields.CAVITY_VOLUME).toArray(),
                        tiles.get(TileFields.CAVITY_FRACTION).toArray(),
                        tiles.get(TileFields.SQUEEZE_MOMENT).toArray(),
                        path(tiles))
                .of(film(true), film(false))) {
            solved.add(filling(film, lit(film, recipe), tiles));
        }
        return new RecipeProposal(thickness, tiles, solved);
    }

    /** Returns how far solvent has to go under land, m; nothing where it leaves through the stamp. */
    private double path(FieldSet tiles) {
        boolean stamp = job.settings()
                .findChoice(Drying.THROUGH.id())
                .filter("stamp"::equals)
                .isPresent();
        double longest = 0;
        Field path = tiles.get(TileFields.FLOW_PATH_MAX);
        for (int i = 0; i < tiles.grid().size() && !stamp; i++) {
            longest = path.known(i) ? Math.max(longest, path.at(i)) : longest;
        }
        return longest;
    }

    /** Returns a recipe that light reaches: where stamp and substrate are opaque, one for a clear stamp, which says so. */
    private static StartingRecipe lit(Job film, StartingRecipe recipe) {
        try {
            film.withRecipe(KEPT, recipe.values());
            return recipe;
        } catch (InputException e) {
            if (e.problems().stream().noneMatch(problem -> problem.code().equals(LightPath.NO_LIGHT))) {
                throw e;
            }
            Map<String, String> clear = new LinkedHashMap<>(recipe.values());
            clear.put(LightPath.STAMP_TRANSMISSION.id(), "100 %");
            return new StartingRecipe(recipe.kind(), clear, recipe.reasons())
                    .because(
                            "no light reaches the film through this stamp and this substrate: computed for a stamp that is clear");
        }
    }

    private RecipeProposal.Solved filling(Job film, StartingRecipe recipe, FieldSet tiles) {
        RecipeProposal.Solved solved = solve(film, recipe, tiles);
        int halvings = 0;
        Optional<Unfilled> open = solved.unfilled();
        while (open.isPresent()) {
            StartingRecipe now = solved.recipe();
            Optional<StartingRecipe> tighter =
                    solved.figure("filled.once").orElse(0) < 1 ? Optional.empty() : now.tighter();
            Optional<StartingRecipe> next = tighter.isPresent() ? tighter : now.slower();
            if (next.isEmpty()) {
                break;
            }
            halvings += tighter.isPresent() ? 0 : 1;
            solved = solve(film, next.get(), tiles);
            open = solved.unfilled();
        }
        String time = halvings == 0 ? "" : String.format(Locale.ROOT, "%d times as slow as that, ", 1 << halvings);
        String wrapped = solved.recipe().values().containsKey("process.web-tension")
                ? "with a web that stays wrapped around the roller until the film has set, "
                : "";
        if (open.isPresent()) {
            return solved.because(String.format(
                    Locale.ROOT,
                    "this kind of press does not suit this stamp: %s%swhen the film sets %s",
                    time,
                    wrapped,
                    open.get().sentence()));
        }
        return (time + wrapped).isEmpty()
                ? solved
                : solved.because(time + wrapped + "every tile is full when the film sets (film solve)");
    }

    private RecipeProposal.Solved solve(Job film, StartingRecipe recipe, FieldSet tiles) {
        Map<String, String> values = new HashMap<>(recipe.values());
        tiles.find(TileFields.FILM_COATED.id())
                .ifPresent(map -> values.put(CommonParameters.FILM_THICKNESS.id(), Job.meanMetres(map) * 1e9 + " nm"));
        return new RecipeProposal.Solved(
                recipe, Simulation.analyse(film.withRecipe(KEPT, values), tiles, options, progress));
    }

    private Material film(boolean melt) {
        return job.filmMaterial()
                .filter(film -> StartingRecipes.isMelt(film) == melt)
                .orElseGet(() -> job.library().get(MaterialKind.FILM, melt ? MELT : LIQUID));
    }
}
