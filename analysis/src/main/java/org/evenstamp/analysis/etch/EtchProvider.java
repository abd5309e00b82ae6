package org.evenstamp.analysis.etch;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.Relief;
import org.evenstamp.analysis.imprint.TileValues;
import org.evenstamp.shared.field.Field;
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
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameters;

/**
 * Time to clear the residual layer, and what the features still are when the whole stamp area is clear.
 *
 * <p>The etch is stopped when the last tile is clear, later by the over-etch asked for. Tiles that are cavity all over have no
 * residual layer to clear; tiles without features have nothing to lose. Features are as high as film stands in the cavities,
 * not as these are deep, and the lowest of a tile decide.
 */
public final class EtchProvider implements AnalysisProvider {
    /** Time to clear. */
    public static final FieldName CLEAR =
            FieldName.of("etch.clear", "s", "time after which the tile's residual layer is etched away");
    /** Height left. */
    public static final FieldName LEFT = FieldName.of(
            "etch.left",
            "nm",
            "height of the tile's lowest features that is left over the substrate when the etch stops");
    /** Width left. */
    public static final FieldName WIDTH =
            FieldName.of("etch.width", "nm", "width of the narrowest feature that is left when the etch stops");
    /** Change of width. */
    public static final FieldName CD_LOSS = FieldName.of(
            "etch.cd.loss", "nm", "width that the features lose by the etch (change of critical dimension)");
    /** Demand over capacity of the window. */
    public static final FieldName INDEX = FieldName.of(
            "etch.index",
            "1",
            "time to clear the whole stamp area over the latest time this tile bears; 1 is the limit");

    private static final Parameter.Quantity VERTICAL = Parameter.Quantity.required(
            "etch.vertical-rate", "nm/s", 1e-6, 1e6, "vertical etch rate of the film on an open area");
    private static final Parameter.Quantity LATERAL = Parameter.Quantity.required(
            "etch.lateral-rate", "nm/s", 0, 1e6, "lateral etch rate of the film at each side wall");
    private static final Parameter.Quantity LOADING = Parameter.Quantity.standard(
            "etch.loading",
            "1",
            0,
            0,
            100,
            "L in rate = open rate/(1 + L f), f the share of the area with film: all of it until the residual layer is clear, then the"
                    + " features; 0 for none");
    private static final Parameter.Quantity REACTION = Parameter.Quantity.standard(
            "etch.reaction-probability",
            "1",
            0,
            0,
            1,
            "share of the etching neutrals that react where they meet the film, which slows the etch at the bottom of narrow openings; 0 for"
                    + " a rate that is the same in all");
    private static final Parameter.Quantity LOADING_LENGTH = Parameter.Quantity.standard(
            "etch.loading-length",
            "mm",
            0,
            0,
            1000,
            "length over which the film around a place slows its etch; 0 for the tile's own");
    private static final Parameter.Quantity OVER_ETCH = Parameter.Quantity.standard(
            "etch.over-etch", "%", 0, 0, 1000, "time added to that which clears the whole stamp area");
    private static final Parameter.Quantity LEAST_HEIGHT = Parameter.Quantity.standard(
            "etch.least-height", "nm", 0, 0, 1e6, "height the features must keep; 0: until they are gone");
    private static final Parameter.Quantity LEAST_WIDTH = Parameter.Quantity.standard(
            "etch.least-width", "nm", 0, 0, 1e6, "width the features must keep; 0: until they are gone");
    private static final Parameter.Quantity WALL_ANGLE = Parameter.Quantity.standard(
            "etch.wall-angle",
            "deg",
            90,
            30,
            90,
            "angle of the side walls against the substrate; 90 for upright walls");

    @Override
    public AnalysisDescription description() {
        List<FieldName> needs = new ArrayList<>(Relief.needs());
        needs.add(ImprintFields.RESIDUAL_LOCAL);
        return new AnalysisDescription(
                "etch",
                "Etch-back: time to clear the residual layer, the window of times, and what is left of the features",
                List.of(
                        VERTICAL,
                        LATERAL,
                        LOADING,
                        LOADING_LENGTH,
                        REACTION,
                        OVER_ETCH,
                        LEAST_HEIGHT,
                        LEAST_WIDTH,
                        WALL_ANGLE),
                needs,
                List.of(ImprintFields.RESIDUAL_FINAL),
                List.of(CLEAR, LEFT, WIDTH, CD_LOSS, INDEX),
                List.of(Index.of(
                        INDEX,
                        "a thinner or more even residual layer (level the cavity volume), higher or wider features, or less"
                                + " lateral etching")),
                List.of());
    }

