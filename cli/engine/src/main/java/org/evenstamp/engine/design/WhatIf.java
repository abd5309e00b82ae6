package org.evenstamp.engine.design;

import java.util.ArrayList;
import java.util.List;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.progress.Progress;

/**
 * What other changes of a stamp would do, estimated by changing the measured tiles instead of drawing them: shallower cavities,
 * and large cavity pads broken up by lines of land. A pad is a tile of which more than {@value #PAD} is cavity.
 */
public final class WhatIf {
    private static final double PAD = 0.9;
    private static final double SHALLOWER = 0.8;

    private WhatIf() {}

    /**
     * Runs the analyses of a job on the changed stamps.
     *
     * @param computed the fields of a run of the job
     */
    public static List<Comparison.Variant> of(Job job, FieldSet computed, RunOptions options, Progress progress) {
        return changes(measured(computed)).stream()
                .map(change -> new Comparison.Variant(
                        change.name(),
                        Simulation.analyse(job, change.fields(), options, progress)
                                .fields()))
                .toList();
    }

    /** Returns changed stamps, as fields of the tile map. */
    private static List<Comparison.Variant> changes(FieldSet measured) {
        return List.of(
                new Comparison.Variant("depth x 0.8", shallower(measured)),
                new Comparison.Variant("pads striped", lined(measured, 10e-6, 10e-6)),
                new Comparison.Variant("pads slotted", lined(measured, 20e-6, 5e-6)));
    }

    /** Returns the fields that were there before any analysis ran. */
    private static FieldSet measured(FieldSet computed) {
        List<Field> fields = new ArrayList<>();
        for (FieldName name : TileFields.all()) {
            computed.find(name.id()).ifPresent(fields::add);
        }
        computed.find(TileFields.FILM_COATED.id()).ifPresent(fields::add);
        computed.find(TileFields.LAMP_IRRADIANCE.id()).ifPresent(fields::add);
        return FieldSet.empty(computed.grid()).with(fields).withRegions(computed.regions());
    }

    private static FieldSet shallower(FieldSet measured) {
        List<Field> fields = new ArrayList<>();
        for (Field field : measured.all()) {
            boolean scales = field.name().equals(TileFields.CAVITY_VOLUME)
                    || field.name().equals(TileFields.WALL_AREA);
            double[] values = values(field);
            for (int i = 0; scales && i < values.length; i++) {
                values[i] *= SHALLOWER;
            }
            fields.add(Field.of(field.name(), measured.grid(), values));
        }
        return FieldSet.empty(measured.grid()).with(fields).withRegions(measured.regions());
    }

    /** Pads become a grating of cavities and land of these widths; its squeeze moment is that of strips, land share x width². */
    private static FieldSet lined(FieldSet measured, double cavity, double land) {
        double share = cavity / (cavity + land);
        Field fraction = measured.get(TileFields.CAVITY_FRACTION);
        Field volume = measured.get(TileFields.CAVITY_VOLUME);
        List<Field> fields = new ArrayList<>();
        for (Field field : measured.all()) {
            double[] values = values(field);
            for (int i = 0; i < values.length; i++) {
                double filled = fraction.at(i);
                if (filled > PAD) {
                    double depth = volume.at(i) / filled;
                    values[i] = lined(field.name(), values[i], share, cavity, land, depth);
                }
            }
            fields.add(Field.of(field.name(), measured.grid(), values));
        }
        return FieldSet.empty(measured.grid()).with(fields).withRegions(measured.regions());
    }

    private static double lined(FieldName name, double value, double share, double cavity, double land, double depth) {
        double edges = 2 / (cavity + land);
        return switch (name.id()) {
            case "cavity.fraction" -> share;
            case "cavity.volume" -> share * depth;
            case "edge.density" -> edges;
            case "wall.area" -> edges * depth;
            case "squeeze.moment" -> (1 - share) * land * land;
            case "flow.path.mean" -> land / 4;
            case "flow.path.max" -> land / 2;
            case "protrusion.width.min" -> land;
            case "cavity.width.min" -> cavity;
            default -> value;
        };
    }

    private static double[] values(Field field) {
        double[] values = field.toArray();
        for (int i = 0; i < values.length; i++) {
            if (!field.known(i)) {
                values[i] = Double.NaN;
            }
        }
        return values;
    }
}
