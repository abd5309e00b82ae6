package org.evenstamp.tool.watch;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.BasicFileAttributes;
import java.nio.file.attribute.FileTime;
import java.util.HashMap;
import java.util.Map;
import java.util.Set;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;

/**
 * Looks at size, time and identity of the files every tenth of a second. For the few files of a job that costs next to nothing,
 * and other than the notices of an operating system it works on network drives, through links, and for files whose directory
 * is not there yet. A change counts once two looks in a row see the same, so that a file is not read while it is written.
 */
public final class PolledFiles implements Changes {
    private static final long PERIOD_MILLIS = 100;

    private final Progress progress;
    private Map<Path, Stamp> seen = Map.of();

    /** What tells one state of a file from the next; {@link #ABSENT} when it is not there. */
    private record Stamp(
            long bytes,
            @Nullable FileTime modified,
            @Nullable Object identity) {
        static final Stamp ABSENT = new Stamp(-1, null, null);

        static Stamp of(Path file) {
            try {
                BasicFileAttributes now = Files.readAttributes(file, BasicFileAttributes.class);
                return new Stamp(now.size(), now.lastModifiedTime(), now.fileKey());
            } catch (IOException e) {
                return ABSENT;
            }
        }
    }

    /** Creates one that stops when the work is asked to stop. */
    public PolledFiles(Progress progress) {
        this.progress = progress;
    }

    @Override
    public void await(Set<Path> files) {
        Map<Path, Stamp> now = look(files);
        while (now.equals(seen)) {
            pause();
            now = look(files);
        }
        Map<Path, Stamp> before;
        do {
            before = now;
            pause();
            now = look(files);
        } while (!now.equals(before));
        seen = now;
    }

    private static Map<Path, Stamp> look(Set<Path> files) {
        Map<Path, Stamp> stamps = new HashMap<>();
        files.forEach(file -> stamps.put(file, Stamp.of(file)));
        return stamps;
    }

    private void pause() {
        progress.checkCancelled();
        try {
            Thread.sleep(PERIOD_MILLIS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new CancelledException();
        }
    }
}
