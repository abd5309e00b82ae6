package org.evenstamp.analysis.release;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.imprint.Materials;
import org.evenstamp.analysis.imprint.Relief;
import org.evenstamp.analysis.imprint.Shrinkage;
import org.evenstamp.analysis.imprint.TileValues;
import org.evenstamp.analysis.stamp.ParticleStandOff;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Curve;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Index;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameters;
import org.evenstamp.shared.spi.Remedy;

/**
 * Tear index of the film's features at release, with its terms, and the force it takes.
 *
 * <p>The tension at the foot of a tile's worst feature (narrowest width, mean height, measured shape) over the film's strength
 * is the sum of three terms: friction on the walls, from the grip of shrinking film and from features that lean because
 * stamp and substrate drift apart with distance from the stamp's centre; adhesion of walls and top face; bending at the foot of
 * the leaning feature. A feature leans no further than the gap that shrinking has opened. All terms carry the corner factor;
 * the tear index carries the exposure besides: features at the edge of a field, or alone, tear first (common practice, no
 * source).
 */
public final class ReleaseProvider implements AnalysisProvider {
    /** Friction term. */
    public static final FieldName FRICTION = FieldName.of(
            "release.friction", "1", "tension at the features' feet by wall friction, over the film's strength");
    /** Adhesion term. */
    public static final FieldName ADHESION = FieldName.of(
            "release.adhesion", "1", "tension at the features' feet by adhesion, over the film's strength");
    /** Bending term. */
    public static final FieldName BENDING =
            FieldName.of("release.bending", "1", "bending stress at the features' feet, over the film's strength");
    /** Exposure factor. */
    public static final FieldName EXPOSURE = FieldName.of(
            "release.exposure", "1", "factor for features at the edge of a field or alone; 1 inside a field");
    /** Tear index. */
    public static final FieldName TEAR = FieldName.of(
            "release.tear",
            "1",
            "tear index: exposure times the sum of friction, adhesion and bending; 1 is the limit");

    private static final Parameter.Quantity STAMP_ENERGY = Parameter.Quantity.required(
            "release.stamp-energy", "mJ/m^2", 0, 1e4, "surface energy of the stamp or its release coating");
    private static final Parameter.Quantity CONTACT_ANGLE = Parameter.Quantity.optional(
            "release.contact-angle",
            "deg",
            0,
            180,
            "contact angle of the liquid film on the stamp; where given, adhesion comes from it and not from the stamp's energy");
    private static final Parameter.Quantity FRICTION_COEFFICIENT = Parameter.Quantity.required(
            "release.friction", "1", 0, 10, "friction coefficient of the film on the stamp");
    private static final Parameter.Quantity CORNER = Parameter.Quantity.standard(
            "release.corner-factor",
            "1",
            2,
            1,
            10,
            "stress concentration at the features' feet; 1.5 to 3 by common practice, no source");
    private static final Parameter.Quantity EDGE = Parameter.Quantity.standard(
            "release.edge-factor",
            "1",
            2,
            1,
            10,
            "factor for a feature without neighbours; 1 for a rigid stamp, 4 at the end of a beam on springs against its"
                    + " middle (Hetenyi, from memory)");
    private static final Parameter.Choice MODE = new Parameter.Choice(
            "release.mode",
            List.of("peel", "pull"),
            "peel from one side, or pull straight with all walls sliding at once");
    private static final Parameter.Quantity DIRECTION = Parameter.Quantity.standard(
            "release.peel-direction", "deg", 0, -360, 360, "direction in which the front moves, from x towards y");
    private static final Parameter.Quantity ANGLE = Parameter.Quantity.standard(
            "release.peel-angle", "deg", 90, 1, 180, "angle between the peeled stamp and the film");
    private static final Parameter.Quantity SPEED =
            Parameter.Quantity.optional("release.peel-speed", "mm/s", 1e-6, 1e6, "speed of the front");
    private static final Parameter.Quantity LIFT = Parameter.Quantity.optional(
            "release.lift", "um", 1e-6, 1e6, "lift of the stamp's rim, to see where the front rests");

    @Override
    public AnalysisDescription description() {
        return new AnalysisDescription(
                "release",
                "Tear index of the features at release, its terms, and the release force",
                parameters(),
                Relief.needs(),
                List.of(),
                List.of(FRICTION, ADHESION, BENDING, EXPOSURE, TEAR),
                List.of(new Index(
                        TEAR,
                        List.of(
                                new Remedy(
                                        FRICTION,
                                        "a coating of lower friction, a stamp that shrinks with the film, a hotter release, or"
                                                + " lower and wider features"),
                                new Remedy(
                                        ADHESION,
                                        "a coating of lower surface energy, wider features, or peeling instead of pulling"),
                                new Remedy(
                                        BENDING,
                                        "bring the expansion of stamp and substrate together, release at a higher"
                                                + " temperature, or lower and wider features")))),
                List.of());
    }

