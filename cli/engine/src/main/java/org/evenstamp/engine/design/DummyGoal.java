package org.evenstamp.engine.design;

import java.util.List;
import java.util.stream.Collectors;
import org.evenstamp.analysis.dummy.DummyTask;
import org.evenstamp.engine.job.DummyChoice;
import org.evenstamp.engine.result.AreaStatistics;
import org.evenstamp.engine.result.ResidualLayer;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.NamedRegion;

/** Where the residual layer has to be even: in regions, each tile by weight and share, or on the whole stamp. */
final class DummyGoal {
    private final List<NamedRegion> regions;

    private DummyGoal(List<NamedRegion> regions) {
        this.regions = regions;
    }

    /** Returns the goal of a job on a stamp with these regions. */
    static DummyGoal of(DummyChoice.Over over, FieldSet fields) {
        return new DummyGoal(
                switch (over) {
                    case STAMP -> List.of();
                    case FEATURES ->
                        fields.regions().stream()
                                .filter(NamedRegion::isFeatures)
                                .toList();
                    case REGIONS ->
                        fields.regions().stream()
                                .filter(region -> !region.isFeatures() && region.weight() > 0)
                                .toList();
                });
    }

    /** Returns the names of its regions in words. */
    String words() {
        return regions.isEmpty()
                ? "the whole stamp"
                : regions.stream()
                        .map(region -> region.isFeatures() ? "what the features cover" : region.name())
                        .collect(Collectors.joining(", "));
    }

    /** Returns the task in which every tile counts as this goal has it. */
    DummyTask weigh(DummyTask task) {
        if (regions.isEmpty()) {
            return task;
        }
        double[] weights = new double[task.window().windows()];
        for (int i = 0; i < weights.length; i++) {
            weights[i] = weight(i);
        }
        return task.weighted(weights);
    }

    private double weight(int tile) {
        double weight = 0;
        for (NamedRegion region : regions) {
            weight += region.weight() * region.share(tile);
        }
        return weight;
    }

    /** Returns three standard deviations of the residual layer as this goal counts it; 0 where there is none. */
    double sigma3Metres(FieldSet fields) {
        if (regions.isEmpty()) {
            return ResidualLayer.sigma3Metres(fields).orElse(0);
        }
        return ResidualLayer.of(fields)
                .flatMap(field -> AreaStatistics.of(field, this::weight)
                        .map(one -> field.name().unit().toSi(one.sigma3())))
                .orElse(0.0);
    }
}
