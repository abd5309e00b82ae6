#!/usr/bin/env bash
# Makes every picture in docs/pictures anew: runs the sample job, its dummies and the tutorial, and photographs their reports.
# Needs chromium on the path. Look at the pictures before they are committed.
set -euo pipefail
cd "$(dirname "$0")/../.."
pictures=$PWD/docs/pictures
work=$(mktemp -d)
trap 'rm -rf -- "$work"' EXIT

# shoot PICTURE REPORT WIDTH HEIGHT HASH [MORE OPTIONS]: a window of that size on a report.
shoot() {
    chromium --headless=new --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking \
        --disable-component-update --disable-sync --user-data-dir="$work/profile" --hide-scrollbars \
        --virtual-time-budget=10000 --window-size="$3,$4" "${@:6}" --screenshot="$pictures/$1" "file://$2#$5" 2>/dev/null
    [[ -s $pictures/$1 ]]
}

cli/evenstamp run samples/water-sensor/job.yaml --quiet --out "$work/sensor"
cp -- "$work/sensor/maps/cavity.fraction.png" "$pictures/cavity-fraction.png"
cp -- "$work/sensor/maps/residual.final.png" "$pictures/residual-final.png"
shoot report.png "$work/sensor/report.html" 1400 900 'field=residual.final&beside=fill.share&time=13.85&tile=40,52'
# The whole page, with the line cut and the cross-section under the map.
shoot report-plots.png "$work/sensor/report.html" 1400 1750 'field=residual.final&time=13.85&cut=-6000,300,6000,300'

# With a limit that the stamp breaks, for a finding.
sed 's/residual.final: {each: ">= 20 nm"}/residual.final: {each: ">= 60 nm"}/' samples/water-sensor/job.yaml >"$work/job.yaml"
cp -- samples/water-sensor/layout.geojson.gz "$work/"
cli/evenstamp run "$work/job.yaml" --quiet --exceeded-ok --out "$work/broken"
shoot report-dark.png "$work/broken/report.html" 1400 900 'field=residual.final&view=-4300,240,2600&tile=13,52' \
    --blink-settings=preferredColorScheme=0

cli/evenstamp dummy samples/water-sensor/job.yaml --quiet --exceeded-ok --out "$work/dummies"
cp -- "$work/dummies/comparison/cavity.fraction.png" "$pictures/dummies-fraction.png"
cp -- "$work/dummies/comparison/residual.final.png" "$pictures/dummies-residual.png"

cli/evenstamp run samples/narrow-walls/job.yaml --quiet --exceeded-ok --out "$work/walls"
cp -- "$work/walls/maps/stress.frozen.png" "$pictures/stress-frozen.png"

# Window, chances and calibration, each by one command.
cli/evenstamp sweep samples/water-sensor/window.yaml --quiet --out "$work/window"
cp -- "$work/window/window.png" "$pictures/window.png"
cli/evenstamp sweep samples/water-sensor/how-sure.yaml --quiet --out "$work/chances"
cp -- "$work/chances/maps/fill.share.out.png" "$pictures/chance.png"
cli/evenstamp calibrate samples/water-sensor/how-sure.yaml samples/water-sensor/readings.csv --out "$work/fitted" >/dev/null
cp -- "$work/fitted/calibration.png" "$pictures/calibration.png"

# The tutorial as it stands there; its results lie where its commands put them.
mkdir -- "$work/bin"
ln -s -- "$PWD/cli/evenstamp" "$work/bin/evenstamp"
mapfile -t steps < <(grep -n '^## ' docs/tutorial.md | cut -d: -f1)
part() { sed -n "$1,$2p" docs/tutorial.md | sed -n '/^```sh$/,/^```$/p' | sed '/^```/d'; }
tutorial() { (cd -- "$work" && PATH=$work/bin:$PATH bash -c "$1" >/dev/null 2>&1) || true; }
tutorial "$(part 1 "${steps[3]}")"
shoot tutorial-first.png "$work/wells/job-results/report.html" 1280 800 'field=residual.final'
tutorial "cd wells; $(part "${steps[3]}" "${steps[4]}")"
shoot tutorial-section.png "$work/wells/job-results/report.html" 1280 1700 'field=residual.final&cut=0,-900,0,900'
tutorial "cd wells; $(part "${steps[4]}" '$')"
shoot tutorial-done.png "$work/wells/job-results/report.html" 1280 800 'field=residual.final'
