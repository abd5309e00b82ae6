package org.evenstamp.engine.sensitivity;

import org.evenstamp.engine.job.Job;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;

/** How deep cavities would be that came to a tile: as those that it has, or else as the job draws them. */
final class CavityDepths {
    private static final double SOME = 1e-9;

    private CavityDepths() {}

    static double[] of(Job job, FieldSet fields) {
        Field fraction = fields.get(TileFields.CAVITY_FRACTION);
        Field volume = fields.get(TileFields.CAVITY_VOLUME);
        Double drawn = job.depthMetres();
        double[] depth = new double[fields.grid().size()];
        double share = 0;
        double held = 0;
        for (int i = 0; i < depth.length; i++) {
            share += fraction.at(i);
            held += volume.at(i);
        }
        double standard = drawn != null ? drawn * job.depthScale() : share > 0 ? held / share : 0;
        for (int i = 0; i < depth.length; i++) {
            depth[i] = fraction.at(i) > SOME ? volume.at(i) / fraction.at(i) : standard;
        }
        return depth;
    }
}
