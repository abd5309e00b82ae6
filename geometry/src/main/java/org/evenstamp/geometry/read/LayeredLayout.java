package org.evenstamp.geometry.read;

import java.util.List;
import java.util.function.Supplier;
import org.evenstamp.geometry.clean.Defect;
import org.evenstamp.geometry.layout.Joined;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.progress.Progress;

/**
 * Several files as one layout, {@link Joined}. Unlike a single file it refuses features whose role is no word for one.
 */
public final class LayeredLayout implements PolygonSource {
    private final List<LayoutFile> files;

    /** Puts files together, at least one. */
    public LayeredLayout(List<LayoutFile> files) {
        if (files.isEmpty()) {
            throw new IllegalArgumentException("a layout needs a file");
        }
        this.files = List.copyOf(files);
    }

    /** Returns the files in their order. */
    public List<LayoutFile> files() {
        return files;
    }

    @Override
    public <S extends PolygonSink> List<S> forEach(Supplier<S> sink, int threads, String stage, Progress progress) {
        List<S> sinks = new Joined(List.copyOf(files)).forEach(sink, threads, stage, progress);
        refuseUnknownRoles();
        return sinks;
    }

    /** What a feature is that has no known role nobody can know, and the stamp without it is another stamp. */
    private void refuseUnknownRoles() {
        Problems problems = new Problems();
        for (LayoutFile file : files) {
            for (ReadReport.Tally tally : file.report().skipped()) {
                if (tally.code().equals(Defect.ROLE.code())) {
                    for (String place : tally.places()) {
                        int why = place.indexOf(" (");
                        problems.add(
                                tally.code(),
                                place.substring(0, why),
                                "the feature that begins here: " + place.substring(why + 2, place.length() - 1),
                                "write one of these words, or leave the role out");
                    }
                    long more = tally.count() - tally.places().size();
                    if (more > 0) {
                        problems.add(
                                tally.code(),
                                file.place(),
                                more + " more features have a role that there is none of",
                                "");
                    }
                }
            }
        }
        problems.throwIfAny();
    }
}
