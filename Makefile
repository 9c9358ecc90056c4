# make        installs what building needs and builds both programs into bin/
# make demo   the same, then writes a small invented season to demo/ and runs it
# make test   the same, then installs what the tests need and runs them all
# make trials  renders photos with known truth and prints how the finders fare (SEEDS=heldout for those kept apart)
# make mutants  changes one operator at a time and prints the share of changes that the tests notice (SEED=7 N=5)
# make package  on Debian 12: builds what is handed on into dist/ (SYSTEMS=linux-amd64 for one of them), make package-test tries it
# make clean  removes bin/ and demo/, and of a package everything but the pieces kept in build/
#
# What each step is and why stands at the head of the scripts in .ci/.

SHELL := /bin/bash
.SHELLFLAGS := -euo pipefail -c
.DELETE_ON_ERROR:
.PHONY: all build demo test trials mutants package package-test clean

export FIELDJACKET_VISION := $(CURDIR)/bin/fieldjacket-vision

all: build

# The main program is pure Go, so that it starts at once and runs anywhere; only the second one links OpenCV.
build:
	@.ci/setup.sh build
	@echo "Building bin/fieldjacket."
	@CGO_ENABLED=0 .ci/go.sh build -o bin/fieldjacket ./cmd/fieldjacket
	@echo "Building bin/fieldjacket-vision. The first time this compiles the binding to OpenCV, which takes a minute or more."
	@CGO_ENABLED=1 .ci/go.sh build -o bin/fieldjacket-vision ./cmd/fieldjacket-vision

demo: build
	@echo "Writing the demonstration season to demo/ and running it."
	@bin/fieldjacket demo demo

test: build
	@.ci/setup.sh test
	@.ci/test.sh

# Long, and no part of make test. TRIALS_N is the number of photos of each kind.
trials: build
	@TRIALS_SEEDS=$(SEEDS) .ci/go.sh test -tags trials ./calibrate/vision -run Trials -count=1 -timeout 3h -v

# Long, and no part of make test. SEED draws other changes, N is how many in each package, PACKAGES names some of them.
mutants:
	@.ci/go.sh run ./.ci/mutants -seed $(or $(SEED),1) -n $(or $(N),5) $(PACKAGES)

# Long, and no part of make test: see packaging/package.sh.
package:
	@packaging/package.sh $(SYSTEMS)

package-test:
	@packaging/test.sh

clean:
	rm -rf bin demo dist
