package org.evenstamp.analysis.drying;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.imprint.FilmShape;
import org.evenstamp.analysis.imprint.Materials;
import org.evenstamp.analysis.imprint.Shrinkage;
import org.evenstamp.analysis.imprint.TileValues;
import org.evenstamp.analysis.numeric.Slab;
import org.evenstamp.analysis.process.Drying;
import org.evenstamp.analysis.process.FloryHuggins;
import org.evenstamp.analysis.process.ProcessParameters;
import org.evenstamp.analysis.rheology.FilmParameters;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Index;
import org.evenstamp.shared.spi.Parameter.Quantity;
import org.evenstamp.shared.spi.Parameters;

/**
 * Drying of a swollen film by diffusion, and where it is still soft when the drying ends.
 *
 * <p>It dries as {@link Drying} says, through the height of the swollen film throughout. A place is soft until its solvent has fallen to the share at which Fox's rule puts the
 * glass temperature at that of the press.
 */
public final class DryingProvider implements AnalysisProvider {
    /** Time until it has set. */
    public static final FieldName TIME = FieldName.of(
            "dry.time", "s", "time of drying after which the film has set at the place of the tile that is slowest");
    /** Solvent left. */
    public static final FieldName LEFT = FieldName.of(
            "dry.left",
            "%",
            "share of solvent in the film when the drying ends, at the place of the tile that is slowest");
    /** Time needed over time given. */
    public static final FieldName INDEX = FieldName.of(
            "dry.index",
            "1",
            "time that the tile needs to set by drying over process.dry-time; above 1 it is still soft");
    /** Share of the tiles that are soft. */
    public static final FieldName SOFT =
            FieldName.of("drying.soft", "%", "share of the tiles that are still soft when the drying ends");

    /** How well that is known. */
    public static final Quantity FACTOR = Quantity.optional(
            "film.solvent-diffusivity-factor",
            "1",
            1,
            1e6,
            "factor up and down to which film.solvent-diffusivity is known");

    private static final double REACHED = 0.99;

    @Override
    public AnalysisDescription description() {
        return new AnalysisDescription(
                "drying",
                "Where a film that solvent has swollen is still soft when its drying ends",
                List.of(
                        ProcessParameters.KIND,
                        ProcessParameters.SOLVENT_SHARE,
                        ProcessParameters.DRY,
                        ProcessParameters.SWELL,
                        ProcessParameters.TEMPERATURE,
                        FilmParameters.GLASS,
                        FilmParameters.SOLVENT_GLASS,
                        CommonParameters.FILM_THICKNESS,
                        FilmShape.UNEVEN_X,
                        FilmShape.UNEVEN_Y,
                        FilmShape.UNEVEN_RADIAL,
                        Drying.DIFFUSIVITY,
                        FACTOR,
                        FloryHuggins.CHI,
                        FloryHuggins.ACTIVITY,
                        Drying.THROUGH),
                List.of(TileFields.FLOW_PATH_MAX),
                List.of(TileFields.FILM_COATED),
                List.of(TIME, LEFT, INDEX),
                List.of(Index.of(
                        INDEX, "a longer drying, narrower land, a stamp that lets vapour pass, or less solvent")),
                List.of());
    }

    @Override
    public List<FieldName> limitableFigures() {
        return List.of(SOFT);
    }

    @Override
    public List<String> quietWithout() {
        return List.of(ProcessParameters.DRY.id());
    }

    @Override
    public Analysis create(Parameters parameters) {
        return context -> run(parameters, context);
    }