    @Override
    public Analysis create(Parameters parameters) {
        EtchRates rates = new EtchRates(
                parameters.quantity(VERTICAL.id()),
                parameters.quantity(LATERAL.id()),
                parameters.quantity(LOADING.id()));
        return context -> run(rates, parameters, context);
    }

    private static AnalysisResult run(EtchRates rates, Parameters p, AnalysisContext context) {
        TileGrid grid = context.grid();
        Relief relief = Relief.of(context.fields());
        Field residual = ImprintFields.residual(context.fields());
        double leastHeight = p.quantity(LEAST_HEIGHT.id());
        double leastWidth = p.quantity(LEAST_WIDTH.id());

        double cotangent = EtchRates.cotangent(p.quantity(WALL_ANGLE.id()));

        int[] tiles = IntStream.range(0, grid.size())
                .filter(i -> relief.fraction(i) < 1 && residual.known(i))
                .toArray();
        TileValues clear = new TileValues(CLEAR, grid);
        TileValues left = new TileValues(LEFT, grid);
        TileValues width = new TileValues(WIDTH, grid);
        TileValues loss = new TileValues(CD_LOSS, grid);
        TileValues index = new TileValues(INDEX, grid);
        if (tiles.length == 0) {
            return AnalysisResult.of(List.of(clear.field(), left.field(), width.field(), loss.field(), index.field()));
        }

        double[] layer = new double[tiles.length];
        EtchRates.Pair before = rates.beforeClearing();
        EtchRates.Pair[] after = new EtchRates.Pair[tiles.length];
        double[] open =
                OpenArea.around(context.fields().get(TileFields.CAVITY_FRACTION), p.quantity(LOADING_LENGTH.id()));
        double[] height = new double[tiles.length];
        double[] room = new double[tiles.length];
        NarrowOpening[] openings = new NarrowOpening[tiles.length];
        double slowest = 1;
        for (int k = 0; k < tiles.length; k++) {
            int i = tiles[k];
            layer[k] = Math.max(0, residual.at(i));
            after[k] = rates.afterClearing(open[i]);
            boolean featured = relief.featured(i);
            height[k] = featured ? relief.lowest(i) - leastHeight : Double.POSITIVE_INFINITY;
            room[k] = featured ? relief.width(i) - leastWidth : Double.POSITIVE_INFINITY;
            openings[k] = new NarrowOpening(
                    p.quantity(REACTION.id()), relief.openingShape(i), relief.gap(i), featured ? relief.highest(i) : 0);
            slowest = Math.min(slowest, openings[k].slowing());
        }
        EtchWindow window = new EtchWindow(layer, before, after, height, room, cotangent, openings);
        for (int k = 0; k < tiles.length; k++) {
            clear.set(tiles[k], window.clearAt(k));
        }
        double earliest = window.earliest();
        double stop = earliest * (1 + p.quantity(OVER_ETCH.id()));
        try (Stage stage = context.progress().stage("etch-back", tiles.length, "tiles")) {
            for (int k = 0; k < tiles.length; k++) {
                stage.advance(1);
                int i = tiles[k];
                if (!relief.featured(i)) {
                    continue;
                }
                double beyond = stop - clear.at(i);
                double recession = window.earlyAt(k) + after[k].vertical() * beyond;
                double sideways = before.lateral() * clear.at(i) + after[k].lateral() * beyond;
                double lost = Math.min(relief.width(i), 2 * (sideways + cotangent * recession));
                loss.set(i, lost);
                width.set(i, relief.width(i) - lost);
                left.set(i, lost < relief.width(i) ? Math.max(0, relief.lowest(i) - recession) : 0);
                index.set(i, demand(earliest, window.latestAt(k)));
            }
        }
        OptionalDouble opening = window.spreadThatOpens(context.progress()::checkCancelled);
        List<Figure> figures = figures(rates, window, opening, Uniformity.of(layer), stop);
        if (p.quantity(REACTION.id()) > 0) {
            figures.add(Figure.of(
                    "opening.slowest", slowest, "1", "least rate at the bottom of an opening over that on open film"));
        }
        return new AnalysisResult(
                List.of(clear.field(), left.field(), width.field(), loss.field(), index.field()),
                figures,
                List.of(),
                warnings(grid, window, opening, clear, left, loss, index));
    }

