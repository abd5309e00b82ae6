package org.evenstamp.analysis.cure;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.analysis.completion.Absorption;
import org.evenstamp.analysis.imprint.Materials;
import org.evenstamp.analysis.imprint.Menisci;
import org.evenstamp.analysis.imprint.TileValues;
import org.evenstamp.analysis.process.CureLaw;
import org.evenstamp.analysis.process.Lamp;
import org.evenstamp.analysis.process.LightPath;
import org.evenstamp.analysis.process.ProcessParameters;
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
 * Light at the film of a UV press, and how far it cures: dose is irradiance times transmission times time, place by place as the lamp shines.
 * The film is thin beside the depth to which light reaches, so that all of its height gets the same dose.
 */
public final class CureProvider implements AnalysisProvider {
    /** Dose at the film. */
    public static final FieldName DOSE = FieldName.of(
            "cure.dose", "mJ/cm^2", "UV dose at the film: irradiance times transmission times time of exposure");
    /** Reacted share of the double bonds. */
    public static final FieldName CONVERSION = FieldName.of(
            "cure.conversion", "%", "share of the film's double bonds that have reacted at the end of the exposure");
    /** Time from the lamp to the gel point. */
    public static final FieldName GEL_TIME =
            FieldName.of("cure.gel.time", "s", "time of exposure after which the film gels and no longer flows");
    /** Shrinkage so far. */
    public static final FieldName SHRINKAGE = FieldName.of(
            "cure.shrinkage",
            "%",
            "volume that curing takes, in proportion to the conversion: film.cure-shrinkage at film.dose");
    /** Dose needed over dose. */
    public static final FieldName INDEX =
            FieldName.of("cure.index", "1", "dose that the film needs over the dose it gets; 1 is the limit");

    @Override
    public AnalysisDescription description() {
        return new AnalysisDescription(
                "cure",
                "UV dose at the film, conversion, gel time and shrinkage by it",
                List.of(
                        ProcessParameters.IRRADIANCE,
                        ProcessParameters.DOSE,
                        ProcessParameters.EXPOSURE,
                        LightPath.SIDE,
                        LightPath.STAMP_TRANSMISSION,
                        LightPath.SUBSTRATE_TRANSMISSION,
                        Absorption.STAMP,
                        Absorption.SUBSTRATE,
                        Lamp.UNEVEN_X,
                        Lamp.UNEVEN_Y,
                        Lamp.FALLOFF,
                        CureLaw.AT_DOSE,
                        CureLaw.AT_GEL,
                        Materials.CURE_SHRINKAGE,
                        Menisci.GAS_PRESSURE),
                List.of(),
                List.of(TileFields.LAMP_IRRADIANCE),
                List.of(DOSE, CONVERSION, GEL_TIME, SHRINKAGE, INDEX),
                List.of(Index.of(
                        INDEX, "a longer exposure, a stronger or more even lamp, or a clearer stamp or substrate")),
                List.of());
    }

    @Override
    public List<String> quietWithout() {
        return List.of(ProcessParameters.IRRADIANCE.id());
    }

    @Override
    public Analysis create(Parameters parameters) {
        LightPath path = LightPath.of(parameters);
        Lamp lamp = Lamp.of(parameters);
        return context -> run(parameters, path, lamp, context);
    }

