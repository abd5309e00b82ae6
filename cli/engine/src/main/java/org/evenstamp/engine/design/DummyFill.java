package org.evenstamp.engine.design;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.Supplier;
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
import org.evenstamp.geometry.dummy.DummyRules;
import org.evenstamp.geometry.dummy.FreeSites;
import org.evenstamp.geometry.dummy.Placement;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.geometry.read.LayeredLayout;
import org.evenstamp.geometry.read.LayoutFile;
import org.evenstamp.geometry.read.ReadOptions;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;

/**
 * A layout that takes dummies, and posts in cavities: how much of them each tile can have, and the files and the job with some
 * amounts of them. Amounts are volume per area in m, below zero where ground is raised.
 */
final class DummyFill {
    private static final double SAME_DEPTH = 1e-6; // of a depth

    /**
     * What may be added.
     *
     * @param file where it is written alone
     * @param sites where it may stand
     * @param sign 1 for cavities, -1 for raised ground
     * @param depthMetres how far its ground is moved
     */
    private record Kind(String file, FreeSites sites, int sign, double depthMetres) {}

    private final Job job;
    private final DummyChoice choice;
    private final FileSink files;
    private final Progress progress;
    private final Results before;
    private final TileGrid grid;
    private final LayeredLayout layout;
    private final List<Kind> kinds = new ArrayList<>();
    /** The files that what is added is read from, by name. */
    private final Map<String, Path> read = new LinkedHashMap<>();

    /** Prepares; dummies or posts or both. */
    DummyFill(
            Job job,
            DummyChoice choice,
            FileSink files,
            Results before,
            Taken taken,
            RunOptions options,
            Progress progress) {
        this.job = job;
        this.choice = choice;
        this.files = files;
        this.progress = progress;
        this.before = before;
        grid = before.fields().grid();
        OpenLayout opened = OpenLayout.open(job.layout());
        layout = opened.source();
        PolygonSource drawn = opened.onStamp(before.map().dies());
        if (taken.dummies) {
            FreeSites sites = placer(choice.rules()).surveyForSome(drawn, options.threads(), progress);
            boolean recessed = choice.rules().sense() == MapOptions.Drawn.CAVITIES;
            double depth = Objects.requireNonNull(job.depthMetres()) * job.depthScale();
            kinds.add(new Kind(DummyDesign.DUMMIES, sites, recessed ? 1 : -1, depth));
        }
        if (taken.posts) {
            DummyChoice.Posts posts = Objects.requireNonNull(choice.posts());
            FreeSites sites =
                    placer(posts.rules()).survey(only(drawn, posts.depthMetres()), options.threads(), progress);
            if (sites.count() == 0) {
                throw new InputException(
                        "dummy.no-post",
                        "dummy.post-depth",
                        "no post finds a place in a cavity that says this depth of itself",
                        "smaller posts, or the depth as the layout has it");
            }
            kinds.add(new Kind(LeverDesign.POSTS, sites, -1, posts.depthMetres() * job.depthScale()));
        }
    }

    /** Which kinds take part. */
    enum Taken {
        DUMMIES(true, false),
        POSTS(false, true),
        BOTH(true, true);

        private final boolean dummies;
        private final boolean posts;

        Taken(boolean dummies, boolean posts) {
            this.dummies = dummies;
            this.posts = posts;
        }
    }

    private DummyPlacer placer(DummyRules rules) {
        return new DummyPlacer(rules, job.layout().drawn(), before.map().outline(), grid);
    }

    /** Returns a layout in which nothing may be touched but features that say a depth of themselves. */
    private static PolygonSource only(PolygonSource layout, double depth) {
        Traits closed = new Traits(null, Role.KEEPOUT, null, null);
        return new PolygonSource() {
            @Override
            public <S extends PolygonSink> List<S> forEach(
                    Supplier<S> sink, int threads, String stage, Progress progress) {
                List<S> made = Collections.synchronizedList(new ArrayList<>());
                layout.forEach(
                        () -> {
                            S own = sink.get();
                            made.add(own);
                            return (PolygonSink) polygon -> {
                                Traits traits = polygon.traits;
                                Double said = traits.depthMetres();
                                boolean open = said != null && Math.abs(said - depth) <= SAME_DEPTH * depth;
                                if (!open && traits.role() != Role.REGION) {
                                    polygon.traits = traits.repeat() == null
                                            ? closed
                                            : new Traits(null, Role.KEEPOUT, traits.repeat(), null);
                                }
                                own.accept(polygon);
                                polygon.traits = traits;
                            };
                        },
                        threads,
                        stage,
                        progress);
                return made;
            }
        };
    }

    /** What was written, and the job of the layout with it. */
    record Filled(List<Placement> placements, Job job) {
        long dummies() {
            return placements.stream().mapToLong(Placement::dummies).sum();
        }

        double askedSquareMetres() {
            return placements.stream()
                    .mapToDouble(one -> Arrays.stream(one.askedSquareMetres()).sum())
                    .sum();
        }

        double placedSquareMetres() {
            return placements.stream()
                    .mapToDouble(one -> Arrays.stream(one.placedSquareMetres()).sum())
                    .sum();
        }

