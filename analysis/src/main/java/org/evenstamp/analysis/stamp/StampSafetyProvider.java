package org.evenstamp.analysis.stamp;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.IntPredicate;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.TileValues;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
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
 * Tensile stress in the stamp over its stated strength: from bending, from contact, and over each particle; and the area each
 * particle takes from the print.
 *
 * <p>Contact: the protrusions carry the tile's pressure while the cavities have room (where the film was not solved, the pressure
 * applied; a full tile presses evenly on its whole face; {@link LandPressure}), and at the rim of a contact a share {@code (1-2ν)/3} of the
 * pressure pulls (Hertz; K.L. Johnson, Contact Mechanics, 1985, from memory; flat protrusions with rounded edges do not differ
 * by much, sharp ones do). Particles are given by place and height above the residual layer; they are taken as rigid and as
 * alone.
 */
public final class StampSafetyProvider implements AnalysisProvider {
    /** Bending stress. */
    public static final FieldName BENDING = FieldName.of(
            "stamp.bending", "MPa", "bending stress at the stamp's faces, from the curvature of its deflection");
    /** Contact stress. */
    public static final FieldName CONTACT = FieldName.of(
            "stamp.contact",
            "MPa",
            "tensile stress at the edges of the stamp's protrusions while they carry the pressure alone");
    /** Stress over a particle. */
    public static final FieldName PARTICLE =
            FieldName.of("stamp.particle", "MPa", "bending stress of the stamp over a particle; no value elsewhere");
    /** Stress over strength. */
    public static final FieldName INDEX = FieldName.of(
            "stamp.index",
            "1",
            "largest of bending, contact and particle stress over the stamp's strength; 1 is the limit");
    /** Lost area. */
    public static final FieldName UNPRINTED =
            FieldName.of("particle.unprinted", "1", "1 where a particle holds the stamp off the film, 0 elsewhere");

    private static final Parameter.Quantity STRENGTH = Parameter.Quantity.required(
            "stamp.strength", "MPa", 1e-3, 1e5, "tensile (flexural) strength of the stamp, as its maker states it");
    private static final Parameter.Table PARTICLES = new Parameter.Table(
            "stamp.particles",
            List.of(
                    Parameter.Quantity.required("x", "mm", -1e4, 1e4, "x of the particle"),
                    Parameter.Quantity.required("y", "mm", -1e4, 1e4, "y of the particle"),
                    Parameter.Quantity.required("height", "um", 1e-4, 1e4, "height above the residual layer")),
            "particles under the stamp");

    @Override
    public AnalysisDescription description() {
        return new AnalysisDescription(
                "stamp",
                "Stress in the stamp over its strength, and the area lost to particles",
                List.of(
                        CommonParameters.STAMP_MODULUS,
                        CommonParameters.STAMP_POISSON,
                        CommonParameters.STAMP_THICKNESS,
                        STRENGTH,
                        CommonParameters.PRESSURE,
                        PARTICLES,
                        CommonParameters.PARTICLES),
                List.of(
                        TileFields.CAVITY_FRACTION,
                        TileFields.CAVITY_VOLUME,
                        TileFields.EDGE_DENSITY,
                        ImprintFields.STAMP_DEFLECTION),
                List.of(ImprintFields.PRESSURE_OPEN, ImprintFields.PRESSURE_PEAK),
                List.of(BENDING, CONTACT, PARTICLE, INDEX, UNPRINTED),
                List.of(new Index(
                        INDEX,
                        List.of(
                                new Remedy(BENDING, "level the cavity volume, or press less"),
                                new Remedy(CONTACT, "press less, or let more protrusions carry the pressure"),
                                new Remedy(
                                        PARTICLE,
                                        "clean stamp and substrate, or press with a thinner, softer stamp")))),
                List.of());
    }

