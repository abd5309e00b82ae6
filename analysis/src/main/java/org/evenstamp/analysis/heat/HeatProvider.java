package org.evenstamp.analysis.heat;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.film.stamp.StampParameters;
import org.evenstamp.analysis.imprint.Materials;
import org.evenstamp.analysis.imprint.TileValues;
import org.evenstamp.analysis.process.ExpansionMismatch;
import org.evenstamp.analysis.process.ProcessParameters;
import org.evenstamp.analysis.process.ThermalLag;
import org.evenstamp.analysis.process.UnevenTemperature;
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
import org.evenstamp.shared.spi.Parameter.Quantity;
import org.evenstamp.shared.spi.Parameters;
import org.evenstamp.shared.spi.Remedy;

/**
 * What the heat of a hot press does from place to place: the temperature while it presses, how far film lags behind its plates, and how far substrate and stamp slide past
 * each other from setting to release, against the narrowest width of the pattern.
 */
public final class HeatProvider implements AnalysisProvider {
    /** Temperature while it is pressed. */
    public static final FieldName TEMPERATURE =
            FieldName.of("heat.temperature", "degC", "temperature of the film while it is pressed");
    /** Displacement by expansion. */
    public static final FieldName SHIFT = FieldName.of(
            "heat.shift",
            "um",
            "displacement of the substrate against the stamp by their expansion from setting to release, if nothing but the middle of the map"
                    + " held them: distance from there times the mismatch");
    /** The same over the narrowest width. */
    public static final FieldName RATIO = FieldName.of(
            "heat.shift.ratio",
            "1",
            "displacement by expansion over the narrowest cavity or protrusion of the tile; past 1 the features that stand in the stamp have to hold"
                    + " it, or give way");

    /** Diffusivity of heat in the stamp. */
    public static final Quantity STAMP_DIFFUSIVITY = Quantity.optional(
            "stamp.thermal-diffusivity",
            "mm^2/s",
            1e-4,
            1e5,
            "diffusivity of heat in the stamp, or in its layer where that is bonded to a back");
    /** Diffusivity of heat in the substrate. */
    public static final Quantity SUBSTRATE_DIFFUSIVITY = Quantity.optional(
            "process.substrate-thermal-diffusivity", "mm^2/s", 1e-4, 1e5, "diffusivity of heat in the substrate");

    private static final double SETTLED = 0.05;
    private static final double TOLD_KELVIN = 1;

    @Override
    public AnalysisDescription description() {
        return new AnalysisDescription(
                "heat",
                "Temperature of a hot press from place to place, lag behind its plates, and sliding by expansion",
                List.of(
                        ProcessParameters.COOLING,
                        ProcessParameters.TEMPERATURE,
                        ProcessParameters.START,
                        ProcessParameters.HEATING,
                        UnevenTemperature.UNEVEN_X,
                        UnevenTemperature.UNEVEN_Y,
                        StampParameters.KIND,
                        StampParameters.LAYER_THICKNESS,
                        CommonParameters.STAMP_THICKNESS,
                        CommonParameters.SUBSTRATE_THICKNESS,
                        STAMP_DIFFUSIVITY,
                        SUBSTRATE_DIFFUSIVITY,
                        Materials.STAMP_EXPANSION.asOptional(),
                        Materials.BACK_EXPANSION,
                        Materials.SUBSTRATE_EXPANSION.asOptional(),
                        Materials.SET_TEMPERATURE.asOptional(),
                        CommonParameters.RELEASE_TEMPERATURE.asOptional()),
                List.of(TileFields.CAVITY_WIDTH_MIN, TileFields.PROTRUSION_WIDTH_MIN),
                List.of(),
                List.of(TEMPERATURE, SHIFT, RATIO),
                List.of(),
                List.of(
                        new Remedy(
                                RATIO,
                                "a stamp, or a back of it, that expands as the substrate does, a hotter release, or a film that sets colder")));
    }

    @Override
    public List<String> quietWithout() {
        return List.of(ProcessParameters.COOLING.id());
    }

    @Override
    public Analysis create(Parameters parameters) {
        return context -> run(parameters, context);
    }