    private static AnalysisResult run(Parameters p, AnalysisContext context) {
        TileGrid grid = context.grid();
        TileValues time = new TileValues(TIME, grid);
        TileValues left = new TileValues(LEFT, grid);
        TileValues index = new TileValues(INDEX, grid);
        Optional<Drying> drying = Drying.of(p);
        double swollen = ProcessParameters.solventShare(p);
        if (drying.isEmpty() || swollen == 0) {
            return new AnalysisResult(
                    List.of(time.field(), left.field(), index.field()),
                    List.of(),
                    List.of(),
                    List.of(warning(
                            "drying.steady",
                            "nothing says how fast solvent moves in the film (" + Drying.DIFFUSIVITY.id()
                                    + "): it comes and goes at a steady rate everywhere, and where the film is still soft is not told",
                            new Place.WholeStamp())));
        }
        double set = Math.max(1e-6 * swollen, Shrinkage.solventWhenItSets(p));
        double needed = set < swollen ? Slab.whenMiddle(set / swollen) : 0;
        double given = p.quantity(ProcessParameters.DRY.id());
        double rate = drying.get().diffusivity();
        double[] height = height(p, context);
        double[] reaches = drying.get().reach(context.fields(), height);
        try (Stage stage = context.progress().stage("drying", grid.size(), "tiles")) {
            for (int i = 0; i < grid.size(); i++) {
                stage.advance(1);
                double reach = reaches[i];
                time.set(i, needed * reach * reach / rate);
                left.set(i, swollen * Slab.middle(rate * given / (reach * reach)));
                index.set(i, time.at(i) / given);
            }
        }
        int worst = index.worst().orElseThrow();
        double factor = p.find(FACTOR.id()).orElse(1);
        int soft = index.countAbove(1);
        int perhaps = index.countAbove(1 / factor);
        List<Figure> figures = new ArrayList<>();
        figures.add(Figure.of("soft", (double) soft / grid.size(), SOFT.unit().symbol(), SOFT.meaning()));
        figures.add(Figure.of("longest", time.at(worst), "s", "time of drying until the slowest tile has set"));
        figures.add(Figure.of("longest.most", factor * time.at(worst), "s", "the same with the least diffusivity"));
        figures.add(Figure.of("set.share", set, "%", "share of solvent at which the film sets"));
        List<Finding.Warning> warnings = new ArrayList<>();
        if (perhaps > 0) {
            warnings.add(warning(
                    "drying.soft",
                    String.format(
                            Locale.ROOT,
                            "%d of %d tiles are still soft after %.4g s of drying, and %d may be, as the diffusivity is known to a factor of %.3g: the slowest sets"
                                    + " after %.4g s",
                            soft,
                            grid.size(),
                            given,
                            perhaps,
                            factor,
                            time.at(worst)),
                    Place.Tile.of(grid, worst)));
        }
        swelling(p, rate, height, figures, warnings);
        return new AnalysisResult(List.of(time.field(), left.field(), index.field()), figures, List.of(), warnings);
    }

    /** Says how far the solvent has reached the bottom of the film before it is pressed. */
    private static void swelling(
            Parameters p, double rate, double[] height, List<Figure> figures, List<Finding.Warning> warnings) {
        OptionalDouble time = p.find(ProcessParameters.SWELL.id());
        if (time.isEmpty()) {
            return;
        }
        double thickest = 0;
        for (double h : height) {
            thickest = Math.max(thickest, h);
        }
        double reached = 1 - Slab.middle(rate * time.getAsDouble() / (thickest * thickest));
        figures.add(Figure.of(
                "swell.reached",
                reached,
                "%",
                "solvent at the bottom of the film over that in balance when it is pressed"));
        if (reached < REACHED) {
            warnings.add(warning(
                    "drying.swelling",
                    String.format(
                            Locale.ROOT,
                            "the film is not swollen through when it is pressed: its bottom has %.3g %% of the solvent that the run"
                                    + " takes it to have",
                            100 * reached),
                    new Place.WholeStamp()));
        }
    }

    /** Returns the height of the swollen film in every tile, m. */
    private static double[] height(Parameters p, AnalysisContext context) {
        double[] height = FilmShape.of(p).metres(p.quantity(CommonParameters.FILM_THICKNESS.id()), context.fields());
        for (int i = 0; i < height.length; i++) {
            height[i] *= Materials.swelling(p);
        }
        return height;
    }

    private static Finding.Warning warning(String code, String message, Place place) {
        return new Finding.Warning("drying", code, message, place);
    }
}
