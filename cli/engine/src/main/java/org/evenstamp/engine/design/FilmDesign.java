package org.evenstamp.engine.design;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.completion.FilmThickness;
import org.evenstamp.analysis.feature.Unfilled;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.engine.job.FilmChoice;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.result.FieldStatistics;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.unit.Unit;

/**
 * Proposes the initial film thickness that leaves a wanted mean residual layer. Film is conserved, so it is the target and the mean
 * cavity volume; the job is then computed with that film and with thinner and thicker ones.
 */
public final class FilmDesign {
    private static final double[] SHARES = {0.8, 0.9, 1, 1.1, 1.25};
    private static final double COARSER = 2;
    private static final int LEAST_TILES = 16;

    private FilmDesign() {}

    /**
     * Proposes a film thickness for the mean residual layer {@code film.target-residual} of a job.
     *
     * @param fine whether the films are compared on the tiles of the job; otherwise on tiles twice as wide, where the map is large
     *     enough
     * @throws InputException when the job states no target, or gives its film place by place
     */
    public static FilmProposal of(Job job, boolean fine, RunOptions options, Progress progress) {
        double target = target(job);
        RunOptions unhashed = options.withHashes(false).withSketch(false);
        Results map = Simulation.run(job.measuring(), unhashed, progress);
        double pitch = map.fields().grid().pitchMetres();
        int smaller =
                Math.min(map.fields().grid().columns(), map.fields().grid().rows());
        boolean coarse = !fine && smaller >= COARSER * LEAST_TILES;
        if (coarse) {
            map = Simulation.run(job.measuring().on(job.layout(), COARSER * pitch), unhashed, progress);
        }
        FilmProposal.Volume volume = volume(map.fields().get(TileFields.CAVITY_VOLUME));
        double wanted = target + volume.meanMetres();
        List<Comparison.Variant> variants = new ArrayList<>();
        FilmProposal.Reached reached = new FilmProposal.Reached(Double.NaN, Optional.empty());
        for (double share : SHARES) {
            double thickness = share * wanted;
            if (thickness > volume.meanMetres()) {
                Job other = job.with(
                        Map.of(CommonParameters.FILM_THICKNESS.id(), thickness + " m"),
                        Set.of(FilmThickness.SPIN_SPEED.id())); // a spun film has its thickness from there
                FieldSet fields = Simulation.analyse(other, map.fields(), unhashed, progress)
                        .fields();
                variants.add(new Comparison.Variant(
                        String.format(Locale.ROOT, "%s%.4g nm", share == 1 ? "* " : "", thickness * 1e9), fields));
                if (share == 1) {
                    reached = reached(fields);
                }
            }
        }
        return new FilmProposal(
                target,
                wanted,
                volume,
                map.fields().grid().pitchMetres(),
                coarse,
                new Comparison(variants, job.limits(), List.of()),
                reached);
    }

    private static FilmProposal.Reached reached(FieldSet fields) {
        double mean = fields.find(ImprintFields.RESIDUAL_FINAL.id())
                .or(() -> fields.find(ImprintFields.RESIDUAL_LOCAL.id()))
                .map(Job::meanMetres)
                .orElse(Double.NaN);
        return new FilmProposal.Reached(mean, Unfilled.of(fields));
    }

    private static double target(Job job) {
        OptionalDouble target = job.settings().find(FilmChoice.TARGET.id());
        if (target.isEmpty()) {
            throw new InputException(
                    "job.missing-key",
                    job.place(),
                    "the job does not set " + FilmChoice.TARGET.id() + ": " + FilmChoice.TARGET.meaning(),
                    "add it to the section film, such as \"50 nm\"");
        }
        Job.Coating film = job.film();
        if (film != null) {
            throw new InputException(
                    "film.map-given",
                    job.place(),
                    "the job gives its film place by place in " + film.map().asWritten()
                            + ", and this verb looks for one thickness",
                    "give " + CommonParameters.FILM_THICKNESS.id() + " instead of the map");
        }
        return target.getAsDouble();
    }

    private static FilmProposal.Volume volume(Field field) {
        Unit unit = field.name().unit();
        FieldStatistics statistics = FieldStatistics.of(field);
        return new FilmProposal.Volume(
                unit.toSi(statistics.min()), unit.toSi(statistics.mean()), unit.toSi(statistics.max()));
    }
}
