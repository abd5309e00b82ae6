package org.evenstamp.engine.run;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.evenstamp.analysis.feature.Unfilled;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.limit.LimitCheck;
import org.evenstamp.analysis.pipeline.Outcome;
import org.evenstamp.engine.result.Results;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.unit.Unit;
import org.jspecify.annotations.Nullable;

/**
 * How far the numbers of a run depend on its tiles: what the same job says on tiles twice as wide. A number whose error goes
 * with the side of a tile is off by about as much as the two differ; one whose error goes with its square, by a third of that.
 */
final class Resolution {
    /** Change from which on a number is marked. */
    private static final double MOVED = 0.1;

    /**
     * Changes of a number within which its limit is too close to call: the factor of safety of two maps whose order of
     * convergence is not known (P.J. Roache, J. Fluids Eng. 133 (2011) 115501), at an error that goes with the side.
     */
    private static final double SAFETY = 3;

    /** More tiles than a map may have. */
    private static final long MOST_TILES = 16_000_000;

    private static final String ORIGIN = "resolution";

    /** Figures that a reader takes away, by analysis. */
    private static final Map<String, List<String>> HEADLINES =
            Map.of("film", List.of("residual.mean", "residual.sigma3", "fill.most"));

    private final Outcome fine;
    private final Outcome coarse;
    private final List<Figure> figures = new ArrayList<>();
    private final List<String> moved = new ArrayList<>();
    private double largest; // change of a number over it
    private final List<Finding.Warning> warnings = new ArrayList<>();
    private final List<Limit> close = new ArrayList<>();

    Resolution(Outcome fine, Outcome coarse, List<Limit> limits) {
        this.fine = fine;
        this.coarse = coarse;
        headlines();
        lastFill();
        limits(limits);
        if (!moved.isEmpty()) {
            warn(
                    "resolution.moved",
                    "on tiles twice as wide these numbers differ by more than 10 %: " + String.join(", ", moved)
                            + "; they are no better known than that. " + wayOut());
        }
    }

    /** Which tiles would tell the numbers that moved, and what these cost. */
    private String wayOut() {
        TileGrid grid = fine.fields().grid();
        double times = Math.pow(largest / MOVED, 2);
        double tiles = times * grid.size();
        if (tiles > MOST_TILES) {
            return String.format(
                    Locale.ROOT,
                    "If their error goes with the side of a tile, no side (tiles.side) with less than %d million tiles tells"
                            + " them all to %.0f %%: take them as orders of magnitude, or draw a part of the stamp alone",
                    MOST_TILES / 1_000_000,
                    100 * MOVED);
        }
        return String.format(
                Locale.ROOT,
                "If their error goes with the side of a tile, a side of %.3g um (tiles.side) tells them to %.0f %%: %.0f"
                        + " tiles, about %.0f times the work",
                grid.pitchMetres() / Math.sqrt(times) * 1e6,
                100 * MOVED,
                tiles,
                times);
    }

    private void headlines() {
        HEADLINES.forEach((analysis, ids) -> ids.forEach(id -> {
            Figure here = figure(fine, analysis, id);
            Figure there = figure(coarse, analysis, id);
            if (here != null && there != null) {
                compare(analysis + " " + id, id, here.valueSi(), there.valueSi(), here.unit());
            }
        }));
    }

    private static @Nullable Figure figure(Outcome outcome, String analysis, String id) {
        return outcome.results().stream()
                .filter(answer -> answer.analysis().id().equals(analysis))
                .flatMap(answer -> answer.result().figures().stream())
                .filter(figure -> figure.id().equals(id))
                .findFirst()
                .orElse(null);
    }

    /** The last tile is one of those that hold a thousandth of the volume: its time beyond theirs is no better known. */
    private void lastFill() {
        double here = most(fine, "fill.time");
        double there = most(coarse, "fill.time");
        Figure fullButAThousandth = figure(fine, "film", "fill.most");
        double beyond = fullButAThousandth == null ? 0 : here - fullButAThousandth.valueSi();
        if (here > 0 && there > 0) {
            boolean byTiles = Math.abs(here - there) >= beyond;
            compare(
                    byTiles ? "last fill.time" : "last fill.time, beside fill.most",
                    "fill.time.last",
                    here,
                    byTiles ? there : here - beyond,
                    fine.fields().find("fill.time").orElseThrow().name().unit());
        }
    }

