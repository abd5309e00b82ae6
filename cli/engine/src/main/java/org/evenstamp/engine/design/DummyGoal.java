package org.evenstamp.engine.design;

import java.util.List;
import java.util.stream.Collectors;
import org.evenstamp.engine.job.DummyChoice;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.shared.problem.InputException;

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

    /** Returns how much each tile counts; some do. */
    double[] weights(int tiles) {
        double[] weights = new double[tiles];
        boolean some = false;
        for (int i = 0; i < tiles; i++) {
            weights[i] = regions.isEmpty() ? 1 : weight(i);
            some |= weights[i] > 0;
        }
        if (!some) {
            throw new InputException(
                    "dummy.over",
                    "dummy.over",
                    "there is nothing to even out: no tile has a part of " + words(),
                    "draw the region on the stamp, or set dummy.over to stamp");
        }
        return weights;
    }

    private double weight(int tile) {
        double weight = 0;
        for (NamedRegion region : regions) {
            weight += region.weight() * region.share(tile);
        }
        return weight;
    }
}
