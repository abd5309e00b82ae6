package org.evenstamp.engine.design;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.evenstamp.engine.job.DummyChoice;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.LayerChoice;
import org.evenstamp.engine.job.LayoutChoice;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.FileHash;
import org.evenstamp.engine.run.OpenLayout;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.geometry.dummy.DummyFiles;
import org.evenstamp.geometry.dummy.DummyPlacer;
import org.evenstamp.geometry.dummy.FreeSites;
import org.evenstamp.geometry.dummy.Placement;
import org.evenstamp.geometry.read.LayeredLayout;
import org.evenstamp.geometry.read.LayoutFile;
import org.evenstamp.geometry.read.ReadOptions;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;

/** A layout that takes dummies: how much of them each tile can have, and the files and the job with some amounts of them. */
final class DummyFill {
    private final Job job;
    private final DummyChoice choice;
    private final FileSink files;
    private final Progress progress;
    private final Results before;
    private final TileGrid grid;
    private final LayeredLayout layout;
    private final FreeSites sites;
    private @Nullable Path read;

    DummyFill(Job job, DummyChoice choice, FileSink files, Results before, RunOptions options, Progress progress) {
        this.job = job;
        this.choice = choice;
        this.files = files;
        this.progress = progress;
        this.before = before;
        grid = before.fields().grid();
        OpenLayout opened = OpenLayout.open(job.layout());
        layout = opened.source();
        DummyPlacer placer = new DummyPlacer(
                choice.rules(), job.layout().drawn(), before.map().outline(), grid);
        sites = placer.surveyForSome(opened.onStamp(before.map().dies()), options.threads(), progress);
    }

    /** Dummies as they were written, and the job of the layout with them. */
    record Filled(Placement placement, Job job) {}

    private boolean recessed() {
        return choice.rules().sense() == MapOptions.Drawn.CAVITIES;
    }

    /** Returns the depth of a dummy, in m. */
    double depthMetres() {
        return Objects.requireNonNull(job.depthMetres()) * job.depthScale();
    }

    /** Returns the smallest volume per area that each tile may get, in m. */
    double[] least() {
        return recessed() ? new double[grid.size()] : room(-1);
    }

    /** Returns the largest volume per area that each tile may get, in m. */
    double[] most() {
        return recessed() ? room(1) : new double[grid.size()];
    }

    private double[] room(int sign) {
        double[] room = sites.capacitySquareMetres();
        for (int i = 0; i < room.length; i++) {
            room[i] = sign * Math.min(choice.mostShare(), room[i] / grid.tileAreaSquareMetres()) * depthMetres();
        }
        return room;
    }

    /** Writes dummies of these amounts, in m of volume per area. */
    Filled fill(double[] amounts) {
        double[] asked = new double[amounts.length];
        for (int i = 0; i < asked.length; i++) {
            asked[i] = Math.abs(amounts[i]) / depthMetres() * grid.tileAreaSquareMetres();
        }
        return fillAreas(asked);
    }

    /** Writes dummies of these areas, in square metres a tile. */
    Filled fillAreas(double[] asked) {
        Written written = write(asked);
        List<LayerChoice> layers = new ArrayList<>();
        if (job.layout().isSingle()) {
            layers.add(layer(written.merged(), DummyDesign.MERGED, written.metresPerUnit()));
        } else {
            layers.addAll(job.layout().layers());
            layers.add(layer(written.dummies(), DummyDesign.DUMMIES, null));
        }
        LayoutChoice merged = job.layout().with(layers, before.map().outline());
        return new Filled(written.placement(), job.on(merged, grid.pitchMetres()));
    }

    /** Returns the volume per area that a placement added to each tile, in m. */
    double[] amounts(Placement placement) {
        double[] amounts = placement.placedSquareMetres();
        double each = (recessed() ? 1 : -1) * depthMetres() / grid.tileAreaSquareMetres();
        for (int i = 0; i < amounts.length; i++) {
            amounts[i] *= each;
        }
        return amounts;
    }

    /** Returns the record of a run with the file that the dummies are in among those that were read. */
    Results.Provenance provenance(boolean hashing) {
        if (!hashing) {
            return before.provenance();
        }
        String name = job.layout().isSingle() ? DummyDesign.MERGED : DummyDesign.DUMMIES;
        Results.Provenance own = before.provenance();
        List<Results.InputFile> inputs = new ArrayList<>(own.inputs());
        inputs.add(FileHash.start(Objects.requireNonNull(read), name, progress).await());
        return new Results.Provenance(own.toolVersion(), own.name(), own.job(), inputs, own.cautions());
    }

    private static LayerChoice layer(Path file, String name, @Nullable Double metresPerUnit) {
        return new LayerChoice(file, name, null, metresPerUnit, ReadOptions.Assigned.NOTHING, false);
    }

    private record Written(
            Path dummies,
            Path merged,
            Placement placement,
            @Nullable Double metresPerUnit) {}

    /** Writes the dummies; a layout of several files needs no other, as the dummies are one more of them. */
    private Written write(double[] asked) {
        List<Written> written = new ArrayList<>();
        files.add(DummyDesign.DUMMIES, file -> {
            Path merged = file.resolveSibling(DummyDesign.MERGED);
            DummyFiles both = new DummyFiles(file, merged, job.dummyProperties());
            if (!job.layout().isSingle()) {
                written.add(new Written(file, merged, both.writeAlone(sites, asked, progress), null));
                read = file;
                return;
            }
            LayoutFile own = layout.files().get(0);
            // What was copied as it stands need not say its unit; what was written anew does.
            Double unit = both.keepsAll(own) ? own.metresPerUnit() : null;
            written.add(new Written(file, merged, both.write(own, sites, asked, progress), unit));
            read = merged;
        });
        return written.get(0);
    }
}
