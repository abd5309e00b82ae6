package org.evenstamp.analysis.balance;

import java.util.List;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.imprint.FilmShape;
import org.evenstamp.analysis.imprint.Materials;
import org.evenstamp.analysis.imprint.Menisci;
import org.evenstamp.analysis.process.ProcessParameters;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.Parameters;

/**
 * Makes the displaced-volume balance, analysis {@code balance}.
 *
 * <p>With film thickness {@code h0} (of the tile, where a map of it is there), viscosity {@code eta}, applied pressure {@code p}, and per tile the cavity volume
 * {@code v} over the tile's area and the squeeze moment {@code T}:
 *
 * <ul>
 *   <li>{@code residual.local = k max(h0 - v, 0)} with the share {@code k} that drying or curing leaves, {@code
 *       fill.share.local = min(1, h0 / v)}, {@code starved.share = 1 - fill.share.local} (no value without cavity): conservation
 *       of volume. A film that solvent swells is pressed, and {@code h0} is meant, at {@code 1/(1 - share)} of its thickness.
 *   <li>{@code volume.surplus = mean(v) - v + h0 - mean(h0)}: positive where film has to leave.
 *   <li>{@code transport.distance}: where the surplus goes when all of it takes the shortest way, see {@link TransportDistance}.
 *   <li>{@code fill.time.free = eta T / (2 p) (1 / (h0 - v)^2 - 1 / h0^2)}: squeeze flow between parallel plates at
 *       constant pressure (Stefan's law, from Reynolds' equation; {@code T} as {@link TileFields#SQUEEZE_MOMENT}); menisci help
 *       and sealed gas holds against it as at {@link FreeFill}. Valid for
 *       a Newtonian film without slip under protrusions at least about 3 times as wide as the film is thick; a warning says
 *       where they are narrower, if the longest flow path is known. No value without cavity, where {@code v >= h0} or
 *       nothing presses.
 * </ul>
 */
public final class BalanceProvider implements AnalysisProvider {
    static final String ID = "balance";

    /** For {@link java.util.ServiceLoader}. */
    public BalanceProvider() {}

    @Override
    public AnalysisDescription description() {
        return new AnalysisDescription(
                ID,
                "Displaced-volume balance: residual layer and filling of each tile on its own, surplus and how far it must"
                        + " travel, free fill time.",
                List.of(
                        CommonParameters.FILM_THICKNESS,
                        FilmShape.UNEVEN_X,
                        FilmShape.UNEVEN_Y,
                        FilmShape.UNEVEN_RADIAL,
                        CommonParameters.FILM_VISCOSITY,
                        CommonParameters.PRESSURE,
                        ProcessParameters.KIND,
                        ProcessParameters.SOLVENT_SHARE,
                        Materials.CURE_SHRINKAGE,
                        Menisci.SURFACE_TENSION,
                        Menisci.CONTACT_ANGLE,
                        Menisci.GAS_PRESSURE,
                        Menisci.GAS_SOLUBILITY),
                List.of(TileFields.CAVITY_FRACTION, TileFields.CAVITY_VOLUME, TileFields.SQUEEZE_MOMENT),
                List.of(TileFields.FLOW_PATH_MAX, TileFields.FILM_COATED, TileFields.CAVITY_WIDTH_MIN),
                BalanceFields.all());
    }

    @Override
    public Analysis create(Parameters parameters) {
        return new Balance(
                parameters.quantity(CommonParameters.FILM_THICKNESS.id()),
                FilmShape.of(parameters),
                Materials.swelling(parameters),
                Materials.keptHeight(parameters),
                parameters.quantity(CommonParameters.FILM_VISCOSITY.id()),
                parameters.quantity(CommonParameters.PRESSURE.id()),
                Menisci.of(parameters));
    }
}
