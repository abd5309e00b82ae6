package org.evenstamp.output.page;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.result.Results;

/** The job that a page tells of, as it was written. */
final class WrittenJob {
    private WrittenJob() {}

    /**
     * Returns the job with the text of its file. The text is left out when there is no file, and when the file has changed since
     * it was read: its hash in the results says so.
     */
    static PageContent.Written of(Job job, Results results) {
        return new PageContent.Written(text(job, results), job.depthMetres(), UsedParameters.of(job));
    }

    private static String text(Job job, Results results) {
        Job.NamedFile first = job.inputs().get(0);
        if (job.layout().layers().stream()
                .limit(1)
                .anyMatch(layer -> layer.file().equals(first.file()))) {
            return "";
        }
        try {
            byte[] bytes = Files.readAllBytes(first.file());
            String hash = HexFormat.of()
                    .formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
            boolean same =
                    results.inputs().stream().anyMatch(input -> input.sha256().equals(hash));
            return same ? new String(bytes, StandardCharsets.UTF_8) : "";
        } catch (IOException e) {
            return ""; // it was there when the job was read; the page has what was read
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException(e); // every Java has it
        }
    }
}