    private static AnalysisResult run(Parameters p, AnalysisContext context) {
        TileGrid grid = context.grid();
        double pressed = p.find(ProcessParameters.TEMPERATURE.id()).orElse(p.quantity(ProcessParameters.START.id()));
        UnevenTemperature uneven = UnevenTemperature.of(p);
        OptionalDouble mismatch = mismatch(p);
        Field cavity = context.fields().get(TileFields.CAVITY_WIDTH_MIN);
        Field land = context.fields().get(TileFields.PROTRUSION_WIDTH_MIN);
        TileValues temperature = new TileValues(TEMPERATURE, grid);
        TileValues shift = new TileValues(SHIFT, grid);
        TileValues ratio = new TileValues(RATIO, grid);
        try (Stage stage = context.progress().stage("heat", grid.size(), "tiles")) {
            for (int i = 0; i < grid.size(); i++) {
                stage.advance(1);
                double x = grid.across(i);
                double y = grid.upward(i);
                temperature.set(i, pressed + uneven.difference(x, y));
                if (mismatch.isPresent()) {
                    double away = grid.pitchMetres() / 2 * Math.hypot(x * grid.columns(), y * grid.rows());
                    shift.set(i, Math.abs(mismatch.getAsDouble()) * away);
                    double width = Math.min(
                            cavity.known(i) ? cavity.at(i) : Double.POSITIVE_INFINITY,
                            land.known(i) ? land.at(i) : Double.POSITIVE_INFINITY);
                    if (cavity.known(i) && width > 0) {
                        ratio.set(i, shift.at(i) / width);
                    }
                }
            }
        }
        List<Figure> figures = new ArrayList<>();
        List<Finding.Warning> warnings = new ArrayList<>();
        lag(p, pressed, figures, warnings);
        shift.worst()
                .ifPresent(i -> figures.add(
                        Figure.of("shift.most", shift.at(i), "um", "displacement by expansion where it is largest")));
        ratio.worst().ifPresent(i -> {
            if (ratio.at(i) > 1) {
                warnings.add(new Finding.Warning(
                        "heat",
                        "heat.shift",
                        String.format(
                                Locale.ROOT,
                                "from setting to release substrate and stamp slide past each other by up to %.3g um if nothing holds them, %.3g times the"
                                        + " narrowest width there, in %d tiles by more than it",
                                shift.at(i) * 1e6,
                                ratio.at(i),
                                ratio.countAbove(1)),
                        Place.Tile.of(grid, i)));
            }
        });
        return new AnalysisResult(
                List.of(temperature.field(), shift.field(), ratio.field()), figures, List.of(), warnings);
    }

    private static OptionalDouble mismatch(Parameters p) {
        OptionalDouble stamp = Materials.expansionInPlane(p);
        OptionalDouble substrate = p.find(Materials.SUBSTRATE_EXPANSION.id());
        OptionalDouble set = p.find(Materials.SET_TEMPERATURE.id());
        OptionalDouble release = p.find(CommonParameters.RELEASE_TEMPERATURE.id());
        if (stamp.isEmpty() || substrate.isEmpty() || set.isEmpty() || release.isEmpty()) {
            return OptionalDouble.empty();
        }
        return OptionalDouble.of(new ExpansionMismatch(stamp.getAsDouble(), substrate.getAsDouble())
                .strain(set.getAsDouble(), release.getAsDouble()));
    }

    /** Tells how far the film lags behind the plates, from the slower of stamp and substrate. */
    private static void lag(Parameters p, double pressed, List<Figure> figures, List<Finding.Warning> warnings) {
        boolean layer = p.choice(StampParameters.KIND.id()).equals("bonded-layer");
        OptionalDouble stamp = layer
                ? p.find(StampParameters.LAYER_THICKNESS.id())
                : OptionalDouble.of(p.quantity(CommonParameters.STAMP_THICKNESS.id()));
        Optional<ThermalLag> slower = Optional.empty();
        OptionalDouble through = p.find(STAMP_DIFFUSIVITY.id());
        if (stamp.isPresent() && through.isPresent()) {
            slower = Optional.of(new ThermalLag(stamp.getAsDouble(), through.getAsDouble()));
        }
        OptionalDouble below = p.find(SUBSTRATE_DIFFUSIVITY.id());
        if (below.isPresent()) {
            ThermalLag substrate =
                    new ThermalLag(p.quantity(CommonParameters.SUBSTRATE_THICKNESS.id()), below.getAsDouble());
            slower = Optional.of(slower.filter(lag -> lag.delaySeconds() >= substrate.delaySeconds())
                    .orElse(substrate));
        }
        if (slower.isEmpty()) {
            return;
        }
        ThermalLag lag = slower.get();
        double rate = p.quantity(ProcessParameters.HEATING.id());
        double heating = (pressed - p.quantity(ProcessParameters.START.id())) / rate;
        double behind = lag.lag(rate, Math.max(0, heating));
        double settle = lag.settleSeconds(SETTLED);
        figures.add(Figure.of(
                "lag.heating",
                behind,
                "K",
                "most that the film is colder than its plates when these reach the temperature of the press"));
        figures.add(Figure.of(
                "lag.cooling",
                lag.lag(p.quantity(ProcessParameters.COOLING.id()), 1e9),
                "K",
                "most that the film is hotter than its plates while these cool"));
        figures.add(Figure.of("lag.settle", settle, "s", "time until that has fallen to a twentieth"));
        if (behind > TOLD_KELVIN) {
            warnings.add(new Finding.Warning(
                    "heat",
                    "heat.lag",
                    String.format(
                            Locale.ROOT,
                            "the film is up to %.3g K colder than its plates when the press closes, for %.3g s more; the film solve takes it to be as hot as"
                                    + " they are",
                            behind,
                            settle),
                    new Place.WholeStamp()));
        }
    }
}
