package org.evenstamp.cluster;

import java.io.Serializable;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.engine.sweep.SweepAxis;
import org.evenstamp.engine.sweep.SweepPlan;
import org.evenstamp.shared.problem.InputException;

/**
 * The files of a job as they stand in the store, each where it stands from the job file, and how to make the job of them.
 *
 * @param folder the folder in the store
 * @param token mark of the client that put them there
 * @param version version of the client
 * @param job the job file in the store
 * @param plugins directories of plug-ins in the store
 * @param names names of the job's inputs as its user knows them, in their order
 */
record SharedInputs(String folder, String token, String version, String job, List<String> plugins, List<String> names)
        implements Serializable {

    /** Copies the files of a sweep into the store. */
    static SharedInputs copy(StoreFolder store, SweepPlan plan, List<Path> plugins) {
        Job job = plan.job();
        Path jobFile = job.inputs().get(0).file();
        Set<Path> files = new LinkedHashSet<>();
        List<String> names = new ArrayList<>();
        for (Job.NamedFile input : job.inputs()) {
            refuseAbsolute(input);
            files.add(normal(input.file()));
            names.add(input.file().toString());
        }
        for (SweepAxis axis : plan.axes()) {
            if (axis instanceof SweepAxis.Levels levels) {
                levels.levels().forEach(level -> addNamed(jobFile, level, files));
            }
        }
        Path root = commonRoot(files);
        Path inputs = store.directory().resolve("inputs");
        files.forEach(file -> store.copy(file, inputs.resolve(root.relativize(file))));
        List<String> shared = new ArrayList<>();
        for (int i = 0; i < plugins.size(); i++) {
            Path directory = store.directory().resolve("plugins").resolve(String.valueOf(i));
            copyJars(plugins.get(i), directory, store);
            shared.add(directory.toString());
        }
        return new SharedInputs(
                store.directory().toString(),
                store.token(),
                Simulation.version(),
                inputs.resolve(root.relativize(normal(jobFile))).toString(),
                shared,
                names);
    }

    private static void refuseAbsolute(Job.NamedFile input) {
        if (Path.of(input.asWritten()).isAbsolute()) {
            throw new InputException(
                    "engine.absolute-path",
                    input.asWritten(),
                    "workers find a file by where it stands from the job file, and this one has an absolute path",
                    "name it from the job file, such as ../layouts/"
                            + input.file().getFileName());
        }
    }

    private static Path normal(Path file) {
        return file.toAbsolutePath().normalize();
    }

    /** A value of an axis may be the name of a file, such as that of a film. */
    private static void addNamed(Path jobFile, String level, Set<Path> files) {
        try {
            Path named = jobFile.resolveSibling(level);
            if (Files.isRegularFile(named)) {
                files.add(normal(named));
            }
        } catch (InvalidPathException e) {
            return; // any other value
        }
    }

    private static Path commonRoot(Set<Path> files) {
        List<Path> all = List.copyOf(files);
        Path root = folderOf(all.get(0));
        for (Path file : all) {
            while (!file.startsWith(root)) {
                root = folderOf(root);
            }
        }
        return root;
    }

    private static Path folderOf(Path file) {
        Path parent = file.getParent();
        if (parent == null) {
            throw new InputException(
                    "engine.two-disks", file.toString(), "the files of the job stand on two disks", "put them on one");
        }
        return parent;
    }

    private static void copyJars(Path from, Path to, StoreFolder store) {
        for (Path jar : StoreFolder.jars(from)) {
            store.copy(jar, to.resolve(jar.getFileName().toString()));
        }
    }

    /** Reads the job, on a worker. */
    Job read() {
        List<Path> directories = plugins.stream().map(Path::of).toList();
        return Job.read(Path.of(job), new Pipeline(AnalysisFinder.find(directories)));
    }

    /** Returns a text of a worker with the files named as the user knows them. */
    String asTheUserNamesThem(String text, Job shared) {
        String told = text;
        for (int i = 0; i < names.size(); i++) {
            told = told.replace(shared.inputs().get(i).file().toString(), names.get(i));
        }
        return told;
    }

    void check() {
        Worker.check(version, folder, token);
    }
}
