package org.evenstamp.analysis.film;

import java.util.List;
import org.evenstamp.analysis.film.load.PressSchedule;
import org.evenstamp.analysis.film.stamp.Stamp;
import org.evenstamp.analysis.film.stamp.StampParameters;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.Parameters;
import org.evenstamp.shared.spi.Remedy;

/** Offers the film solve: residual layer, filling and pressure over time under an elastic stamp. */
public final class FilmProvider implements AnalysisProvider {
    private static final AnalysisDescription DESCRIPTION = new AnalysisDescription(
            "film",
            "solves the film under an elastic stamp in time: residual layer, filling, pressure",
            FilmSolveParameters.all(),
            List.of(TileFields.CAVITY_FRACTION, TileFields.CAVITY_VOLUME, TileFields.SQUEEZE_MOMENT),
            List.of(
                    TileFields.EDGE_DENSITY,
                    TileFields.CAVITY_WIDTH_MIN,
                    TileFields.PROTRUSION_WIDTH_MIN,
                    TileFields.FLOW_PATH_MAX,
                    TileFields.FILM_COATED,
                    TileFields.LAMP_IRRADIANCE),
            List.of(
                    ImprintFields.RESIDUAL_FINAL,
                    ImprintFields.FILL_SHARE,
                    ImprintFields.FILL_TIME,
                    ImprintFields.PRESSURE_PEAK,
                    ImprintFields.PRESSURE_OPEN,
                    ImprintFields.FILL_RATE,
                    ImprintFields.FILL_UNRELAXED,
                    ImprintFields.STAMP_DEFLECTION,
                    ImprintFields.FILM_FLUX),
            List.of(),
            List.of(
                    new Remedy(
                            ImprintFields.RESIDUAL_FINAL,
                            "level the cavity volume; too thin: a thicker film; too thick: a thinner film, a longer or hotter"
                                    + " press, or narrower protrusions"),
                    new Remedy(
                            ImprintFields.FILL_SHARE,
                            "a longer or hotter press, more pressure, or a thicker film where the film does not suffice"),
                    new Remedy(ImprintFields.FILL_TIME, "a hotter press, more pressure, or narrower protrusions"),
                    new Remedy(
                            ImprintFields.PRESSURE_PEAK,
                            "press less, keep particles away, or level the cavity volume")));

    @Override
    public AnalysisDescription description() {
        return DESCRIPTION;
    }

    @Override
    public List<FieldName> limitableFigures() {
        return PressForce.limitable();
    }

    @Override
    public Analysis create(Parameters parameters) {
        Stamp stamp = StampParameters.stamp(parameters);
        PressSchedule schedule = PressSchedule.of(parameters);
        return context -> new FilmAnalysis(parameters, stamp, schedule, context).run();
    }
}
