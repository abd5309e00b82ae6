package org.evenstamp.geometry.measure;

import org.evenstamp.geometry.coverage.CoverageSums;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.Texture;

/**
 * What a regular texture does to the film, per area of its region. Lines and pillars by closed forms (strip: 12 times the
 * mean torsion function is the width squared; disc: 1.5 R squared; any table of Saint-Venant torsion constants); the land
 * between holes by solving one cell of the lattice, which is its own mirror image, to better than 1 %.
 *
 * @param cavityFraction cavity area over area
 * @param edgePerArea edge length over area, 1/m
 * @param squeezeMoment T, m^2
 * @param pathMean mean distance of the land to the nearest cavity, m
 * @param pathMax largest distance, m
 * @param protrusionMin narrowest protrusion, m
 * @param cavityMin narrowest cavity, m
 */
public record TextureMeasures(
        double cavityFraction,
        double edgePerArea,
        double squeezeMoment,
        double pathMean,
        double pathMax,
        double protrusionMin,
        double cavityMin) {
    private static final int CELLS = 97; // sqrt(3) * 97 is 168.01: the hexagonal cell fits whole cells, too
    private static final int CIRCLE_VERTICES = 256;

    /** Measures a texture. */
    public static TextureMeasures of(Texture texture) {
        double p = texture.pitchMetres();
        double w = texture.widthMetres();
        double siteArea = texture.lattice() == Texture.Lattice.HEXAGONAL ? p * p * Math.sqrt(3) / 2 : p * p;
        return switch (texture.kind()) {
            case LINES -> {
                double land = p - w;
                yield new TextureMeasures(w / p, 2 / p, land * land * land / p, land / 4, land / 2, land, w);
            }
            case PILLARS -> {
                double land = Math.PI * w * w / 4 / siteArea;
                yield new TextureMeasures(
                        1 - land, Math.PI * w / siteArea, 1.5 * w * w / 4 * land, w / 6, w / 2, w, p - w);
            }
            case HOLES -> holes(texture, siteArea);
        };
    }

    private static TextureMeasures holes(Texture texture, double siteArea) {
        double p = texture.pitchMetres();
        double w = texture.widthMetres();
        boolean hexagonal = texture.lattice() == Texture.Lattice.HEXAGONAL;
        int rows = hexagonal ? (int) Math.round(CELLS * Math.sqrt(3)) : CELLS;
        double cell = p / CELLS;
        CoverageSums sums = new CoverageSums(CELLS, rows, 0, 0, cell);
        PackedPolygon hole = circle(w / 2);
        sums.add(hole, p / 2, rows * cell / 2);
        if (hexagonal) {
            for (int corner = 0; corner < 4; corner++) {
                sums.add(hole, (corner & 1) * p, (corner >> 1) * rows * cell);
            }
        }
        double[] land = sums.coverage();
        for (int i = 0; i < land.length; i++) {
            land[i] = Math.max(0, 1 - land[i]);
        }
        PictureMeasures picture = new PictureMeasurer(CELLS, rows, true).measure(land, 0, 0);
        double fraction = Math.PI * w * w / 4 / siteArea;
        return new TextureMeasures(
                fraction,
                Math.PI * w / siteArea,
                picture.torsion() / picture.cells() * cell * cell,
                picture.pathSum() / picture.landCells() * cell,
                (hexagonal ? p / Math.sqrt(3) : p / Math.sqrt(2)) - w / 2,
                p - w,
                w);
    }

    private static PackedPolygon circle(double radius) {
        PackedPolygon polygon = new PackedPolygon();
        polygon.ensureVertices(CIRCLE_VERTICES);
        // The radius that gives the polygon the circle's area.
        double r = radius * Math.sqrt(2 * Math.PI / (CIRCLE_VERTICES * Math.sin(2 * Math.PI / CIRCLE_VERTICES)));
        for (int i = 0; i < CIRCLE_VERTICES; i++) {
            double angle = 2 * Math.PI * (i + 0.5) / CIRCLE_VERTICES;
            polygon.xy[2 * i] = r * Math.cos(angle);
            polygon.xy[2 * i + 1] = r * Math.sin(angle);
        }
        polygon.endRing(CIRCLE_VERTICES);
        return polygon;
    }
}
