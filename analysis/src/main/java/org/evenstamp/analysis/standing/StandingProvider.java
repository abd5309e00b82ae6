package org.evenstamp.analysis.standing;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.film.stamp.StampParameters;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.Materials;
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
import org.evenstamp.shared.spi.Parameters;

/**
 * Pairing of the film's features, and buckling and sagging of the stamp's own relief, as demand over capacity.
 *
 * <p>Pairing takes the narrowest feature beside the narrowest gap of the tile. Buckling and sag are of the stamp while the
 * protrusions carry the pressure alone; they matter for soft stamps. Where the film was solved, that is the highest pressure while the tile
 * has room, otherwise the pressure applied, an upper bound. A roof that has come down on the film takes its share from then on,
 * so the protrusions bear no more than {@link RoofSag#touchingPressure} over their share of the area. A tile that is full at the end of
 * the pressing holds its roofs up when it sets, so its sag is 0; that they came down on the film on the way is a warning. The sag
 * is that of the lines with the tile's cavity fraction and edge density; where a cavity reaches over whole tiles, that of its own spans ({@link WideRoof}).
 */
public final class StandingProvider implements AnalysisProvider {
    /** Pairing. */
    public static final FieldName PAIRING = FieldName.of(
            "standing.pairing",
            "1",
            "height of the features over that at which neighbours stick together; 1 is the limit");
    /** Buckling. */
    public static final FieldName BUCKLING = FieldName.of(
            "standing.buckling",
            "1",
            "stress in the stamp's protrusions over that at which they buckle; 1 is the limit");
    /** Sag. */
    public static final FieldName SAG = FieldName.of(
            "standing.sag",
            "1",
            "sag of the stamp's roofs over cavities that are not full when the film sets, over their depth; 1 is the limit");

    @Override
    public AnalysisDescription description() {
        return new AnalysisDescription(
                "standing",
                "Whether features pair, and whether a soft stamp's relief buckles or sags",
                List.of(
                        Materials.FILM_MODULUS,
                        Materials.FILM_POISSON,
                        Materials.FILM_SURFACE_ENERGY,
                        CommonParameters.STAMP_MODULUS,
                        CommonParameters.STAMP_POISSON,
                        CommonParameters.STAMP_THICKNESS,
                        StampParameters.KIND,
                        CommonParameters.PRESSURE),
                Relief.needs(),
                List.of(ImprintFields.PRESSURE_OPEN, ImprintFields.FILL_TIME),
                List.of(PAIRING, BUCKLING, SAG),
                List.of(
                        Index.of(PAIRING, "lower features, wider features or gaps, or a stiffer film"),
                        Index.of(BUCKLING, "a stiffer stamp, less pressure, wider protrusions or shallower cavities"),
                        Index.of(
                                SAG,
                                "protrusions within the wide cavities, a stiffer stamp, less pressure or deeper cavities")),
                List.of());
    }

    @Override
    public Analysis create(Parameters parameters) {
        return context -> run(parameters, context);
    }

