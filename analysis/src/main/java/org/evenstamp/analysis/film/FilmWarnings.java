package org.evenstamp.analysis.film;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.feature.Unfilled;
import org.evenstamp.analysis.film.record.FilmHistory;
import org.evenstamp.analysis.film.solve.RunReport;
import org.evenstamp.analysis.film.stamp.Stamp;
import org.evenstamp.analysis.film.stamp.StampParameters;
import org.evenstamp.analysis.film.stamp.Surround;
import org.evenstamp.analysis.imprint.Menisci;
import org.evenstamp.analysis.process.ProcessParameters;
import org.evenstamp.analysis.rheology.TemperatureRange;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.spi.Parameters;

/** What the reader of a film solve is warned of, in the order it was noticed. */
final class FilmWarnings {
    // Extrusion followed bulk flow down to 10 nm for chains of 44 kg/mol: Rowland and others, ACS Nano 2 (2008) 419.
    private static final double THINNEST_BULK_FILM = 10e-9;
    // Below this ratio of protrusion width to gap the lubrication law is too fast: Ryu and others, Nano Convergence
    // (2017).
    private static final double LEAST_ASPECT = 3;
    private static final double LARGEST_STRAIN = 0.1; // of linear elasticity, common practice, no source

    private final FilmMaps maps;
    private final List<Finding.Warning> warnings = new ArrayList<>();

    FilmWarnings(FilmMaps maps) {
        this.maps = maps;
    }

    /** Returns all warnings so far. */
    List<Finding.Warning> all() {
        return List.copyOf(warnings);
    }

    /** Warns of the whole stamp. */
    void add(String code, String message) {
        add(code, message, new Place.WholeStamp());
    }

    /** Warns of each. */
    void addAll(List<Finding.Warning> more) {
        warnings.addAll(more);
    }

    /** Warns of what can be seen before the solve. */
    void before(Parameters parameters) {
        double film = maps.filmThickness;
        double held = Arrays.stream(maps.volume).average().orElse(0);
        if (held == 0) {
            add("film.no-cavity", "the stamp has no cavity: film can only be squeezed out over an open rim");
        }
        if (Arrays.stream(maps.fraction).allMatch(f -> f >= 1)) {
            add("film.all-cavity", "the stamp has no protrusion: there is no residual layer to speak of");
        }
        if (held > film) {
            add(
                    "film.starved",
                    format(
                            "the film is %.4g nm thick, the cavities need %.4g nm: they cannot fill",
                            film * 1e9, held * 1e9));
        }
        if (parameters.quantity(CommonParameters.PRESSURE.id()) == 0) {
            add("film.no-pressure", "the pressure is zero: nothing presses the stamp down");
        }
        ofDeepCavity();
        ofStampRange(parameters);
        ofSawTooth(parameters);
        ofDissolvingGas(parameters);
        if (parameters.find(Menisci.GAS_PRESSURE.id()).orElse(0) > 0
                && parameters.quantity(Menisci.GAS_SOLUBILITY.id()) == 0
                && held > 0) {
            add("film.gas-stays", "gas is sealed into the cavities and none dissolves: no cavity can become full");
        }
    }

    /** The solve dissolves gas at once, in all of the tile's film. */
    private void ofDissolvingGas(Parameters parameters) {
        if (parameters.find(Menisci.GAS_PRESSURE.id()).orElse(0) == 0
                || parameters.quantity(Menisci.GAS_SOLUBILITY.id()) == 0) {
            return;
        }
        var diffusivity = parameters.find(Menisci.GAS_DIFFUSIVITY.id());
        if (diffusivity.isEmpty()) {
            add(
                    "film.gas-at-once",
                    "sealed gas dissolves at once in all of the film of its tile; " + Menisci.GAS_DIFFUSIVITY.id()
                            + " would tell how long it takes");
            return;
        }
        double widest = 0;
        for (int i = 0; i < maps.grid.size(); i++) {
            widest = Math.max(widest, maps.fraction[i] > 0 ? maps.moment[i] : 0);
        }
        double needed = Menisci.dissolvingSeconds(widest, diffusivity.getAsDouble());
        double hold = parameters.quantity(CommonParameters.HOLD.id());
        if (needed > hold / 10) {
            add(
                    "film.gas-slow",
                    format(
                            "sealed gas dissolves at once in all of the film of its tile, but by diffusion the film under the widest land beside"
                                    + " cavities takes %.4g s for it, the hold lasts %.4g s: cavities there fill later",
                            needed, hold));
        }
    }

    private void ofSawTooth(Parameters parameters) {
        double x = parameters.quantity(StampParameters.WEDGE_X.id()) * maps.grid.columns() * maps.grid.pitchMetres();
        double y = parameters.quantity(StampParameters.WEDGE_Y.id()) * maps.grid.rows() * maps.grid.pitchMetres();
        if (StampParameters.surround(parameters) == Surround.PERIODIC && (x != 0 || y != 0)) {
            add(
                    "film.wedge-repeats",
                    format(
                            "the map repeats itself, so its wedge is a saw-tooth: the stamp jumps by %.4g nm from rim to rim;"
                                    + " stamp.surround: isolated has one slope",
                            Math.hypot(x, y) * 1e9));
        }
    }

    private void ofStampRange(Parameters parameters) {
        double from = parameters.find(CommonParameters.STAMP_VALID_FROM.id()).orElse(0);
        double to = parameters.find(CommonParameters.STAMP_VALID_TO.id()).orElse(Double.MAX_VALUE);
        ProcessParameters.pressKelvin(parameters)
                .filter(kelvin -> kelvin < from || kelvin > to)
                .ifPresent(kelvin -> add(
                        "film.stamp-range",
                        "the stamp's modulus holds "
                                + (to == Double.MAX_VALUE
                                        ? "from " + TemperatureRange.celsius(from) + " up"
                                        : "from " + TemperatureRange.celsius(from) + " to "
                                                + TemperatureRange.celsius(to))
                                + ", and it is pressed at " + TemperatureRange.celsius(kelvin)
                                + ": a polymer stamp is softer there; measure it"));
    }