    private static AnalysisResult run(Parameters p, LightPath path, Lamp lamp, AnalysisContext context) {
        TileGrid grid = context.grid();
        double atFilm = p.quantity(ProcessParameters.IRRADIANCE.id()) * path.transmission();
        double needed = p.quantity(ProcessParameters.DOSE.id());
        double exposure =
                p.find(ProcessParameters.EXPOSURE.id()).orElse(needed / (atFilm * lamp.least()) * (1 + 1e-12));
        Optional<CureLaw> law = CureLaw.of(p);
        OptionalDouble gel = p.find(CureLaw.AT_GEL.id());
        double shrinkage = p.quantity(Materials.CURE_SHRINKAGE.id());

        TileValues dose = new TileValues(DOSE, grid);
        TileValues conversion = new TileValues(CONVERSION, grid);
        TileValues gelTime = new TileValues(GEL_TIME, grid);
        TileValues lost = new TileValues(SHRINKAGE, grid);
        TileValues index = new TileValues(INDEX, grid);
        double[] factors = lamp.factors(context.fields(), p.quantity(ProcessParameters.IRRADIANCE.id()));
        try (Stage stage = context.progress().stage("light", grid.size(), "tiles")) {
            for (int i = 0; i < grid.size(); i++) {
                stage.advance(1);
                double irradiance = atFilm * factors[i];
                dose.set(i, irradiance * exposure);
                index.set(i, needed / dose.at(i));
                if (law.isPresent()) {
                    conversion.set(i, law.get().conversion(dose.at(i)));
                    lost.set(i, shrinkage * conversion.at(i) / law.get().conversion(needed));
                    if (gel.isPresent()) {
                        gelTime.set(i, law.get().dose(gel.getAsDouble()) / irradiance);
                    }
                }
            }
        }
        int darkest = index.worst().orElseThrow();
        List<Figure> figures = new ArrayList<>();
        figures.add(Figure.of(
                "transmission",
                path.transmission(),
                "%",
                "share of the light that the " + path.through() + " lets through"));
        figures.add(Figure.of(
                "irradiance",
                atFilm,
                "mW/cm^2",
                "irradiance at the film in the middle of the map, or the mean of what was measured of the lamp"));
        figures.add(Figure.of("exposure", exposure, "s", "time of exposure"));
        figures.add(Figure.of("dose.least", dose.at(darkest), "mJ/cm^2", "dose at the film where it gets least"));
        List<Finding.Warning> warnings = warnings(p, path, law.isPresent());
        if (law.isPresent()) {
            figures.add(Figure.of(
                    "conversion.least",
                    conversion.at(darkest),
                    "%",
                    "reacted share of the double bonds where it is least"));
            if (gel.isPresent()) {
                double latest = gelTime.at(darkest);
                figures.add(
                        Figure.of("gel.latest", latest, "s", "time from the lamp to the gel point where it is last"));
                if (latest > exposure) {
                    warnings.add(warning(
                            "cure.liquid",
                            String.format(
                                    Locale.ROOT,
                                    "the film is still liquid when the exposure of %.4g s ends: it would gel after %.4g s",
                                    exposure,
                                    latest),
                            Place.Tile.of(grid, darkest)));
                }
            }
        }
        return new AnalysisResult(
                List.of(dose.field(), conversion.field(), gelTime.field(), lost.field(), index.field()),
                figures,
                List.of(),
                warnings);
    }

    private static List<Finding.Warning> warnings(Parameters p, LightPath path, boolean lawful) {
        List<Finding.Warning> warnings = new ArrayList<>();
        if (!path.known()) {
            warnings.add(warning(
                    "cure.clear",
                    "nothing says how much of the lamp's light the " + path.through()
                            + " lets through: it is counted as clear; give "
                            + (path.through().equals("stamp")
                                    ? LightPath.STAMP_TRANSMISSION.id()
                                    : LightPath.SUBSTRATE_TRANSMISSION.id()),
                    new Place.WholeStamp()));
        }
        if (!lawful) {
            warnings.add(warning(
                    "cure.unknown",
                    "conversion, gel time and shrinkage of each place are not told, as the job does not give "
                            + CureLaw.AT_DOSE.id(),
                    new Place.WholeStamp()));
        }
        if (p.find(Menisci.GAS_PRESSURE.id()).orElse(0) > 0) {
            warnings.add(warning(
                    "cure.oxygen",
                    "where the gas in the cavities holds oxygen, it keeps a layer of the film at its face from curing; how thick that is, is"
                            + " not computed: fill the cavities, or use an inert gas",
                    new Place.WholeStamp()));
        }
        return warnings;
    }

    private static Finding.Warning warning(String code, String message, Place place) {
        return new Finding.Warning("cure", code, message, place);
    }
}
