package org.evenstamp.cluster;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.UUID;
import org.evenstamp.engine.run.Simulation;

/** What all work on a worker does. */
final class Worker {
    private Worker() {}

    /** Throws when this worker is of another version or does not see the client's store. */
    static void check(String version, String folder, String token) {
        if (!version.equals(Simulation.version())) {
            throw new WorkerProblem(
                    "engine.version",
                    "",
                    "the client is of version " + version + ", a worker of " + Simulation.version(),
                    "take the jars of evenstamp out of the engine's own lib directory: every client sends its own");
        }
        String found;
        try {
            found = Files.readString(Path.of(folder, StoreFolder.MARK));
        } catch (IOException e) {
            found = "";
        }
        if (!found.equals(token)) {
            throw new WorkerProblem(
                    "engine.store-unseen",
                    folder,
                    "a worker does not see what the client writes here",
                    "name with --store a directory that all machines have under this name, such as one on a file server");
        }
    }

    /** Writes a file. */
    interface Writer {
        void write(Path partial) throws IOException;
    }

    /** Writes a file under another name and moves it into place, so that a file that is there is whole. */
    static void write(Path file, Writer writer) {
        Path partial = file.resolveSibling(file.getFileName() + "." + UUID.randomUUID() + ".partial");
        try {
            try {
                Files.createDirectories(file.toAbsolutePath().getParent());
                writer.write(partial);
                Files.move(partial, file, StandardCopyOption.REPLACE_EXISTING, StandardCopyOption.ATOMIC_MOVE);
            } finally {
                Files.deleteIfExists(partial);
            }
        } catch (IOException e) {
            throw unwritable(file, e);
        }
    }

    static WorkerProblem unwritable(Path file, IOException e) {
        return new WorkerProblem(
                "engine.store-unwritable",
                file.toString(),
                "a worker cannot write here: " + e.getMessage(),
                "make room or give it the right to write there, and run again; what is there is not computed again");
    }
}