    private void ofDeepCavity() {
        double[] coated = maps.coated;
        int deepest = -1;
        double depth = 0;
        for (int i = 0; i < coated.length; i++) {
            double here = maps.volume[i] > 0 ? maps.volume[i] / maps.fraction[i] : 0;
            if (here > 0 && (deepest < 0 || here * coated[deepest] > depth * coated[i])) {
                depth = here;
                deepest = i;
            }
        }
        if (deepest >= 0 && coated[deepest] < 2 * depth) {
            add(
                    "film.deep-cavity",
                    format(
                            "the cavities are %.4g nm deep, more than half the film of %.4g nm: real films then need more"
                                    + " pressure than this model says (Hirai and others, J. Vac. Sci. Technol. B 22 (2004) 3288)",
                            depth * 1e9, coated[deepest] * 1e9),
                    tile(deepest));
        }
    }

    /** Warns of what the solve showed. */
    void after(RunReport report, FilmHistory history, double hold, Stamp stamp, FieldSet fields) {
        ofBudgets(report, hold);
        double[] gap = history.residual();
        ofThinFilm(gap);
        if (history.touched() > 0) {
            add(
                    "film.roof-touches",
                    format(
                            "in %d of %d tiles the roofs of the cavities sag onto the film before it has risen to them; there it fills"
                                    + " while they lift off again, and fill.share says how far: a lower pressure or a stiffer"
                                    + " layer keeps them up",
                            history.touched(), maps.grid.size()));
        }
        fields.find(TileFields.PROTRUSION_WIDTH_MIN.id()).ifPresent(width -> ofNarrowLand(width, gap));
        ofStrain(history.peakPressure(), stamp.faceModulusPascal());
    }

    private void ofBudgets(RunReport report, double hold) {
        if (!report.complete()) {
            add(
                    Unfilled.INCOMPLETE,
                    format(
                            "the solve gave up at %.4g s of %.4g s after %d steps and %d cuts: the maps show that time",
                            report.endSeconds(), hold, report.steps(), report.rejections()));
        }
        if (report.cgShortfalls() > 0) {
            add(
                    "film.linear-budget",
                    format("%d linear solves ended at their budget of iterations", report.cgShortfalls()));
        }
        if (report.massError() > 1e-8) {
            add("film.mass", format("the film's mass is off by %.2g", report.massError()));
        }
    }

    private void ofThinFilm(double[] gap) {
        int thinnest = -1;
        int thin = 0;
        for (int i = 0; i < gap.length; i++) {
            if (maps.fraction[i] < 1 && gap[i] < THINNEST_BULK_FILM) {
                thin++;
                thinnest = thinnest < 0 || gap[i] < gap[thinnest] ? i : thinnest;
            }
        }
        if (thin > 0) {
            add(
                    "film.thin",
                    format(
                            "%d tiles end thinner than 10 nm (thinnest %.3g nm): films as thin as their chains do not flow"
                                    + " like the bulk (Rowland and others, ACS Nano 2 (2008) 419)",
                            thin, gap[thinnest] * 1e9),
                    tile(thinnest));
        }
    }

    private void ofNarrowLand(Field width, double[] gap) {
        int worst = -1;
        for (int i = 0; i < gap.length; i++) {
            if (width.known(i)
                    && width.at(i) > 0
                    && width.at(i) < LEAST_ASPECT * gap[i]
                    && (worst < 0 || width.at(i) / gap[i] < width.at(worst) / gap[worst])) {
                worst = i;
            }
        }
        if (worst >= 0) {
            add(
                    "film.lubrication",
                    format(
                            "protrusions of %.4g nm over a film of %.4g nm: below a ratio of 3 the film law is too"
                                    + " fast (Ryu and others, Nano Convergence 4 (2017))",
                            width.at(worst) * 1e9, gap[worst] * 1e9),
                    tile(worst));
        }
    }

    private void ofStrain(double[] peak, double modulus) {
        int worst = 0;
        for (int i = 0; i < peak.length; i++) {
            worst = peak[i] > peak[worst] ? i : worst;
        }
        if (peak[worst] > LARGEST_STRAIN * modulus) {
            add(
                    "film.stamp-strain",
                    format(
                            "a pressure of %.4g MPa strains a stamp of %.4g MPa by more than 10 %%: linear elasticity does"
                                    + " not hold, and a brittle stamp breaks",
                            peak[worst] * 1e-6, modulus * 1e-6),
                    tile(worst));
        }
    }

    /** Warns of times asked for after the end. */
    void ofLateSnapshots(double[] asked, double end) {
        long late = Arrays.stream(asked).filter(time -> time > end).count();
        if (late > 0) {
            add(
                    "film.snapshots-late",
                    format(
                            "%d of the times in %s lie after the end at %.4g s, where nothing is computed",
                            late, FilmSolveParameters.SNAPSHOTS.id(), end));
        }
    }

    private Place tile(int i) {
        int column = maps.grid.column(i);
        int row = maps.grid.row(i);
        return new Place.Tile(column, row, maps.grid.centreXMetres(column), maps.grid.centreYMetres(row));
    }

    /** Warns of a place. */
    void add(String code, String message, Place place) {
        warnings.add(new Finding.Warning("film", code, message, place));
    }

    private static String format(String pattern, Object... values) {
        return String.format(Locale.ROOT, pattern, values);
    }
}