    @Override
    public Analysis create(Parameters parameters) {
        if (!parameters.table(PARTICLES.id()).isEmpty() && !(parameters.quantity(CommonParameters.PRESSURE.id()) > 0)) {
            throw new InputException(
                    "stamp.particle-without-pressure",
                    PARTICLES.id(),
                    "without pressure a particle holds the whole stamp off the film",
                    "set " + CommonParameters.PRESSURE.id() + " above 0, or leave the particles out");
        }
        return context -> run(parameters, context);
    }

    private static AnalysisResult run(Parameters p, AnalysisContext context) {
        TileGrid grid = context.grid();
        double modulus = p.quantity(CommonParameters.STAMP_MODULUS.id());
        double poisson = p.quantity(CommonParameters.STAMP_POISSON.id());
        double thickness = p.quantity(CommonParameters.STAMP_THICKNESS.id());
        double strength = p.quantity(STRENGTH.id());
        double pressure = p.quantity(CommonParameters.PRESSURE.id());
        Field fraction = context.fields().get(TileFields.CAVITY_FRACTION);
        LandPressure pressures =
                new LandPressure(context.fields(), pressure, modulus / (1 - poisson * poisson), thickness);
        PlateBending plate =
                new PlateBending(context.fields().get(ImprintFields.STAMP_DEFLECTION), modulus, poisson, thickness);
        double stiffness = ParticleStandOff.stiffness(modulus, poisson, thickness);
        List<Particle> particles = new ArrayList<>();
        for (Map<String, Double> row : p.table(PARTICLES.id())) {
            double height = value(row, "height");
            double radius = ParticleStandOff.radius(stiffness, height, pressure);
            double stress = ParticleStandOff.bendingStress(radius, pressure, thickness, poisson);
            particles.add(new Particle(value(row, "x"), value(row, "y"), height, radius, stress));
        }

        IntPredicate untouched = untouched(p, context);
        TileValues bending = new TileValues(BENDING, grid);
        TileValues contact = new TileValues(CONTACT, grid);
        TileValues over = new TileValues(PARTICLE, grid);
        TileValues index = new TileValues(INDEX, grid);
        TileValues lost = new TileValues(UNPRINTED, grid);
        try (Stage stage = context.progress().stage("stamp safety", grid.size(), "tiles")) {
            for (int i = 0; i < grid.size(); i++) {
                stage.advance(1);
                bending.set(i, plate.stress(i));
                double most = bending.at(i);
                if (fraction.at(i) < 1) {
                    contact.set(i, (1 - 2 * poisson) / 3 * pressures.onLand(i));
                    most = Math.max(most, contact.at(i));
                }
                lost.set(i, untouched.test(i) ? 1 : 0);
                for (Particle particle : particles) {
                    double distance = Math.hypot(
                            grid.centreXMetres(grid.column(i)) - particle.x,
                            grid.centreYMetres(grid.row(i)) - particle.y);
                    if (distance <= particle.radius) {
                        lost.set(i, 1);
                    }
                    if (distance <= grid.pitchMetres()) { // its own tile at least, however small the disc
                        over.set(i, Double.isNaN(over.at(i)) ? particle.stress : Math.max(over.at(i), particle.stress));
                        most = Math.max(most, over.at(i));
                    }
                }
                index.set(i, most / strength);
            }
        }
        return new AnalysisResult(
                List.of(bending.field(), contact.field(), over.field(), index.field(), lost.field()),
                figures(grid, bending, index, lost, strength),
                particles.isEmpty() ? List.of() : List.of(table(particles, strength)),
                warnings(grid, plate, particles, thickness, strength));
    }

    /** Tiles that the stamp never pressed on in the solve, where particles lay in it. */
    private static IntPredicate untouched(Parameters p, AnalysisContext context) {
        Optional<Field> peak = context.fields().find(ImprintFields.PRESSURE_PEAK.id());
        if (peak.isEmpty() || p.table(CommonParameters.PARTICLES.id()).isEmpty()) {
            return tile -> false;
        }
        return tile -> peak.get().at(tile) <= 0;
    }

