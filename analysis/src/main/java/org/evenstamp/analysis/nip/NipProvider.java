package org.evenstamp.analysis.nip;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.Materials;
import org.evenstamp.analysis.imprint.Menisci;
import org.evenstamp.analysis.imprint.Relief;
import org.evenstamp.analysis.imprint.TileValues;
import org.evenstamp.analysis.process.NipPass;
import org.evenstamp.analysis.process.PassingFilm;
import org.evenstamp.analysis.process.ProcessHistory;
import org.evenstamp.analysis.process.ProcessParameters;
import org.evenstamp.analysis.process.Roller;
import org.evenstamp.analysis.rheology.FilmLaw;
import org.evenstamp.analysis.rheology.FilmParameters;
import org.evenstamp.analysis.standing.Levelling;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameters;
import org.evenstamp.shared.spi.Remedy;

/**
 * Tile by tile, what a roller made of the patterns: whether the film filled the cavities while the nip was over the tile, how much of
 * that it lost again until it set as the foil sprang back, and how far surface tension would flatten the patterns on the way from the
 * nip to where they set, were the foil off.
 */
public final class NipProvider implements AnalysisProvider {
    /** Whether it filled in the nip. */
    public static final FieldName FILLED = FieldName.of(
            "nip.filled",
            "1",
            "1 where film had met all roofs of the tile's cavities when the nip left the tile, 0 where not; none without"
                    + " cavity");
    /** What was lost behind the nip. */
    public static final FieldName SPRING_BACK = FieldName.of(
            "nip.sprung",
            "%",
            "share of the tile's cavity volume that had been full and is empty where the film sets: sucked out as the foil"
                    + " springs back; none where the tile was never full");
    /** What surface tension takes. */
    public static final FieldName LEVELLING = FieldName.of(
            "nip.levelling",
            "%",
            "share of the features' height that surface tension takes from the nip to where the film sets, were the foil off; none"
                    + " without film.surface-energy or film.surface-tension");

    /** What banks up ahead of it. */
    public static final FieldName BANK =
            FieldName.of("nip.bank", "1", "film over what passes the nip (estimate): above 1 it banks up ahead of it");

    private static List<Parameter> parameters() {
        return Stream.<List<? extends Parameter>>of(
                        List.of(
                                ProcessParameters.WEB_SPEED,
                                CommonParameters.FILM_THICKNESS,
                                CommonParameters.FILM_VISCOSITY,
                                Materials.FILM_SURFACE_ENERGY.asOptional(),
                                Menisci.SURFACE_TENSION),
                        ProcessParameters.all().stream()
                                .filter(one -> !one.id().equals(ProcessParameters.WEB_SPEED.id()))
                                .toList(),
                        FilmParameters.all())
                .<Parameter>flatMap(List::stream)
                .toList();
    }

    @Override
    public AnalysisDescription description() {
        List<FieldName> needs = new ArrayList<>(Relief.needs());
        needs.addAll(List.of(ImprintFields.FILL_TIME, ImprintFields.FILL_SHARE, ImprintFields.RESIDUAL_FINAL));
        return new AnalysisDescription(
                "nip",
                "What fills in a roller's nip, springs back behind it and flattens before it sets",
                parameters(),
                needs,
                List.of(),
                List.of(FILLED, SPRING_BACK, LEVELLING),
                List.of(),
                List.of(
                        new Remedy(FILLED, "a slower web, a softer cover, or a thinner liquid"),
                        new Remedy(SPRING_BACK, "a web under more tension, a softer foil, or a lamp nearer to the nip"),
                        new Remedy(LEVELLING, "a lamp or a cold zone nearer to the nip, or a faster web")));
    }

    @Override
    public List<FieldName> limitableFigures() {
        return List.of(BANK);
    }

    @Override
    public List<String> quietWithout() {
        return List.of(ProcessParameters.WEB_SPEED.id());
    }

    @Override
    public Analysis create(Parameters parameters) {
        return context -> run(parameters, context);
    }

