package org.evenstamp.tool.console;

import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import java.util.function.LongSupplier;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.jspecify.annotations.Nullable;

/**
 * Shows on one line, a few times a second, how far the work is: the youngest open stage with its share, rate and time left.
 */
public final class ProgressLine implements AutoCloseable {
    private static final long PERIOD_MILLIS = 200;
    /** How many columns a terminal has that does not say it. */
    private static final int USUAL_COLUMNS = 80;

    private static final int LEAST_COLUMNS = 10;
    private static final double LEAST_SECONDS = 0.5;

    private final Progress progress;
    private final PrintWriter err;
    private final LongSupplier nanoClock;
    private final int width;
    private final @Nullable Thread thread;
    private @Nullable Stage watched;
    private long since;
    private long doneThen; // when the stage came to be shown: what it did before says nothing of its rate now

    /**
     * Begins to watch.
     *
     * @param live whether to show anything
     */
    public ProgressLine(Progress progress, PrintWriter err, boolean live) {
        this(progress, err, System::nanoTime, Integer.getInteger("evenstamp.terminal.columns", USUAL_COLUMNS), live);
    }

    /** A line for a terminal with so many columns, the last of which stays free: some wrap when it is written. */
    ProgressLine(Progress progress, PrintWriter err, LongSupplier nanoClock, int columns, boolean live) {
        this.width = Math.max(LEAST_COLUMNS, columns) - 1;
        this.progress = progress;
        this.err = err;
        this.nanoClock = nanoClock;
        if (live) {
            Thread watcher = new Thread(this::watch, "progress");
            watcher.setDaemon(true);
            thread = watcher;
            watcher.start();
        } else {
            thread = null;
        }
    }

    private void watch() {
        try {
            while (true) {
                Thread.sleep(PERIOD_MILLIS);
                show(line());
            }
        } catch (InterruptedException e) {
            show("");
        }
    }

    private void show(String line) {
        err.print("\r" + line + " ".repeat(width - line.length()) + (line.isEmpty() ? "\r" : ""));
        err.flush();
    }

    /** Returns what to show now, no longer than the terminal is wide; empty when no stage is open. */
    String line() {
        List<Stage> stages = progress.stages();
        Stage current = null;
        for (Stage stage : stages) {
            if (!stage.closed()) {
                current = stage;
            }
        }
        if (current == null) {
            return "";
        }
        if (current != watched) {
            watched = current;
            since = nanoClock.getAsLong();
            doneThen = current.done();
        }
        double seconds = (nanoClock.getAsLong() - since) * 1e-9;
        String text = text(current, (current.done() - doneThen) / seconds, seconds);
        return cut(text, width);
    }

    /** Cuts between words, and says so by an ellipsis. */
    private static String cut(String text, int width) {
        if (text.length() <= width) {
            return text;
        }
        int end = text.lastIndexOf(' ', width - 1);
        return text.substring(0, end > 0 ? end : width - 1).stripTrailing() + "…";
    }

    private static String text(Stage stage, double rate, double seconds) {
        long done = stage.done();
        long total = stage.total();
        String unit = stage.unit();
        StringBuilder text = new StringBuilder(stage.name());
        if (total > 0) {
            text.append(String.format(Locale.ROOT, "  %d %%", Math.min(100, 100 * done / total)));
        } else {
            text.append("  ").append(amount(done, unit));
        }
        if (seconds >= LEAST_SECONDS && rate > 0) {
            text.append("  ").append(amount(Math.round(rate), unit)).append("/s");
            if (total > done) {
                text.append("  ").append(time((total - done) / rate)).append(" left");
            }
        }
        return text.toString();
    }

    static String amount(long number, String unit) {
        if (unit.equals("bytes")) {
            return String.format(Locale.ROOT, "%.1f MB", number * 1e-6);
        }
        return number + " " + unit;
    }

    private static String time(double seconds) {
        long whole = (long) Math.ceil(seconds);
        return whole < 100 ? whole + " s" : whole < 6000 ? (whole + 30) / 60 + " min" : (whole + 1800) / 3600 + " h";
    }

    /** Stops watching and clears the line. */
    @Override
    public void close() {
        if (thread != null) {
            thread.interrupt();
            try {
                thread.join(1000);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        }
    }
}