    private static AnalysisResult run(Parameters p, AnalysisContext context) {
        TileGrid grid = context.grid();
        Relief relief = Relief.of(context.fields());
        Field edges = context.fields().get(TileFields.EDGE_DENSITY);
        Optional<Field> open = context.fields().find(ImprintFields.PRESSURE_OPEN.id());
        Optional<Field> fillTime = context.fields().find(ImprintFields.FILL_TIME.id());
        double applied = p.quantity(CommonParameters.PRESSURE.id());
        double film = planeModulus(p, Materials.FILM_MODULUS.id(), Materials.FILM_POISSON.id());
        double stamp = planeModulus(p, CommonParameters.STAMP_MODULUS.id(), CommonParameters.STAMP_POISSON.id());
        double thickness = p.quantity(CommonParameters.STAMP_THICKNESS.id());
        double surfaceEnergy = p.quantity(Materials.FILM_SURFACE_ENERGY.id());

        TileValues pairing = new TileValues(PAIRING, grid);
        TileValues buckling = new TileValues(BUCKLING, grid);
        TileValues sag = new TileValues(SAG, grid);
        String kind = p.choice(StampParameters.KIND.id());
        WideRoof wide =
                new WideRoof(grid, relief, stamp, thickness, kind.equals("plate") || kind.equals("layer-on-plate"));
        int unknown = 0;
        int touched = 0;
        int lowest = -1;
        double deepest = 0;
        try (Stage stage = context.progress().stage("standing", grid.size(), "tiles")) {
            for (int i = 0; i < grid.size(); i++) {
                stage.advance(1);
                if (relief.cavityVolume(i) == 0) {
                    continue;
                }
                boolean full = fillTime.isPresent() && fillTime.get().known(i);
                double sunk = Double.NaN;
                if (wide.spans(i)) {
                    sunk = wide.sag(i, applied) / relief.depth(i);
                } else if (relief.walled(i)) {
                    double depth = relief.depth(i);
                    if (relief.featured(i)) {
                        double stands = relief.highest(i);
                        pairing.set(
                                i,
                                stands / Pairing.criticalHeight(film, relief.width(i), relief.gap(i), surfaceEnergy));
                    }
                    int tile = i;
                    double pressure =
                            Math.max(0, open.map(field -> field.at(tile)).orElse(applied));
                    double land = 1 - relief.fraction(i);
                    double perEdge = 2 / edges.at(i);
                    double recessWidth = relief.fraction(i) * perEdge;
                    double touching = RoofSag.touchingPressure(depth, recessWidth, land * perEdge, stamp, thickness);
                    buckling.set(i, Math.min(pressure, touching) / land / Buckling.line(stamp, relief.gap(i), depth));
                    sunk = RoofSag.sag(pressure, recessWidth, land * perEdge, stamp) / depth;
                }
                if (Double.isNaN(sunk)) {
                    unknown++;
                    continue;
                }
                sag.set(i, full ? 0 : sunk);
                if (full && sunk > 1) {
                    touched++;
                    if (lowest < 0 || sunk > deepest) {
                        lowest = i;
                        deepest = sunk;
                    }
                }
            }
        }
        List<Figure> figures = new ArrayList<>();
        pairing.worst().ifPresent(i -> {
            figures.add(Figure.of("pairing.most", pairing.at(i), "1", "pairing index of the worst tile"));
            figures.add(Figure.of(
                    "pairing.height",
                    relief.highest(i) / pairing.at(i),
                    "nm",
                    "height at which the features of that tile would begin to pair"));
        });
        buckling.worst()
                .ifPresent(i -> figures.add(
                        Figure.of("buckling.most", buckling.at(i), "1", "buckling index of the worst tile")));
        sag.worst().ifPresent(i -> figures.add(Figure.of("sag.most", sag.at(i), "1", "sag index of the worst tile")));
        List<Finding.Warning> warnings = new ArrayList<>();
        if (touched > 0) {
            String message = String.format(
                    Locale.ROOT,
                    "in %d tiles the stamp's roofs come down on the film before it has risen to them (by up to %.3g times the"
                            + " depth): there it fills otherwise than computed, and gas may be caught",
                    touched,
                    deepest);
            warnings.add(
                    new Finding.Warning("standing", "standing.roof-touches", message, Place.Tile.of(grid, lowest)));
        }
        if (unknown > 0) {
            String message = String.format(
                    Locale.ROOT,
                    "%d tiles with cavities have no %s: no wall of the stamp is in them, or along their row and column",
                    unknown,
                    SAG.id());
            warnings.add(new Finding.Warning("standing", "standing.sag-unknown", message, new Place.WholeStamp()));
        }
        return new AnalysisResult(
                List.of(pairing.field(), buckling.field(), sag.field()), figures, List.of(), warnings);
    }

    private static double planeModulus(Parameters p, String modulus, String poisson) {
        double ratio = p.quantity(poisson);
        return p.quantity(modulus) / (1 - ratio * ratio);
    }
}