    private static List<Parameter> parameters() {
        List<Parameter> parameters = new ArrayList<>(List.of(
                Materials.FILM_MODULUS,
                Materials.FILM_POISSON,
                Materials.FILM_STRENGTH,
                Materials.FILM_SURFACE_ENERGY,
                CommonParameters.STAMP_MODULUS,
                CommonParameters.STAMP_POISSON,
                CommonParameters.STAMP_THICKNESS,
                STAMP_ENERGY,
                CONTACT_ANGLE,
                FRICTION_COEFFICIENT,
                Materials.SUBSTRATE_EXPANSION,
                Materials.BACK_EXPANSION,
                CORNER,
                EDGE,
                MODE,
                DIRECTION,
                ANGLE,
                SPEED,
                LIFT));
        parameters.addAll(Shrinkage.parameters());
        return parameters;
    }

    @Override
    public Analysis create(Parameters parameters) {
        Setting setting = Setting.of(parameters);
        return context -> run(setting, context);
    }

    private static AnalysisResult run(Setting s, AnalysisContext context) {
        TileGrid grid = context.grid();
        Relief relief = Relief.of(context.fields());
        TileValues friction = new TileValues(FRICTION, grid);
        TileValues adhesion = new TileValues(ADHESION, grid);
        TileValues bending = new TileValues(BENDING, grid);
        TileValues exposure = new TileValues(EXPOSURE, grid);
        TileValues tear = new TileValues(TEAR, grid);
        double[] work = new double[grid.size()];
        double sliding = 0;
        try (Stage stage = context.progress().stage("release", grid.size(), "tiles")) {
            for (int i = 0; i < grid.size(); i++) {
                stage.advance(1);
                work[i] = s.work;
                if (!relief.featured(i)) {
                    continue;
                }
                double height = relief.highest(i); // the most slender ones of the tile
                double walls = relief.walls(i);
                double leaning = Grip.leaningWidth(relief.width(i), height);
                double ring = Grip.ringPressure(s.modulus, s.poisson, s.shrinkage, relief.fraction(i));
                // the work that bends the stamp is that of the walls before any of them leans
                double tilt = s.peel ? s.tilt(height, s.partingWork(walls, s.friction * ring, height)) : 0;
                double offset = Math.min(s.drift * distanceFromCentre(grid, i) + tilt, Grip.gap(s.shrinkage, leaning));
                double rubbing = s.friction * (ring + Grip.leaningPressure(s.modulus, leaning, height, offset));
                double sticking = Adhesion.drawStress(s.work, height);
                // where film has not reached the roof there is no face to part
                double face = relief.reach(i) * (s.peel ? sticking : Adhesion.faceStress(s.work, s.modulus, height));

                double unit = s.corner / s.strength;
                double slender = RootTension.ofShape(relief.shape(i), 1, height, relief.width(i));
                friction.set(i, unit * slender * rubbing);
                adhesion.set(i, unit * (slender * sticking + face));
                bending.set(i, unit * Grip.rootBending(s.modulus, relief.width(i), height, offset));
                exposure.set(i, 1 + (s.edge - 1) * bareness(grid, relief, i));
                tear.set(i, exposure.at(i) * (friction.at(i) + adhesion.at(i) + bending.at(i)));
                work[i] = s.partingWork(walls, rubbing, height);
                sliding += walls * (rubbing + sticking) * grid.tileAreaSquareMetres();
            }
        }

        List<Figure> figures = new ArrayList<>();
        figures.add(Figure.of("work", s.work, "mJ/m^2", "work of adhesion of film and stamp"));
        figures.add(
                Figure.of("shrinkage", s.shrinkage, "%", "shrinkage of the film against the stamp, if it were free"));
        figures.add(Figure.of("force.pull", sliding, "N", "force to pull straight, all walls sliding at once"));
        List<Curve> curves = new ArrayList<>();
        if (s.peel) {
            PeelForce peel = PeelForce.along(grid, work, s.direction, s.angle);
            figures.add(Figure.of("force.peel", peel.most(), "N", "largest force while the front crosses the stamp"));
            s.speed.ifPresent(speed ->
                    figures.add(Figure.of("peel.time", peel.length() / speed, "s", "time for the front to cross")));
            curves.add(peel.curve());
        }
        double meanWork = Arrays.stream(work).average().orElseThrow();
        if (s.lift.isPresent() && meanWork > 0) { // with nothing to part the front does not rest anywhere
            figures.add(Figure.of(
                    "front.distance",
                    PeelFront.distance(s.stiffness, s.lift.getAsDouble(), meanWork),
                    "mm",
                    "distance from the lifted rim at which the front rests"));
        }
        tear.worst()
                .ifPresent(i -> figures.add(Figure.of("tear.most", tear.at(i), "1", "tear index of the worst tile")));
        return new AnalysisResult(
                List.of(friction.field(), adhesion.field(), bending.field(), exposure.field(), tear.field()),
                figures,
                curves,
                lockedTiles(s, grid, relief));
    }