    private static AnalysisResult run(Parameters p, AnalysisContext context) {
        TileGrid grid = context.grid();
        TileValues filled = new TileValues(FILLED, grid);
        TileValues sprung = new TileValues(SPRING_BACK, grid);
        TileValues levelled = new TileValues(LEVELLING, grid);
        List<Figure> figures = new ArrayList<>();
        List<Finding.Warning> warnings = new ArrayList<>();
        boolean rolls = p.choice(ProcessParameters.KIND.id()).equals("roller");
        if (rolls && ProcessParameters.kind(p).orElse(null) instanceof Roller roller) {
            ofFilling(roller, context, filled, sprung);
            FilmLaw film =
                    FilmParameters.law(p, ProcessParameters.pressKelvin(p).orElseThrow(), 0);
            ofBank(p.quantity(CommonParameters.FILM_THICKNESS.id()), roller, film, figures, warnings);
            surfaceTension(p)
                    .ifPresent(tension -> ofLevelling(tension, fluiditySeconds(film, roller), context, levelled));
            double hollow = 0;
            double inNip = 0;
            for (int i = 0; i < grid.size(); i++) {
                hollow += Double.isNaN(filled.at(i)) ? 0 : 1;
                inNip += filled.at(i) == 1 ? 1 : 0;
            }
            if (hollow > 0) {
                figures.add(Figure.of(
                        "filled", inNip / hollow, "1", "share of the tiles with cavities that filled in the nip"));
            }
            sprung.worst()
                    .ifPresent(i -> figures.add(Figure.of(
                            "spring-back.most",
                            sprung.at(i),
                            "%",
                            "lost behind the nip in the worst tile that was full")));
            levelled.worst()
                    .ifPresent(
                            i -> figures.add(
                                    Figure.of(
                                            "levelling.most",
                                            levelled.at(i),
                                            "%",
                                            "height that surface tension would take behind the nip in the worst tile, were the foil off")));
        }
        return new AnalysisResult(
                List.of(filled.field(), sprung.field(), levelled.field()), figures, List.of(), warnings);
    }

    /** What does not pass the nip banks up ahead of it. */
    private static void ofBank(
            double thickness, Roller roller, FilmLaw film, List<Figure> figures, List<Finding.Warning> warnings) {
        double viscosity = film.at(roller.kelvin(), 0).pascalSeconds();
        PassingFilm passing = new PassingFilm(roller.contact(), viscosity, roller.webMetresPerSecond());
        if (!passing.isInRange()) {
            return;
        }
        double bank = thickness / passing.metres();
        figures.add(new Figure("bank", bank, BANK.unit(), BANK.meaning()));
        if (bank > 1) {
            warnings.add(new Finding.Warning(
                    "nip",
                    "process.film-banks-up",
                    String.format(
                            Locale.ROOT,
                            "the film of %.4g nm is thicker than the %.3g nm that pass the nip at this speed (soft"
                                    + " elastohydrodynamic estimate for smooth faces): the rest banks up ahead of it; run the web at %.3g mm/s"
                                    + " or more, press with less force, or coat less",
                            thickness * 1e9,
                            passing.metres() * 1e9,
                            passing.speedFor(thickness) * 1e3),
                    new Place.WholeStamp()));
        }
    }

    private static OptionalDouble surfaceTension(Parameters p) {
        OptionalDouble liquid = p.find(Menisci.SURFACE_TENSION.id());
        return liquid.isPresent() ? liquid : p.find(Materials.FILM_SURFACE_ENERGY.id());
    }

    private static void ofFilling(Roller roller, AnalysisContext context, TileValues filled, TileValues sprung) {
        TileGrid grid = context.grid();
        NipPass pass = roller.pass(grid.columns() * grid.pitchMetres());
        Field volume = context.fields().get(TileFields.CAVITY_VOLUME);
        Field time = context.fields().get(ImprintFields.FILL_TIME);
        Field share = context.fields().get(ImprintFields.FILL_SHARE);
        for (int i = 0; i < grid.size(); i++) {
            if (!(volume.at(i) > 0) || !share.known(i)) {
                continue;
            }
            double left = pass.entrySeconds((grid.column(i) + 1) * grid.pitchMetres()) + pass.dwellSeconds();
            filled.set(i, time.known(i) && time.at(i) <= left ? 1 : 0);
            if (time.known(i)) {
                sprung.set(i, Math.max(0, 1 - share.at(i)));
            }
        }
    }

    /** Returns the integral of the fluidity of a place from when the nip leaves it until it sets, 1/Pa. */
    private static double fluiditySeconds(FilmLaw film, Roller roller) {
        ProcessHistory place = roller.history(film);
        return place.fluiditySeconds(roller.dwellSeconds(), place.flowEndSeconds());
    }

    /** Orchard's rate goes with the fluidity, so its integral over time is the rate at 1 Pa s times that of the fluidity. */
    private static void ofLevelling(
            double tension, double fluiditySeconds, AnalysisContext context, TileValues levelled) {
        Relief relief = Relief.of(context.fields());
        Field residual = context.fields().get(ImprintFields.RESIDUAL_FINAL);
        for (int i = 0; i < context.grid().size(); i++) {
            if (relief.featured(i)) {
                double thickness = Math.max(0, residual.at(i)) + relief.fraction(i) * relief.height(i);
                double rate = Levelling.rate(tension, 1, relief.width(i) + relief.gap(i), thickness);
                levelled.set(i, -Math.expm1(-rate * fluiditySeconds));
            }
        }
    }
}
