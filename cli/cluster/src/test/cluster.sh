#!/usr/bin/env bash
# Runs the tool on a real cluster of three processes on this machine, and kills what may be killed: a client, and a worker in the
# middle of each piece of work. What comes out must be what the tool writes without a cluster, byte for byte.
set -euo pipefail
cd "$(dirname "$0")/../../../.."

work=$(mktemp -d)
declare -A processes=()
finish() {
    local process
    for process in "${processes[@]}"; do
        kill "$process" 2>/dev/null || true
    done
    for process in "${processes[@]}"; do
        wait "$process" 2>/dev/null || true
    done
    rm -rf -- "$work"
}
trap finish EXIT
fail() {
    echo "cluster: $1" >&2
    for log in "$work"/*.log; do
        echo "== ${log##*/}" >&2
        tail -n 15 -- "$log" >&2
    done
    exit 1
}
free_port() {
    local port
    while :; do
        port=$((20000 + RANDOM % 12000))
        (: <"/dev/tcp/127.0.0.1/$port") 2>/dev/null || break
    done
    echo "$port"
}
port=$(free_port)
FLINK_RPC_PORT=$(free_port)
export FLINK_RPC_PORT
address=flink://127.0.0.1:$port
overview() { (exec 3<>"/dev/tcp/127.0.0.1/$port" && printf 'GET /overview HTTP/1.0\r\n\r\n' >&3 && cat <&3) 2>/dev/null || true; }
# Waits until a command succeeds.
await() { # seconds, what, command
    local end=$((SECONDS + $1)) what=$2
    shift 2
    until "$@"; do
        ((SECONDS < end)) || fail "$what did not come"
        sleep 0.2
    done
}
workers_are() { [[ $(overview) == *"\"slots-total\":$1,"* ]]; }
start() { # name, arguments
    local name=$1
    shift
    cli/cluster/standalone "$@" >"$work/$name.log" 2>&1 &
    processes[$name]=$!
}
worker() { start "$1" worker 127.0.0.1 "$port" 1 384; }
java_of() { cat "/proc/$1/task/$1/children"; }
kill_worker() { # name
    local process=${processes[$1]} java
    java=$(java_of "$process")
    kill -9 ${java:?}
    wait "$process" 2>/dev/null || true
    unset "processes[$1]"
}
ended() { ! kill -0 "$1" 2>/dev/null; }
same() { # files below two directories
    local file
    for file in "${@:3}"; do
        cmp -- "$1/$file" "$2/$file" || fail "$file differs"
    done
}

# Both layouts are invented: polygons of all shapes, scattered at random.
generate() { # polygons, side, file
    java -cp "samples/target/classes:cli/tool/target/lib/*" org.evenstamp.samples.generate.GenerateMain \
        random --polygons "$1" --vertices 8 --seed 1 --width "$2" --height "$2" "$3" >/dev/null
}
start coordinator coordinator 127.0.0.1 "$port"
mkdir -- "$work/job"
generate 2000 "2.4 mm" "$work/job/layout.wkt"
generate 200000 "12 mm" "$work/large.wkt"
cat >"$work/job/job.yaml" <<'YAML'
layout: {file: layout.wkt, unit: um, drawn: cavities, outline: {min: ["0 um", "0 um"], max: ["2400 um", "2400 um"]}}
tiles: {side: "75 um"}
stamp: {depth: "150 nm"}
film: {thickness: "180 nm", viscosity: "1e4 Pa s"}
process: {pressure: "5 MPa", hold: "60 s"}
limits:
  residual.local: {each: ">= 20 nm"}
sweep:
  samples: 64
  chance: "50 %"
  keep: [fill.share, residual.final]
  vary:
    - {key: film.viscosity, median: "1e4 Pa s", factor: 3}
    - {key: film.thickness, mean: "180 nm", deviation: "3 nm"}
YAML
await 60 "the coordinator" workers_are 0
worker one
worker two

echo "cluster: 64 points here"
cli/evenstamp sweep "$work/job/job.yaml" --out "$work/here" --quiet && code=0 || code=$?
await 60 "two workers" workers_are 2

points() { find "$work/store" -name '*.point' 2>/dev/null | wc -l; }
points_are() { (($(points) >= $1)); }
sweep() {
    cli/evenstamp sweep "$work/job/job.yaml" --out "$work/there" --engine "$address" --store "$work/store" --quiet \
        >"$work/client.log" 2>&1 &
    processes[client]=$!
}
echo "cluster: 64 points on two workers; the client is killed, then a worker"
sweep
await 90 "a first point" points_are 6
kill -9 "${processes[client]}"
wait "${processes[client]}" 2>/dev/null || true
job() { cat "$work"/store/*/job 2>/dev/null || true; }
left=$(job)
another_job() { [[ -n $(job) && $(job) != "$left" ]]; }
sweep
await 90 "another job" another_job
(($(points) < 64)) || fail "the sweep was over before a worker could be killed"
kill_worker one
worker three
await 120 "the end of the sweep" ended "${processes[client]}"
wait "${processes[client]}" && there=0 || there=$?
((there == code)) || fail "the sweep ended with $there, not $code"
unset 'processes[client]'
same "$work/here" "$work/there" points.csv sweep.json sweep.html statistics.npz maps/residual.final.p95.png
echo "cluster: the same bytes, after $SECONDS s"

measure() { # more options
    cli/evenstamp measure "$work/large.wkt" --unit um --tile "300 um" --json "$@"
}
echo "cluster: 200,000 polygons here, then on two workers of which one is killed"
measure >"$work/here.json"
await 60 "two workers" workers_are 2
measure --engine "$address" --store "$work/store" >"$work/there.json" 2>"$work/client.log" &
processes[client]=$!
pieces() { find "$work/store" -path "*/bands-*/$1/*" ! -name '*.partial' 2>/dev/null | wc -l; }
pieces_are() { (($(pieces "$1") >= $2)); }
await 90 "the first sorted part" pieces_are sorted 1
(($(pieces look) == 0)) || fail "the measurement was over before a worker could be killed"
kill_worker two
worker four
await 120 "the end of the measurement" ended "${processes[client]}"
wait "${processes[client]}" || fail "the measurement failed"
unset 'processes[client]'
cmp -- "$work/here.json" "$work/there.json" || fail "the results differ"
echo "cluster: the same bytes, after $SECONDS s"