    private static double distanceFromCentre(TileGrid grid, int tile) {
        double x = (grid.column(tile) + 0.5 - 0.5 * grid.columns()) * grid.pitchMetres();
        double y = (grid.row(tile) + 0.5 - 0.5 * grid.rows()) * grid.pitchMetres();
        return Math.hypot(x, y);
    }

    /** Returns the share of wall area that the eight neighbours lack: 0 inside a field, 1 where the tile is alone. */
    private static double bareness(TileGrid grid, Relief relief, int tile) {
        int column = grid.column(tile);
        int row = grid.row(tile);
        double sum = -relief.walls(tile);
        for (int r = Math.max(0, row - 1); r <= Math.min(grid.rows() - 1, row + 1); r++) {
            for (int c = Math.max(0, column - 1); c <= Math.min(grid.columns() - 1, column + 1); c++) {
                sum += relief.walls(grid.index(c, r));
            }
        }
        return Math.min(1, Math.max(0, 1 - sum / (8 * relief.walls(tile))));
    }

    private static List<Finding.Warning> lockedTiles(Setting s, TileGrid grid, Relief relief) {
        int locked = 0;
        double most = 0;
        OptionalInt worst = OptionalInt.empty();
        for (int i = 0; i < grid.size(); i++) {
            if (relief.featured(i)) {
                double excess = s.drift * distanceFromCentre(grid, i)
                        - Grip.gap(s.shrinkage, Grip.leaningWidth(relief.width(i), relief.highest(i)));
                locked += excess > 0 ? 1 : 0;
                if (excess > most) {
                    most = excess;
                    worst = OptionalInt.of(i);
                }
            }
        }
        if (worst.isEmpty()) {
            return List.of();
        }
        String message = String.format(
                Locale.ROOT,
                "in %d tiles stamp and substrate drift further than the features can lean, by up to %.4g nm: they lock there,"
                        + " and what that adds to the wall pressure is not computed",
                locked,
                most * 1e9);
        return List.of(
                new Finding.Warning("release", "release.locked", message, Place.Tile.of(grid, worst.getAsInt())));
    }

    /**
     * The inputs, SI.
     *
     * @param drift strain of substrate against stamp, not negative
     */
    private record Setting(
            double modulus,
            double poisson,
            double strength,
            double shrinkage,
            double drift,
            double work,
            double friction,
            double corner,
            double edge,
            double stiffness,
            boolean peel,
            double direction,
            double angle,
            OptionalDouble speed,
            OptionalDouble lift) {
        static Setting of(Parameters p) {
            double expansion = p.quantity(Materials.SUBSTRATE_EXPANSION.id())
                    - Materials.expansionInPlane(p).orElseThrow();
            return new Setting(
                    p.quantity(Materials.FILM_MODULUS.id()),
                    p.quantity(Materials.FILM_POISSON.id()),
                    p.quantity(Materials.FILM_STRENGTH.id()),
                    Shrinkage.of(p).onStamp(),
                    Math.abs(expansion * Materials.cooling(p)),
                    workOfAdhesion(p),
                    p.quantity(FRICTION_COEFFICIENT.id()),
                    p.quantity(CORNER.id()),
                    p.quantity(EDGE.id()),
                    ParticleStandOff.stiffness(
                            p.quantity(CommonParameters.STAMP_MODULUS.id()),
                            p.quantity(CommonParameters.STAMP_POISSON.id()),
                            p.quantity(CommonParameters.STAMP_THICKNESS.id())),
                    p.choice(MODE.id()).equals("peel"),
                    p.quantity(DIRECTION.id()),
                    p.quantity(ANGLE.id()),
                    p.find(SPEED.id()),
                    p.find(LIFT.id()));
        }

        private static double workOfAdhesion(Parameters p) {
            double film = p.quantity(Materials.FILM_SURFACE_ENERGY.id());
            OptionalDouble angle = p.find(CONTACT_ANGLE.id());
            return angle.isPresent()
                    ? Adhesion.youngDupre(film, angle.getAsDouble())
                    : Adhesion.geometricMean(film, p.quantity(STAMP_ENERGY.id()));
        }

        /** Returns the work to part a unit of area: adhesion on faces and walls, and friction over the draw, J/m². */
        double partingWork(double walls, double rubbing, double height) {
            return work * (1 + walls) + rubbing * walls * height / 2;
        }

        double tilt(double height, double partingWork) {
            return PeelFront.tiltOffset(height, PeelFront.curvature(stiffness, partingWork));
        }
    }
}
