package org.evenstamp.samples.campaign;

import java.util.EnumMap;
import java.util.Map;
import java.util.TreeMap;
import org.evenstamp.samples.campaign.Trial.End;
import org.evenstamp.samples.campaign.Trial.Verdict;

/** Counts how inputs of one kind ended; what was found alike is counted together. Safe for several threads. */
final class Tally {
    private static final int SHORT = 300;

    private final Map<End, Long> ends = new EnumMap<>(End.class);
    private final Map<String, Found> findings = new TreeMap<>();
    private double slowestSeconds;

    /**
     * Something that was found.
     *
     * @param count how often
     * @param first number of the first input of the kind
     * @param what what it was there
     */
    record Found(long count, long first, String what) {
        Found plus(Found other) {
            Found earlier = first <= other.first ? this : other;
            return new Found(count + other.count, earlier.first, earlier.what);
        }
    }

    synchronized void add(long number, Verdict verdict, double seconds) {
        ends.merge(verdict.end(), 1L, Long::sum);
        slowestSeconds = Math.max(slowestSeconds, seconds);
        if (verdict.end() == End.FOUND) {
            String alike = verdict.what().replaceAll("[0-9]+", "0").replaceAll("\"[^\"]*\"", "\"\"");
            findings.merge(
                    alike.substring(0, Math.min(alike.length(), 90)),
                    new Found(1, number, verdict.what()),
                    Found::plus);
        }
    }

    /** Adds what another tally counted; the numbers of its inputs stay as they are. */
    synchronized void add(Tally other) {
        synchronized (other) {
            other.ends.forEach((end, count) -> ends.merge(end, count, Long::sum));
            slowestSeconds = Math.max(slowestSeconds, other.slowestSeconds);
            other.findings.forEach((alike, found) -> findings.merge(alike, found, Found::plus));
        }
    }

    synchronized boolean isClean() {
        return findings.isEmpty();
    }

    synchronized String text(String kind) {
        StringBuilder text = new StringBuilder(kind).append(':');
        ends.forEach((end, count) -> text.append(' ')
                .append(count)
                .append(' ')
                .append(end.name().toLowerCase(java.util.Locale.ROOT).replace('_', ' '))
                .append(';'));
        text.append(String.format(java.util.Locale.ROOT, " slowest %.2f s%n", slowestSeconds));
        findings.values()
                .forEach(found -> text.append("  ")
                        .append(found.count)
                        .append(" times, first at ")
                        .append(found.first)
                        .append(": ")
                        .append(found.what, 0, Math.min(found.what.length(), SHORT))
                        .append('\n'));
        return text.toString();
    }
}
