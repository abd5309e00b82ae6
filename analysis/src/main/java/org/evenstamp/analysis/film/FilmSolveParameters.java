package org.evenstamp.analysis.film;

import java.util.List;
import java.util.stream.Stream;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.film.stamp.StampParameters;
import org.evenstamp.analysis.imprint.FilmShape;
import org.evenstamp.analysis.imprint.Materials;
import org.evenstamp.analysis.imprint.Menisci;
import org.evenstamp.analysis.process.CureLaw;
import org.evenstamp.analysis.process.Drying;
import org.evenstamp.analysis.process.ProcessParameters;
import org.evenstamp.analysis.rheology.FilmParameters;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameter.Choice;
import org.evenstamp.shared.spi.Parameter.Quantity;
import org.evenstamp.shared.spi.Parameter.Table;

/** The parameters that the film solve reads, and those that are its alone. */
final class FilmSolveParameters {
    static final Choice MOBILITY = new Choice(
            "film.mobility",
            List.of("mean", "parallel", "series"),
            "how cavities and protrusions of a tile share the film's flow: geometric mean of both bounds, the upper bound"
                    + " (along lines) or the lower one (across lines)");
    static final Quantity BULK_MODULUS = Quantity.standard(
            "film.bulk-modulus",
            "GPa",
            3,
            0.01,
            1000,
            "bulk modulus of the film; the default is the order of polymers (common practice, no source)");
    static final Quantity STEP_ERROR = Quantity.standard(
            "film.step-error",
            "%",
            0.5,
            0.001,
            10,
            "wanted error of a time step: of the mean layer, of its differences and of the fronts; the default moves"
                    + " mean layer and spread by less than 1 % when it is halved, the last fill by up to 5 %");
    static final Choice EDGE = new Choice(
            "film.edge",
            List.of("closed", "open"),
            "whether film may leave over the rim of an isolated map, at ambient pressure");
    static final Table SNAPSHOTS = new Table(
            "process.snapshots",
            List.of(Quantity.required("time", "s", 0, 1e9, "time of the snapshot")),
            "times at which residual layer and filling are kept; without any, up to 12 states along the way of the film, fewer"
                    + " on maps of more than 87,000 tiles");

    private FilmSolveParameters() {}

    /** Returns all that the film solve reads. */
    static List<Parameter> all() {
        return Stream.<List<? extends Parameter>>of(
                        List.of(
                                CommonParameters.FILM_THICKNESS,
                                CommonParameters.FILM_VISCOSITY,
                                CommonParameters.PRESSURE,
                                CommonParameters.HOLD),
                        FilmShape.parameters(),
                        StampParameters.all(),
                        List.of(
                                MOBILITY,
                                BULK_MODULUS,
                                STEP_ERROR,
                                Materials.PLATEAU_MODULUS.asOptional(),
                                Menisci.SURFACE_TENSION,
                                Menisci.CONTACT_ANGLE,
                                Menisci.GAS_PRESSURE,
                                Menisci.GAS_SOLUBILITY,
                                Menisci.GAS_DIFFUSIVITY,
                                EDGE,
                                CommonParameters.PARTICLES,
                                SNAPSHOTS),
                        ProcessParameters.all(),
                        FilmParameters.all(),
                        List.of(
                                Drying.DIFFUSIVITY,
                                Drying.THROUGH,
                                CureLaw.AT_DOSE,
                                CureLaw.AT_GEL,
                                Materials.CURE_SHRINKAGE,
                                Materials.STAMP_EXPANSION.asOptional(),
                                Materials.BACK_EXPANSION,
                                Materials.SUBSTRATE_EXPANSION.asOptional()))
                .<Parameter>flatMap(List::stream)
                .toList();
    }
}