    /** A window that is closed from the start would be an infinite demand; such a tile states a thousandfold. */
    private static double demand(double earliest, double latest) {
        double most = 1000;
        return latest > 0 ? Math.min(most, earliest / latest) : most;
    }

    private static List<Figure> figures(
            EtchRates rates, EtchWindow window, OptionalDouble opening, Uniformity evenness, double stop) {
        List<Figure> figures = new ArrayList<>();
        figures.add(Figure.of("earliest", window.earliest(), "s", "earliest stop: the whole stamp area is clear"));
        if (Double.isFinite(window.latest())) {
            figures.add(
                    Figure.of("latest", window.latest(), "s", "latest stop: the first feature is at its least size"));
            figures.add(Figure.of(
                    "window", window.latest() - window.earliest(), "s", "latest minus earliest; negative: no window"));
        }
        figures.add(Figure.of("stop", stop, "s", "time at which the features are stated"));
        figures.add(Figure.of("anisotropy", rates.anisotropy(), "1", "1 - lateral rate/vertical rate"));
        figures.add(Figure.of("residual.mean", evenness.mean(), "nm", "mean residual layer to clear"));
        figures.add(Figure.of("residual.spread", evenness.spread(), "nm", "thickest minus thinnest residual layer"));
        figures.add(Figure.of("uniformity.u1", evenness.halfRangeOverMean(), "%", "U1 = (max - min)/(2 mean)"));
        figures.add(Figure.of("uniformity.u2", evenness.rangeOverSum(), "%", "U2 = (max - min)/(max + min)"));
        figures.add(Figure.of("uniformity.u3", evenness.threeSigmaOverMean(), "%", "U3 = 3 sigma/mean"));
        figures.add(Figure.of("sigma3", 3 * evenness.sigma(), "nm", "3 sigma of the residual layer"));
        figures.add(
                Figure.of("residual.excess", evenness.overEtch(), "%", "thickest over mean residual layer, minus 1"));
        opening.ifPresent(spread -> figures.add(Figure.of(
                "spread.open", spread, "nm", "largest residual spread about the same mean that has a window")));
        return figures;
    }

    private static List<Finding.Warning> warnings(
            TileGrid grid,
            EtchWindow window,
            OptionalDouble opening,
            TileValues clear,
            TileValues left,
            TileValues loss,
            TileValues index) {
        List<Finding.Warning> warnings = new ArrayList<>();
        if (!window.open()) {
            int last = clear.worst().orElseThrow();
            String remedy = opening.isPresent()
                    ? String.format(
                            Locale.ROOT, "a residual spread below %.3g nm would open it", opening.getAsDouble() * 1e9)
                    : "an even residual layer would not open it: thinner film, higher features or less lateral etching";
            String message = String.format(
                    Locale.ROOT,
                    "no etch time serves the whole stamp: clear at %.4g s (last in column %d, row %d), features too small in %d"
                            + " tiles from %.4g s; %s",
                    window.earliest(),
                    grid.column(last),
                    grid.row(last),
                    index.countAbove(1),
                    Math.max(0, window.latest()),
                    remedy);
            warnings.add(new Finding.Warning(
                    "etch",
                    "etch.no-window",
                    message,
                    Place.Tile.of(grid, index.worst().orElseThrow())));
        }
        int[] gone =
                IntStream.range(0, grid.size()).filter(i -> left.at(i) == 0).toArray();
        if (gone.length > 0) {
            warnings.add(new Finding.Warning(
                    "etch",
                    "etch.features-gone",
                    "the features of " + gone.length + " tiles are etched away before the etch stops",
                    Place.Tile.of(grid, gone[0])));
        }
        if (sameEverywhere(loss, grid)) {
            warnings.add(new Finding.Warning(
                    "etch",
                    "etch.loss-even",
                    "the width lost is the same in every tile, as walls are upright, there is one lateral rate, and all stops at one time:"
                            + " leaning walls or loading would make it differ",
                    new Place.WholeStamp()));
        }
        return warnings;
    }

    private static boolean sameEverywhere(TileValues loss, TileGrid grid) {
        double[] known = IntStream.range(0, grid.size())
                .mapToDouble(loss::at)
                .filter(value -> !Double.isNaN(value))
                .sorted()
                .toArray();
        return known.length > 1 && known[0] > 0 && known[known.length - 1] - known[0] <= 1e-9 * known[0];
    }
}
