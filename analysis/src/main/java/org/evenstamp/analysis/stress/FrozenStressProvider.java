package org.evenstamp.analysis.stress;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.Materials;
import org.evenstamp.analysis.imprint.Relief;
import org.evenstamp.analysis.imprint.Shrinkage;
import org.evenstamp.analysis.imprint.TileValues;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
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
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Index;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameters;
import org.evenstamp.shared.spi.Remedy;

/**
 * Stress frozen into the film beside the cavity walls, tile by tile.
 *
 * <p>Where the film was solved, the history is the solver's own: the largest filling rate gives the shear rate, and {@code
 * fill.unrelaxed}, the filling as far as a Maxwell element remembers it when the pressing ends (cooling under pressure included),
 * gives the stress, frozen from then on. Otherwise the simplest history that the fields allow: the tile fills at the constant
 * mean rate {@code v/t_fill} until it is full (the share that fills, over the hold, where it never is), the stress relaxes at the
 * filling viscosity through the rest of the hold, and the film then sets at once.
 */
public final class FrozenStressProvider implements AnalysisProvider {
    /** Shear rate at the side walls. */
    public static final FieldName RATE = FieldName.of(
            "stress.rate",
            "1/s",
            "shear rate of the film at the cavity walls while they fill: the largest where the film was solved, else the"
                    + " mean");
    /** Shear stress left at the end of the hold. */
    public static final FieldName FROZEN =
            FieldName.of("stress.frozen", "MPa", "shear stress at the cavity walls when the film becomes solid");
    /** Stress from shrinking. */
    public static final FieldName THERMAL = FieldName.of(
            "stress.thermal",
            "MPa",
            "stress of film that protrusions keep from shrinking, by cooling, curing and drying from setting to release");
    /** Sum over strength. */
    public static final FieldName INDEX =
            FieldName.of("stress.index", "1", "frozen and thermal stress over the film's strength; 1 is the limit");

    /** Stress of the film on its substrate. */
    public static final FieldName FILM = FieldName.of(
            "stress.film",
            "MPa",
            "tensile stress of the film that its rigid substrate keeps from shrinking, in all directions of the plane");
    /** The same over strength. */
    public static final FieldName CRACK =
            FieldName.of("stress.crack", "1", "stress of the film on its substrate over its strength; 1 is the limit");

    private static final Parameter.Quantity SLIP = Parameter.Quantity.standard(
            "stamp.slip-length", "nm", 0, 0, 1e6, "slip length of the film on the coated stamp; 0 where it sticks");
    private static final Parameter.Choice COATING = new Parameter.Choice(
            "stamp.coating", List.of("none", "release"), "whether the stamp carries a release coating");

    @Override
    public AnalysisDescription description() {
        return new AnalysisDescription(
                "stress",
                "Shear stress frozen in beside the cavity walls, and the stress of hindered shrinking",
                parameters(),
                withFillTime(),
                List.of(
                        ImprintFields.FILL_TIME,
                        ImprintFields.FILL_SHARE,
                        ImprintFields.FILL_RATE,
                        ImprintFields.FILL_UNRELAXED),
                List.of(RATE, FROZEN, THERMAL, INDEX, FILM, CRACK),
                List.of(
                        new Index(
                                INDEX,
                                List.of(
                                        new Remedy(
                                                FROZEN,
                                                "fill slower or hotter, hold longer before cooling, coat the stamp so that the film"
                                                        + " slips, or widen the cavities"),
                                        new Remedy(
                                                THERMAL,
                                                "bring the expansion of stamp and film together, release at a higher temperature, or"
                                                        + " let it cure or dry less after it has set"))),
                        Index.of(
                                CRACK,
                                "less solvent in the film when it sets (a warmer press), less cure shrinkage, or a substrate that"
                                        + " expands as the film does")),
                List.of());
    }

    private static List<Parameter> parameters() {
        List<Parameter> parameters = new ArrayList<>(List.of(
                CommonParameters.FILM_VISCOSITY,
                CommonParameters.HOLD,
                Materials.PLATEAU_MODULUS,
                SLIP,
                COATING,
                Materials.FILM_MODULUS,
                Materials.FILM_POISSON,
                Materials.FILM_STRENGTH,
                Materials.SUBSTRATE_EXPANSION.asOptional()));
        parameters.addAll(Shrinkage.parameters());
        return parameters;
    }

    private static List<FieldName> withFillTime() {
        List<FieldName> needs = new ArrayList<>(Relief.needs());
        needs.add(ImprintFields.FILL_TIME_FREE);
        return needs;
    }

    @Override
    public Analysis create(Parameters parameters) {
        if (parameters.quantity(SLIP.id()) > 0
                && parameters.choice(COATING.id()).equals("none")) {
            throw new InputException(
                    "stress.slip-without-coating",
                    SLIP.id(),
                    "a slip length of " + parameters.quantity(SLIP.id()) * 1e9 + " nm on a stamp without coating",
                    "set " + COATING.id() + " to \"release\", or the slip length to 0 nm");
        }
        return context -> run(parameters, context);
    }