    private static double most(Outcome outcome, String field) {
        return outcome.fields().find(field).map(Resolution::most).orElse(Double.NaN);
    }

    private static double most(Field field) {
        double most = Double.NaN;
        for (double value : field.toArray()) {
            if (!Double.isNaN(value) && !(most >= value)) {
                most = value;
            }
        }
        return most;
    }

    /** The number behind each limit, and whether wider tiles come to another verdict. */
    private void limits(List<Limit> limits) {
        for (Limit limit : limits) {
            if (fine.fields().find(limit.fieldId()).isEmpty()
                    || coarse.fields().find(limit.fieldId()).isEmpty()) {
                continue;
            }
            Field field = fine.fields().find(limit.fieldId()).orElseThrow();
            double here = LimitCheck.found(limit, fine.fields()).orElse(Double.NaN);
            double there = LimitCheck.found(limit, coarse.fields()).orElse(Double.NaN);
            if (Double.isNaN(here) || Double.isNaN(there)) {
                continue;
            }
            String id = limit.subject() + "." + limit.measure().word();
            compare(
                    limit.subject() + " (" + limit.measure().word() + ")",
                    id,
                    here,
                    there,
                    field.name().unit());
            if (isClose(limit, here, there)) {
                close.add(limit);
            }
        }
        if (!close.isEmpty()) {
            warn(
                    "resolution.too-close",
                    "too close to call on these tiles: the limits on " + Limit.subjects(close)
                            + "; tiles twice as wide come to another verdict, or differ by more than a third of what lies"
                            + " between number and bound, or the tiles are too wide to tell whether their cavities fill");
        }
    }

    private boolean isClose(Limit limit, double here, double there) {
        boolean broken = broken(limit, fine);
        if (broken != broken(limit, coarse)) {
            return true;
        }
        boolean share = limit.fieldId().equals(ImprintFields.FILL_SHARE.id());
        if (share && !broken) {
            return false; // cut off at 1: how near it is says nothing
        }
        if (share && fine.warnings().stream().anyMatch(warning -> warning.code().equals(Unfilled.UNDECIDED))) {
            return true;
        }
        return Math.abs(here - limit.boundSi()) < SAFETY * Math.abs(here - there);
    }

    private static boolean broken(Limit limit, Outcome outcome) {
        return LimitCheck.check(List.of(limit), outcome.fields()).stream()
                .anyMatch(Finding.LimitBroken.class::isInstance);
    }

    private void compare(String name, String id, double here, double there, Unit unit) {
        double error = Math.abs(here - there);
        if (!Double.isFinite(error)
                || figures.stream().anyMatch(figure -> figure.id().equals(id))) {
            return;
        }
        figures.add(new Figure(id, error, unit, "error of " + name + " from the tiles, by tiles twice as wide"));
        if (error > MOVED * Math.max(Math.abs(here), 1e-300)) {
            largest = Math.max(largest, error / Math.max(Math.abs(here), 1e-300));
            String symbol = unit.symbol().equals("1") ? "" : " " + unit.symbol();
            moved.add(String.format(
                    Locale.ROOT, "%s (%.3g%s, %.3g)", name, unit.fromSi(here), symbol, unit.fromSi(there)));
        }
    }

    private void warn(String code, String message) {
        warnings.add(new Finding.Warning(ORIGIN, code, message, new Place.WholeStamp()));
    }

    /** Returns the errors as one more part of the results. */
    Results.AnalysisPart part() {
        return new Results.AnalysisPart(
                ORIGIN, "error of the headline numbers from the size of the tiles", figures, List.of(), List.of());
    }

    /** Returns the limits that are too close to call. */
    List<Limit> close() {
        return new ArrayList<>(close);
    }

    /** Returns what a reader has to know. */
    List<Finding.Warning> warnings() {
        return new ArrayList<>(warnings);
    }
}