    private static double value(Map<String, Double> row, String column) {
        Double value = row.get(column);
        if (value == null) {
            throw new IllegalStateException("a row of " + PARTICLES.id() + " has no " + column);
        }
        return value;
    }

    private static List<Figure> figures(
            TileGrid grid, TileValues bending, TileValues index, TileValues lost, double strength) {
        List<Figure> figures = new ArrayList<>();
        bending.worst()
                .ifPresent(i -> figures.add(Figure.of("bending.most", bending.at(i), "MPa", "largest bending stress")));
        index.worst()
                .ifPresent(i -> figures.add(Figure.of(
                        "margin",
                        strength * (1 - index.at(i)),
                        "MPa",
                        "strength minus the largest stress; negative: broken")));
        double area = lost.countAbove(0) * grid.tileAreaSquareMetres();
        figures.add(Figure.of("unprinted.area", area, "mm^2", "area of the tiles that particles hold off the film"));
        return figures;
    }

    private static Curve table(List<Particle> particles, double strength) {
        int n = particles.size();
        double[] number = new double[n];
        double[] x = new double[n];
        double[] y = new double[n];
        double[] height = new double[n];
        double[] radius = new double[n];
        double[] index = new double[n];
        for (int k = 0; k < n; k++) {
            Particle particle = particles.get(k);
            number[k] = k + 1;
            x[k] = particle.x;
            y[k] = particle.y;
            height[k] = particle.height;
            radius[k] = particle.radius;
            index[k] = particle.stress / strength;
        }
        return new Curve(
                "particles",
                "what each particle takes from the print and asks of the stamp",
                List.of(
                        new Curve.Column("particle", "1", number),
                        new Curve.Column("x", "mm", x),
                        new Curve.Column("y", "mm", y),
                        new Curve.Column("height", "um", height),
                        new Curve.Column("radius lost", "mm", radius),
                        new Curve.Column("stress over strength", "1", index)));
    }

    private static List<Finding.Warning> warnings(
            TileGrid grid, PlateBending plate, List<Particle> particles, double thickness, double strength) {
        List<Finding.Warning> warnings = new ArrayList<>();
        if (plate.blind()) {
            warnings.add(new Finding.Warning(
                    "stamp",
                    "stamp.bending-unseen",
                    "the map is smaller than two thicknesses of the stamp: its bending cannot be seen and is stated as 0",
                    new Place.WholeStamp()));
        }
        for (Particle particle : particles) {
            if (particle.radius < 4 * thickness || particle.height > thickness) {
                warnings.add(particle.warning(
                        grid,
                        "stamp.particle-range",
                        String.format(
                                Locale.ROOT,
                                "particle of %.3g um: plate theory wants a radius above 4 thicknesses (%.3g mm, is %.3g mm)"
                                        + " and a height below one",
                                particle.height * 1e6,
                                4e3 * thickness,
                                particle.radius * 1e3)));
            }
            if (particle.stress > strength) {
                warnings.add(particle.warning(
                        grid,
                        "stamp.particle-breaks",
                        String.format(
                                Locale.ROOT,
                                "particle of %.3g um: %.4g MPa in the stamp, above its strength of %.4g MPa",
                                particle.height * 1e6,
                                particle.stress / 1e6,
                                strength / 1e6)));
            }
        }
        return warnings;
    }

    /** A particle and what it does, SI. */
    private record Particle(double x, double y, double height, double radius, double stress) {
        Finding.Warning warning(TileGrid grid, String code, String message) {
            double column = Math.floor((x - grid.originXMetres()) / grid.pitchMetres());
            double row = Math.floor((y - grid.originYMetres()) / grid.pitchMetres());
            boolean inside = column >= 0 && column < grid.columns() && row >= 0 && row < grid.rows();
            Place place = inside ? Place.Tile.of(grid, grid.index((int) column, (int) row)) : new Place.WholeStamp();
            return new Finding.Warning("stamp", code, message, place);
        }
    }
}
