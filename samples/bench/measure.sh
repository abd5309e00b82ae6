#!/bin/sh
# Builds the program and runs the benchmarks of samples, which print figures as JSON. Arguments go to the benchmarks:
#   samples/bench/measure.sh                                  everything, 1 million polygons, 5 runs each
#   samples/bench/measure.sh --polygons 20000 --runs 3 read   less
# Close other programs first: wall seconds are only worth something on a quiet machine.
set -eu
cd "$(dirname "$0")/../.."
mvn -B -q -Dfast -pl samples -am test-compile dependency:build-classpath \
    -Dmdep.includeScope=runtime -Dmdep.outputFile=target/runtime.classpath >&2
cli/evenstamp --version >/dev/null # builds the launcher's part, so that no benchmark has to
exec java -Xmx4g -cp "samples/target/classes:$(cat samples/target/runtime.classpath)" \
    org.evenstamp.samples.bench.BenchmarkMain "$@"
