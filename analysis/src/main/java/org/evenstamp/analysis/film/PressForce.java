package org.evenstamp.analysis.film;

import java.util.ArrayList;
import java.util.List;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.film.load.PressSchedule;
import org.evenstamp.analysis.process.Roller;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Parameters;

/** What the press does as a machine: its force on the map, a roller's force per length, and the energy that the stamp stores. */
final class PressForce {
    private static final FieldName FORCE =
            FieldName.of("film.force", "N", "largest force of the press on the map's area");
    private static final FieldName ENERGY = FieldName.of(
            "film.energy", "J", "energy that the stamp's body stores under it; the press itself stores more");
    private static final FieldName LINE_FORCE =
            FieldName.of("film.force.line", "N/mm", "force of the roller per length");

    private PressForce() {}

    /** Returns those of the figures that a job may limit. */
    static List<FieldName> limitable() {
        return List.of(FORCE, ENERGY, LINE_FORCE);
    }

    private static Figure figure(FieldName name, double si) {
        return new Figure(name.id().substring("film.".length()), si, name.unit(), name.meaning());
    }

    /**
     * Returns the figures. The energy is that of the stamp's own body under even pressure, {@code p² A t/(2 E)} (linear elasticity): the press's
     * frame, its springs and a pressed gas store more, and are not known here.
     */
    static List<Figure> figures(Parameters parameters, PressSchedule schedule, TileGrid grid) {
        double area = grid.size() * grid.tileAreaSquareMetres();
        double pressure = schedule.history()
                .map(history -> history.steps().stream()
                        .mapToDouble(step -> step.pascals().most())
                        .max()
                        .orElse(0))
                .orElseGet(() -> parameters.quantity(CommonParameters.PRESSURE.id()));
        double modulus = parameters.quantity(CommonParameters.STAMP_MODULUS.id());
        double thickness = parameters.quantity(CommonParameters.STAMP_THICKNESS.id());
        List<Figure> figures = new ArrayList<>(List.of(
                figure(FORCE, pressure * area),
                figure(ENERGY, pressure * pressure * area * thickness / (2 * modulus))));
        if (schedule.kind().orElse(null) instanceof Roller roller) {
            figures.add(figure(LINE_FORCE, roller.contact().lineForceNewtonsPerMetre()));
            figures.add(
                    Figure.of("pressure.nip-mean", roller.contact().meanPascals(), "MPa", "mean pressure in the nip"));
            figures.add(
                    Figure.of("pressure.nip-peak", roller.contact().peakPascals(), "MPa", "peak pressure in the nip"));
        }
        return figures;
    }
}
