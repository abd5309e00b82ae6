package org.evenstamp.analysis.film;

import java.util.Arrays;
import java.util.Locale;
import java.util.Map;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.film.load.PressSchedule;
import org.evenstamp.analysis.film.solve.Mobility;
import org.evenstamp.analysis.film.solve.SolverInput;
import org.evenstamp.analysis.film.stamp.Stamp;
import org.evenstamp.analysis.film.stamp.StampParameters;
import org.evenstamp.analysis.film.stamp.Surround;
import org.evenstamp.analysis.film.stamp.TileSag;
import org.evenstamp.analysis.imprint.Menisci;
import org.evenstamp.analysis.process.Roller;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.Parameters;
import org.jspecify.annotations.Nullable;

/** Makes of a job and its tile map what the solver is to solve. */
final class SolverInputReader {
    private final Parameters parameters;
    private final Stamp stamp;
    private final PressSchedule schedule;
    private final FilmMaps maps;
    private final AnalysisContext context;
    private final FilmWarnings warnings;
    private @Nullable SolverInput alike;

    SolverInputReader(
            Parameters parameters,
            Stamp stamp,
            PressSchedule schedule,
            FilmMaps maps,
            AnalysisContext context,
            FilmWarnings warnings) {
        this.parameters = parameters;
        this.stamp = stamp;
        this.schedule = schedule;
        this.maps = maps;
        this.context = context;
        this.warnings = warnings;
    }

    /** Takes from another input how far the tiles' faces sag: of the same stamp and relief. */
    SolverInputReader saggingAs(SolverInput other) {
        alike = other;
        return this;
    }

    /**
     * Returns the solver's input, and warns of what it cannot follow.
     *
     * @throws org.evenstamp.shared.problem.InputException when a particle lies outside the map
     */
    SolverInput input() {
        Surround surround = StampParameters.surround(parameters);
        boolean isolated = surround == Surround.ISOLATED;
        SolverInput.Builder builder = SolverInput.of(maps.grid, maps.filmThickness, schedule.load())
                .thickness(maps.coated)
                .relief(maps.volume, maps.fraction, maps.moment)
                .edges(maps.edges)
                .sag(sag())
                .stamp(stamp, surround)
                .wedge(
                        parameters.quantity(StampParameters.WEDGE_X.id()),
                        parameters.quantity(StampParameters.WEDGE_Y.id()))
                .mobility(Mobility.valueOf(
                        parameters.choice(FilmSolveParameters.MOBILITY.id()).toUpperCase(Locale.ROOT)))
                .bulkModulus(parameters.quantity(FilmSolveParameters.BULK_MODULUS.id()))
                .thinning(schedule.film().thinning())
                .particles(particles());
        boolean held = StampParameters.isHeld(parameters);
        boolean bends = stamp.isPressedOnBack();
        if (isolated && held && bends) {
            warnings.add(
                    "film.plate-not-held",
                    "an isolated plate yields to any moment and cannot be held at a tilt: it was left free to tilt");
        }
        if (isolated && (!held || bends)) {
            builder.freeTilt();
        }
        if (isolated && parameters.choice(FilmSolveParameters.EDGE.id()).equals("open")) {
            builder.openEdge(0, true, true);
        }
        if (schedule.kind().filter(Roller.class::isInstance).isPresent()) {
            if (bends) {
                builder.closedSeam(); // where one repeat ends and the next begins the nip's pressure does not jump
            } else {
                warnings.add(
                        "film.roller-rigid-back",
                        "the back of the stamp is rigid and spreads the force of the nip over the whole map: a foil is a"
                                + " stamp.kind of plate or layer-on-plate");
            }
        }
        Menisci menisci = Menisci.of(parameters);
        builder.gas(menisci.gasPascals(), menisci.gasSolubility());
        if (menisci.pulls()) {
            builder.capillaryPressure(pull(menisci));
        }
        context.fields().links().ifPresent(builder::links);
        return builder.build();
    }

    private double[] sag() {
        double[] sag = new double[maps.grid.size()];
        if (alike != null) {
            SolverInput other = alike;
            Arrays.setAll(sag, other::sag);
            return sag;
        }
        for (int i = 0; i < sag.length; i++) {
            sag[i] = TileSag.metresPerPascal(stamp, maps.fraction[i], maps.edges[i], maps.grid.pitchMetres());
        }
        return sag;
    }

    private double[] pull(Menisci menisci) {
        if (context.fields().find(TileFields.CAVITY_WIDTH_MIN.id()).isEmpty()) {
            warnings.add(
                    "film.capillary-width",
                    "a surface tension is given, but no cavity widths are known: capillarity was left out");
        }
        double[] pull = menisci.pullPascals(context.fields(), maps.coated, maps.volume, maps.fraction);
        for (int i = 0; i < pull.length; i++) {
            pull[i] = maps.volume[i] == 0 ? menisci.gapPascals(maps.coated[i]) : pull[i];
        }
        return pull;
    }

    private double[] particles() {
        double[] height = new double[maps.grid.size()];
        TileGrid grid = maps.grid;
        Problems problems = new Problems();
        int number = 0;
        for (Map<String, Double> row : parameters.table(CommonParameters.PARTICLES.id())) {
            number++;
            double x = row.getOrDefault("x", 0.0);
            double y = row.getOrDefault("y", 0.0);
            int column = (int) Math.floor((x - grid.originXMetres()) / grid.pitchMetres());
            int line = (int) Math.floor((y - grid.originYMetres()) / grid.pitchMetres());
            if (column < 0 || column >= grid.columns() || line < 0 || line >= grid.rows()) {
                problems.add(
                        "film.particle-outside",
                        CommonParameters.PARTICLES.id() + " row " + number,
                        String.format(
                                Locale.ROOT,
                                "the particle at x = %g mm, y = %g mm lies outside the map",
                                x * 1e3,
                                y * 1e3),
                        "give its place in the coordinates of the layout");
                continue;
            }
            int i = grid.index(column, line);
            height[i] = Math.max(height[i], row.getOrDefault("height", 0.0));
        }
        problems.throwIfAny();
        return height;
    }
}
