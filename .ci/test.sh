#!/usr/bin/env bash
# Runs every test of the project and ends with a plain line "N passed, N failed, N skipped"; before it stands what was not run
# for want of a browser. `make test` calls it once both programs are built; FIELDJACKET_VISION names the second one.
#
# Two runs: without cgo for everything but the vision packages, then with cgo for those; what does several things at a time runs
# once more under the race detector, which needs cgo, and is not counted again. A package that passes prints one
# line and the tests it skipped; one that fails prints all it said. Results are not taken from Go's test cache, which does
# not see that the vision program or a tool outside has changed. A slow machine may take longer over a package than Go's ten
# minutes.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
: "${FIELDJACKET_VISION:?names the built vision program; run make test}"

log=$(mktemp)
trap 'rm -f "$log"' EXIT
failed=0
export FIELDJACKET_BROWSER="${FIELDJACKET_BROWSER:-$(command -v chromium || true)}"

echo "Testing without OpenCV:"
CGO_ENABLED=0 .ci/go.sh test -count=1 -timeout 30m -v ./... 2>&1 | tee -a "$log" | awk -f .ci/report.awk || failed=1
echo "Testing what uses OpenCV:"
CGO_ENABLED=1 .ci/go.sh test -count=1 -timeout 30m -v ./calibrate/vision/... ./cmd/fieldjacket-vision/... 2>&1 | tee -a "$log" | awk -f .ci/report.awk || failed=1
echo "Looking for data races:"
CI= FIELDJACKET_BROWSER= CGO_ENABLED=1 .ci/go.sh test -race -count=1 -timeout 30m ./pipeline ./pipeline/record ./pipeline/review ./pipeline/children || failed=1

# Where there is no browser (see setup.sh) the page's tests in one are named once more, so that nobody takes them for passed.
awk '/no browser: / { of_them++ } /--- SKIP: / && of_them > 0 { print "NOT RUN, no browser: " $3; of_them-- }' "$log"
awk -v tally=1 -f .ci/report.awk "$log" || failed=1
exit "$failed"
