package org.evenstamp.cluster;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.net.HttpURLConnection;
import java.net.URI;
import java.net.URISyntaxException;
import java.time.Duration;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.apache.flink.api.common.JobExecutionResult;
import org.apache.flink.api.common.JobID;
import org.apache.flink.api.common.RuntimeExecutionMode;
import org.apache.flink.client.deployment.StandaloneClusterId;
import org.apache.flink.client.program.rest.RestClusterClient;
import org.apache.flink.configuration.BatchExecutionOptions;
import org.apache.flink.configuration.Configuration;
import org.apache.flink.configuration.ExecutionOptions;
import org.apache.flink.configuration.JobManagerOptions;
import org.apache.flink.configuration.RestOptions;
import org.apache.flink.configuration.RestartStrategyOptions;
import org.apache.flink.core.execution.JobClient;
import org.apache.flink.runtime.util.EnvironmentInformation;
import org.apache.flink.streaming.api.environment.StreamExecutionEnvironment;
import org.evenstamp.engine.remote.RemotePlace;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;

/** A cluster that answers: makes jobs for it, sends them and waits for their end. */
final class Cluster {
    private static final String LOCAL = "local";
    private static final int MILLIS = 10_000;
    private static final long LOOK_MILLIS = 150;
    private static final long CANCEL_SECONDS = 3;
    private static final int TASKS_A_SLOT = 2;
    private static final int RESTARTS = 50;
    private static final Duration BEFORE_RESTART = Duration.ofSeconds(1);
    private static final int DEEPEST = 30;

    private final String address;
    private final String host;
    private final int port;
    private final int slots;

    private Cluster(String address, String host, int port, int slots) {
        this.address = address;
        this.host = host;
        this.port = port;
        this.slots = slots;
    }

    /**
     * Asks the cluster who it is.
     *
     * @throws InputException when nobody answers, or somebody with whom this part cannot speak
     */
    static Cluster connect(RemotePlace place) {
        String address = place.address();
        URI uri;
        try {
            uri = new URI(address);
        } catch (URISyntaxException e) {
            throw wrong(address);
        }
        String host = uri.getHost();
        if (LOCAL.equals(host) && uri.getPort() < 0) {
            return new Cluster(address, "", 0, place.threads());
        }
        if (host == null || uri.getPort() < 1) {
            throw wrong(address);
        }
        JsonNode overview = overview(address, host, uri.getPort());
        String version = overview.path("flink-version").asText();
        if (!version.equals(EnvironmentInformation.getVersion())) {
            throw new InputException(
                    "engine.flink-version",
                    address,
                    "this is Flink " + version + ", and evenstamp speaks with Flink "
                            + EnvironmentInformation.getVersion(),
                    "start a cluster of that version");
        }
        int slots = overview.path("slots-total").asInt();
        if (slots < 1) {
            throw new InputException(
                    "engine.no-workers",
                    address,
                    "the cluster has no workers",
                    "start task managers that know its address; docs/cluster.md");
        }
        return new Cluster(address, host, uri.getPort(), slots);
    }

    private static InputException wrong(String address) {
        return new InputException(
                "engine.address",
                address,
                "this is no address of a cluster",
                "write flink://HOST:PORT with the port of its REST interface, mostly 8081, or flink://local");
    }

    private static JsonNode overview(String address, String host, int port) {
        try {
            HttpURLConnection connection =
                    (HttpURLConnection) new URI("http", null, host, port, "/overview", null, null)
                            .toURL()
                            .openConnection();
            connection.setConnectTimeout(MILLIS);
            connection.setReadTimeout(MILLIS);
            try (InputStream in = connection.getInputStream()) {
                JsonNode overview = new ObjectMapper().readTree(in);
                if (overview != null && overview.has("flink-version")) {
                    return overview;
                }
            }
            throw new InputException(
                    "engine.not-flink", address, "whoever answers there is no cluster of Flink", "check host and port");
        } catch (IOException | URISyntaxException e) {
            throw new InputException(
                    "engine.not-there",
                    address,
                    "no cluster answers there: " + e.getMessage(),
                    "start it, or check host and port of its REST interface");
        }
    }

    /** Returns how much is done at a time. */
    int slots() {
        return slots;
    }

    /** Returns how many tasks a step may have: more than are done at a time, so that workers that come late find something to do. */
    int tasks() {
        return local() ? slots : TASKS_A_SLOT * slots;
    }

    /** Returns whether it is in this process. */
    boolean local() {
        return host.isEmpty();
    }