    private static AnalysisResult run(Parameters p, AnalysisContext context) {
        FieldSet fields = context.fields();
        TileGrid grid = context.grid();
        Relief relief = Relief.of(fields);
        Filling filling = new Filling(fields, p.quantity(CommonParameters.HOLD.id()));
        double viscosity = p.quantity(CommonParameters.FILM_VISCOSITY.id());
        double modulus = p.quantity(Materials.PLATEAU_MODULUS.id());
        double slip = p.quantity(SLIP.id());
        double strength = p.quantity(Materials.FILM_STRENGTH.id());
        Shrinkage shrinkage = Shrinkage.of(p);
        double hindered = Math.abs(biaxial(p, shrinkage.onStamp()));
        double tied =
                Math.max(0, biaxial(p, shrinkage.onSubstrate())); // a film that is pressed together does not crack

        TileValues rate = new TileValues(RATE, grid);
        TileValues frozen = new TileValues(FROZEN, grid);
        TileValues thermal = new TileValues(THERMAL, grid);
        TileValues index = new TileValues(INDEX, grid);
        TileValues film = new TileValues(FILM, grid);
        TileValues crack = new TileValues(CRACK, grid);
        try (Stage stage = context.progress().stage("frozen stress", grid.size(), "tiles")) {
            for (int i = 0; i < grid.size(); i++) {
                stage.advance(1);
                film.set(i, tied);
                crack.set(i, tied / strength);
                if (!relief.featured(i) || !filling.known(i)) {
                    continue;
                }
                rate.set(i, wallRate(relief, i, filling.rate(relief, i), slip));
                if (filling.remembered(i)) {
                    // the element is linear: what it keeps of the filling, it keeps of the shear
                    frozen.set(i, modulus * wallRate(relief, i, filling.memory(i), slip));
                } else {
                    double duration = filling.duration(i);
                    Maxwell element = new Maxwell(modulus);
                    element.advance(duration, wallRate(relief, i, filling.meanRate(relief, i), slip), viscosity);
                    element.advance(filling.hold - duration, 0, viscosity);
                    frozen.set(i, element.stress());
                }
                thermal.set(i, hindered);
                index.set(i, (frozen.at(i) + hindered) / strength);
            }
        }

        double relaxation = viscosity / modulus;
        List<Figure> figures = new ArrayList<>();
        figures.add(Figure.of("relaxation.time", relaxation, "s", "relaxation time of the film while it fills"));
        figures.add(Figure.of("thermal", hindered, "MPa", "stress of film kept from shrinking by the stamp"));
        figures.add(Figure.of("film", tied, "MPa", "tensile stress of film kept from shrinking by the substrate"));
        figures.add(Figure.of(
                "set.solvent", 3 * shrinkage.drying(), "%", "share of solvent left in the film when it sets"));
        figures.add(Figure.of("drying", shrinkage.drying(), "%", "strain by drying after the film has set"));
        figures.add(Figure.of("cure", shrinkage.cure(), "%", "strain by curing"));
        frozen.worst()
                .ifPresent(i -> figures.add(
                        Figure.of("frozen.most", frozen.at(i), "MPa", "frozen shear stress in the worst tile")));
        List<Finding.Warning> warnings = new ArrayList<>();
        rate.worst().ifPresent(i -> {
            double weissenberg = rate.at(i) * relaxation;
            if (weissenberg > 1) {
                String message = String.format(
                        Locale.ROOT,
                        "shear rate times relaxation time is %.3g, above 1: a melt thins there and the frozen stress is"
                                + " overstated",
                        weissenberg);
                warnings.add(new Finding.Warning("stress", "stress.fast", message, Place.Tile.of(grid, i)));
            }
        });
        return new AnalysisResult(
                List.of(rate.field(), frozen.field(), thermal.field(), index.field(), film.field(), crack.field()),
                figures,
                List.of(),
                warnings);
    }

    private static double biaxial(Parameters p, double strain) {
        return BiaxialStress.biaxialStress(
                p.quantity(Materials.FILM_MODULUS.id()), p.quantity(Materials.FILM_POISSON.id()), strain);
    }

    /** Returns the shear rate at the walls for the rate at which the tile's cavities take in film. */
    private static double wallRate(Relief relief, int tile, double fillingRate, double slip) {
        double speed = WallShear.speed(fillingRate, relief.fraction(tile));
        return WallShear.cavity(relief.shape(tile), speed, relief.width(tile), slip);
    }

    /** How long each tile takes to fill, within the hold, and which share of it does. */
    private static final class Filling {
        private final double hold;
        private final Optional<Field> solved;
        private final Optional<Field> share;
        private final Optional<Field> most;
        private final Optional<Field> memory;
        private final Field free;

        Filling(FieldSet fields, double hold) {
            this.hold = hold;
            solved = fields.find(ImprintFields.FILL_TIME.id());
            share = fields.find(ImprintFields.FILL_SHARE.id());
            most = fields.find(ImprintFields.FILL_RATE.id());
            memory = fields.find(ImprintFields.FILL_UNRELAXED.id());
            free = fields.get(ImprintFields.FILL_TIME_FREE);
        }

        boolean known(int tile) {
            return time(tile) > 0;
        }

        boolean remembered(int tile) {
            return memory.isPresent() && memory.get().known(tile);
        }

        /** Returns the filling that the stress remembers, m; film that flowed out again has sheared too. */
        double memory(int tile) {
            return memory.map(field -> Math.abs(field.at(tile))).orElse(0.0);
        }

        /** Returns the largest filling rate where the film was solved, otherwise the mean, m/s. */
        double rate(Relief relief, int tile) {
            return most.isPresent() && most.get().known(tile) ? most.get().at(tile) : meanRate(relief, tile);
        }

        double meanRate(Relief relief, int tile) {
            return relief.cavityVolume(tile) * share(tile) / duration(tile);
        }

        double duration(int tile) {
            return Math.min(hold, time(tile));
        }

        double share(int tile) {
            if (solved.isPresent()) {
                return share.map(s -> Math.min(1, s.at(tile)))
                        .orElse(solved.get().known(tile) ? 1.0 : 0.0);
            }
            return Math.min(1, hold / free.at(tile));
        }

        /** Returns 0 where nobody knows. */
        private double time(int tile) {
            if (solved.isPresent() && !solved.get().known(tile)) {
                return share.isPresent() ? hold : 0;
            }
            return solved.orElse(free).at(tile);
        }
    }
}
