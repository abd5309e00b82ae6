package org.evenstamp.analysis.film;

import java.util.ArrayList;
import java.util.List;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.film.load.PressSchedule;
import org.evenstamp.analysis.film.record.FilmHistory;
import org.evenstamp.analysis.film.record.FilmSnapshots;
import org.evenstamp.analysis.film.solve.FilmSolver;
import org.evenstamp.analysis.film.solve.RunReport;
import org.evenstamp.analysis.film.solve.SolverInput;
import org.evenstamp.analysis.film.solve.SolverOptions;
import org.evenstamp.analysis.film.stamp.Stamp;
import org.evenstamp.analysis.imprint.Materials;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Curve;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Parameters;

/** One film solve: from job and fields to the solver's input, through the solver, to fields, figures and warnings. */
final class FilmAnalysis {
    // Of what is kept unasked: a report of 256 x 256 tiles stays small, and one of 1024 x 1024 carries none.
    private static final int MOST_STATES = 12;
    private static final int MOST_STATE_TILES = 1 << 20;

    private final Parameters parameters;
    private final Stamp stamp;
    private final PressSchedule schedule;
    private final AnalysisContext context;
    private final FilmMaps maps;
    private final FilmWarnings warnings;

    FilmAnalysis(Parameters parameters, Stamp stamp, PressSchedule evenSchedule, AnalysisContext context) {
        this.parameters = parameters;
        this.stamp = stamp;
        this.context = context;
        schedule = evenSchedule.over(context.fields());
        maps = FilmMaps.of(parameters, schedule.swelling(), context);
        warnings = new FilmWarnings(maps);
    }

    private SolverOptions options() {
        return SolverOptions.STANDARD.withTimeTolerance(parameters.quantity(FilmSolveParameters.STEP_ERROR.id()));
    }

    AnalysisResult run() {
        SolverInput input = new SolverInputReader(parameters, stamp, schedule, maps, context, warnings).input();
        double[] asked = parameters.table(FilmSolveParameters.SNAPSHOTS.id()).stream()
                .mapToDouble(row -> row.getOrDefault("time", 0.0))
                .toArray();
        FilmSnapshots snapshots = asked.length > 0
                ? FilmSnapshots.at(asked)
                : FilmSnapshots.along(Math.min(MOST_STATES, MOST_STATE_TILES / maps.grid.size()), maps.filmThickness);
        FilmHistory history = new FilmHistory(input, snapshots, parameters.find(Materials.PLATEAU_MODULUS.id()));
        RunReport report;
        try (ThreadTeam team = ThreadTeam.forValues(maps.grid.size(), context.threads());
                Stage stage = context.progress().stage("film", 0, "iterations")) {
            report = new FilmSolver(input, options(), team).run(asked, history, stage);
        }
        warnings.before(parameters);
        warnings.after(report, history, schedule.load().endSeconds(), stamp, context.fields());
        double pressure = parameters.quantity(CommonParameters.PRESSURE.id());
        double reached = UnfilledReason.reached(
                schedule,
                pressure,
                parameters.quantity(CommonParameters.FILM_VISCOSITY.id()),
                parameters.quantity(CommonParameters.HOLD.id()));
        new UnfilledReason(maps, history, stamp, reached, pressure).tell(warnings);
        warnings.ofLateSnapshots(asked, schedule.load().endSeconds());
        FilmReport told = new FilmReport(maps, schedule.keeping(), report, history);
        List<Figure> figures = new ArrayList<>(told.figures());
        figures.addAll(PressForce.figures(parameters, schedule, maps.grid));
        List<Curve> curves = new ArrayList<>(told.curves(asked.length > 0));
        schedule.history().ifPresent(process -> {
            ProcessReport more = new ProcessReport(parameters, schedule, process, maps, history);
            figures.addAll(more.figures());
            curves.addAll(more.curves());
            warnings.addAll(more.cautions());
        });
        List<Field> fields = told.fields();
        return new AnalysisResult(fields, figures, curves, warnings.all(), told.snapshots(fields));
    }
}