        List<Finding.Warning> warnings() {
            return placements.stream().flatMap(one -> one.warnings().stream()).toList();
        }
    }

    /** Returns how far the ground is moved in a tile, in m: by what it has room for. */
    double[] depthMetres() {
        double[] depth = new double[grid.size()];
        Arrays.fill(depth, kinds.get(kinds.size() - 1).depthMetres);
        for (int n = kinds.size() - 1; n >= 0; n--) {
            double[] room = kinds.get(n).sites.capacitySquareMetres();
            for (int i = 0; i < depth.length; i++) {
                depth[i] = room[i] > 0 ? kinds.get(n).depthMetres : depth[i];
            }
        }
        return depth;
    }

    /** Returns the smallest amount that each tile may get. */
    double[] least() {
        return room(-1);
    }

    /** Returns the largest amount that each tile may get. */
    double[] most() {
        return room(1);
    }

    private double[] room(int sign) {
        double[] room = new double[grid.size()];
        for (Kind kind : kinds) {
            double[] sites = kind.sites.capacitySquareMetres();
            for (int i = 0; kind.sign == sign && i < room.length; i++) {
                room[i] +=
                        sign * Math.min(choice.mostShare(), sites[i] / grid.tileAreaSquareMetres()) * kind.depthMetres;
            }
        }
        return room;
    }

    /** Writes dummies and posts of these amounts. */
    Filled fill(double[] amounts) {
        List<double[]> asked = new ArrayList<>();
        for (Kind kind : kinds) {
            double[] areas = new double[amounts.length];
            for (int i = 0; i < areas.length; i++) {
                areas[i] = Math.max(0, kind.sign * amounts[i]) / kind.depthMetres * grid.tileAreaSquareMetres();
            }
            asked.add(areas);
        }
        return fillAreas(asked);
    }

    /** Writes again what was written before. */
    Filled again(Filled filled) {
        return fillAreas(
                filled.placements.stream().map(Placement::askedSquareMetres).toList());
    }

    private Filled fillAreas(List<double[]> asked) {
        List<LayerChoice> layers = new ArrayList<>(job.layout().layers());
        List<Placement> placements = new ArrayList<>();
        if (isMerged()) {
            Written written = write(asked.get(0));
            layers.set(0, layer(written.file, DummyDesign.MERGED, written.metresPerUnit));
            placements.add(written.placement);
        } else {
            for (int n = 0; n < kinds.size(); n++) {
                Kind kind = kinds.get(n);
                double[] areas = asked.get(n);
                files.add(kind.file, file -> {
                    placements.add(
                            new DummyFiles(file, file, job.dummyProperties()).writeAlone(kind.sites, areas, progress));
                    layers.add(layer(file, kind.file, null));
                    read.put(kind.file, file);
                });
            }
        }
        LayoutChoice merged = job.layout().with(layers, before.map().outline());
        return new Filled(placements, job.on(merged, grid.pitchMetres()));
    }

    /** Returns whether what is added goes into a copy of the layout: dummies into one of one file. */
    private boolean isMerged() {
        return job.layout().isSingle() && kinds.size() == 1 && kinds.get(0).file.equals(DummyDesign.DUMMIES);
    }

    /** Returns the amounts that were placed. */
    double[] amounts(Filled filled) {
        double[] amounts = new double[grid.size()];
        for (int n = 0; n < kinds.size(); n++) {
            Kind kind = kinds.get(n);
            double[] placed = filled.placements.get(n).placedSquareMetres();
            for (int i = 0; i < amounts.length; i++) {
                amounts[i] += kind.sign * kind.depthMetres * placed[i] / grid.tileAreaSquareMetres();
            }
        }
        return amounts;
    }

    /** Returns the record of a run with the files that dummies and posts are in among those that were read. */
    Results.Provenance provenance(boolean hashing) {
        if (!hashing) {
            return before.provenance();
        }
        Results.Provenance own = before.provenance();
        List<Results.InputFile> inputs = new ArrayList<>(own.inputs());
        read.forEach(
                (name, file) -> inputs.add(FileHash.start(file, name, progress).await()));
        return new Results.Provenance(own.toolVersion(), own.name(), own.job(), inputs, own.cautions());
    }

    private static LayerChoice layer(Path file, String name, @Nullable Double metresPerUnit) {
        return new LayerChoice(file, name, null, metresPerUnit, ReadOptions.Assigned.NOTHING, false);
    }

    private record Written(
            Path file, Placement placement, @Nullable Double metresPerUnit) {}

    private Written write(double[] asked) {
        List<Written> written = new ArrayList<>();
        files.add(DummyDesign.DUMMIES, file -> {
            Path merged = file.resolveSibling(DummyDesign.MERGED);
            DummyFiles both = new DummyFiles(file, merged, job.dummyProperties());
            LayoutFile own = layout.files().get(0);
            // What was copied as it stands need not say its unit; what was written anew does.
            Double unit = both.keepsAll(own) ? own.metresPerUnit() : null;
            written.add(new Written(merged, both.write(own, kinds.get(0).sites, asked, progress), unit));
            read.put(DummyDesign.MERGED, merged);
        });
        return written.get(0);
    }
}
