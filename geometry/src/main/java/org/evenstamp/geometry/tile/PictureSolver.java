package org.evenstamp.geometry.tile;

import java.util.ArrayList;
import java.util.List;
import org.evenstamp.geometry.coverage.LayerRules;
import org.evenstamp.geometry.measure.PictureMeasures;
import org.evenstamp.shared.grid.TileGrid;

/** Solves the land of tiles on pictures: coarse features on one of the whole tile, fine ones on four samples. One a thread. */
final class PictureSolver {
    /** Cells along a sampling picture that count; the others are surrounding. */
    private static final int SAMPLE_CORE = 32;

    private final TileSums sums;
    private final TileGrid grid;
    private final PictureChoice pictures;
    private final PictureStudio studio;
    private final PictureStudio finer;
    private final PictureStudio sampler;
    private final List<PictureMeasures> samples = new ArrayList<>();
    private int whole;
    private int sampled;

    PictureSolver(
            Band band, LayerRules rules, boolean repeats, TileSums sums, PictureChoice pictures, PictureMemory memory) {
        this.sums = sums;
        this.grid = sums.grid;
        this.pictures = pictures;
        studio = new PictureStudio(band, grid, rules, repeats, Fineness.CELLS, memory);
        finer = new PictureStudio(band, grid, rules, repeats, Fineness.MORE_CELLS, memory);
        sampler = new PictureStudio(band, grid, rules, repeats, Fineness.SAMPLE_CELLS, memory);
    }

    /** Returns how many tiles were solved on one picture. */
    int wholePictures() {
        return whole;
    }

    /** Returns how many tiles were solved on samples. */
    int sampledTiles() {
        return sampled;
    }

    /** Returns how many pictures did not converge. */
    int unconverged() {
        return studio.unconverged() + finer.unconverged() + sampler.unconverged();
    }

    /** Solves a tile on one picture of it and its surrounding. */
    void whole(int tile, LandPart part) {
        Fineness look = pictures.look(tile);
        PictureStudio its = look.cells == Fineness.CELLS ? studio : finer;
        double cell = grid.pitchMetres() / look.perTile;
        its.draw(tile, grid.centreXMetres(grid.column(tile)), grid.centreYMetres(grid.row(tile)), cell);
        its.open();
        PictureMeasures measures = its.measure(look.perTile);
        whole++;
        if (measures.torsion() == 0) {
            // Land thinner than a cell, or the only cavity is out of the picture's sight.
            if (part.hasEdges()) {
                part.grating();
            } else {
                part.far(0, 0);
            }
            return;
        }
        part.moment = measures.torsion() / measures.cells() * cell * cell;
        part.pathMean = measures.pathSum() / measures.landCells() * cell;
        part.longest(measures, cell);
    }

    /** Solves a tile on four samples of its fine features, and one picture of what land has none. */
    void sampled(int tile, LandPart part) {
        sampled++;
        double centreX = grid.centreXMetres(grid.column(tile));
        double centreY = grid.centreYMetres(grid.row(tile));
        int perTile = Fineness.COARSE.perTile;
        double coarse = grid.pitchMetres() / perTile;
        studio.draw(tile, centreX, centreY, coarse);
        double pureShare = 0;
        double pureMoment = 0;
        double purePath = 0;
        if (studio.keepPureLand((int) Math.ceil(2 / pictures.edgeDensity[tile] / coarse))) {
            PictureMeasures pure = studio.measure(perTile);
            if (pure.landCells() > 0) {
                pureShare = Math.min(sums.drawnLand[tile], pure.landCells() / (perTile * perTile));
                pureMoment = pure.torsion() * coarse * coarse / (perTile * perTile);
                purePath = pure.pathSum() / pure.landCells() * coarse;
                part.pathMax = pure.pathMax() * coarse;
            }
        }

        double cell = pictures.sampleCell(tile);
        // About the middles of the quarters, but at no simple fraction of the tile: a pattern with a whole number of
        // pitches a tile would show all four the same stretch of itself.
        double quarter = 0.236 * grid.pitchMetres();
        samples.clear();
        for (int n = 0; n < 4; n++) {
            double x = centreX + ((n & 1) == 0 ? -quarter : quarter);
            double y = centreY + (n < 2 ? -quarter : quarter);
            sampler.draw(tile, x, y, cell);
            PictureMeasures sample = sampler.sample(SAMPLE_CORE);
            if (sample.torsion() > 0) {
                samples.add(sample);
            }
        }
        double landCells = 0;
        double torsion = 0;
        double path = 0;
        for (PictureMeasures sample : samples) {
            landCells += sample.landCells();
            torsion += sample.torsion();
            path += sample.pathSum();
        }
        if (landCells == 0) {
            part.grating();
            return;
        }
        double fine = sums.drawnLand[tile] - pureShare;
        part.fineMoment = fine * torsion / landCells * cell * cell;
        part.moment = pureMoment + part.fineMoment;
        double finePath = path / landCells * cell;
        part.pathMean = (fine * finePath + pureShare * purePath) / sums.drawnLand[tile];
        samples.forEach(sample -> part.longest(sample, cell));
    }
}