    /**
     * Returns an environment for a job.
     *
     * @param parallelism how many tasks each step has
     */
    StreamExecutionEnvironment environment(int parallelism) {
        Configuration configuration = configuration();
        StreamExecutionEnvironment environment = local()
                ? StreamExecutionEnvironment.createLocalEnvironment(parallelism, configuration)
                : StreamExecutionEnvironment.createRemoteEnvironment(
                        host, port, configuration, JobJars.ofClassPath().toArray(String[]::new));
        environment.setParallelism(parallelism);
        environment.setRuntimeMode(RuntimeExecutionMode.BATCH);
        return environment;
    }

    private static Configuration configuration() {
        Configuration configuration = new Configuration();
        configuration.set(ExecutionOptions.RUNTIME_MODE, RuntimeExecutionMode.BATCH);
        configuration.set(BatchExecutionOptions.ADAPTIVE_AUTO_PARALLELISM_ENABLED, false);
        // A worker that dies takes its work along; whoever does that again finds in the store what had ended.
        configuration.set(RestartStrategyOptions.RESTART_STRATEGY, "fixed-delay");
        configuration.set(RestartStrategyOptions.RESTART_STRATEGY_FIXED_DELAY_ATTEMPTS, RESTARTS);
        configuration.set(RestartStrategyOptions.RESTART_STRATEGY_FIXED_DELAY_DELAY, BEFORE_RESTART);
        configuration.set(JobManagerOptions.SCHEDULER, JobManagerOptions.SchedulerType.AdaptiveBatch);
        return configuration;
    }

    /** Cancels a job that an earlier client has left behind, if it is still there. */
    void cancel(String job) {
        if (local()) {
            return; // it ended with its process
        }
        Configuration configuration = new Configuration();
        configuration.set(RestOptions.ADDRESS, host);
        configuration.set(RestOptions.PORT, port);
        configuration.set(RestOptions.RETRY_MAX_ATTEMPTS, 1);
        try (RestClusterClient<StandaloneClusterId> client =
                new RestClusterClient<>(configuration, StandaloneClusterId.getInstance())) {
            client.cancel(JobID.fromHexString(job)).get(CANCEL_SECONDS, TimeUnit.SECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new CancelledException();
        } catch (Exception e) { // it has ended, or was of another cluster: nothing is left to cancel
            return;
        }
    }

    /**
     * Sends a job and waits for its end.
     *
     * @param pulse called several times a second
     * @throws InputException when it fails for a reason that the user can mend
     */
    void run(
            StreamExecutionEnvironment environment, String name, StoreFolder store, Runnable pulse, Progress progress) {
        JobClient job = null;
        boolean ended = false;
        try {
            job = environment.executeAsync(name);
            store.sent(job.getJobID().toHexString());
            CompletableFuture<JobExecutionResult> end = job.getJobExecutionResult();
            while (!ended) {
                progress.checkCancelled();
                pulse.run();
                ended = isOver(end);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new CancelledException();
        } catch (ExecutionException e) {
            ended = true;
            throw failure(e.getCause() == null ? e : e.getCause());
        } catch (RuntimeException e) {
            throw e;
        } catch (Exception e) { // what sending declares
            throw failure(e);
        } finally {
            if (!ended && job != null) {
                stop(job);
            }
        }
    }

    private static boolean isOver(CompletableFuture<JobExecutionResult> end)
            throws InterruptedException, ExecutionException {
        try {
            end.get(LOOK_MILLIS, TimeUnit.MILLISECONDS);
            return true;
        } catch (TimeoutException e) {
            return false;
        }
    }

    private static void stop(JobClient job) {
        try {
            job.cancel().get(CANCEL_SECONDS, TimeUnit.SECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } catch (ExecutionException | TimeoutException e) {
            return; // the cluster does not answer; the next client of this store tries again
        }
    }

    private RuntimeException failure(Throwable failure) {
        RuntimeException known = WorkerProblem.in(failure).orElse(null);
        if (known != null) {
            return known;
        }
        String defect = WorkerDefect.in(failure);
        if (!defect.isEmpty()) {
            return new IllegalStateException("a worker failed: " + defect, failure);
        }
        return new InputException(
                "engine.failed",
                address,
                "the cluster gave the job up: " + root(failure),
                "look into its log and run again; what has ended is kept in the store");
    }

    private static @Nullable String root(Throwable failure) {
        Throwable root = failure;
        for (int depth = 0; root.getCause() != null && depth < DEEPEST; depth++) {
            root = root.getCause();
        }
        String text = String.valueOf(root.getMessage());
        int end = text.indexOf('\n');
        return end < 0 ? text : text.substring(0, end);
    }
}
