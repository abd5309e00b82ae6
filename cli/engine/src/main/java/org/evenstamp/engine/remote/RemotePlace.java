package org.evenstamp.engine.remote;

import java.nio.file.Path;
import java.util.List;

/**
 * Where work is to be done.
 *
 * @param address the engine, such as {@code flink://host:8081}, or {@code flink://local} for one in this process
 * @param store a directory that this process and all workers see under the same name
 * @param threads how much is done at a time by an engine in this process; others know by themselves
 * @param plugins directories of plug-ins that the work needs
 */
public record RemotePlace(String address, Path store, int threads, List<Path> plugins) {
    /** Copies the list. */
    public RemotePlace {
        plugins = List.copyOf(plugins);
    }

    /** Returns what stands in front of {@code ://}, or an empty text. */
    String scheme() {
        int end = address.indexOf("://");
        return end < 0 ? "" : address.substring(0, end);
    }
}
