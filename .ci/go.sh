#!/usr/bin/env bash
# Runs Go for this project: `.ci/go.sh build ./...` is `go build ./...` with a Go that is new enough. `.ci/go.sh with COMMAND...`
# runs any command with that Go first on PATH and the same flags, `.ci/go.sh with bash` a shell.
#
# Why not plain go: go.mod asks for Go 1.26, and what apt brings is older. Go 1.21 and newer could fetch the right one by
# themselves where GOTOOLCHAIN allows it; 1.19 and 1.20 cannot even read such a go.mod. All of them can download a module,
# and each Go release is published as a version of the module golang.org/toolchain. So an old Go only downloads that module,
# once, checked against the checksum database like any other, and the Go inside it does the work from then on.
#
# It also holds the one set of flags for every build, vet, test and staticcheck. OpenCV's binding takes a minute to compile;
# with other flags it would be compiled again. What is set in the environment or by `go env -w` does not change the outcome.
set -euo pipefail

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
want=$(awk '$1 == "go" { print $2; exit }' "$root/go.mod")

say() { echo "go.sh: $*" >&2; }

# version PROGRAM prints the release that PROGRAM itself is, such as 1.19.8, and nothing when it does not run.
version() {
	(cd / && GOTOOLCHAIN=local "$1" version 2>/dev/null) | sed -n 's/^go version go\([0-9][0-9.]*\).*/\1/p'
}

# of PROGRAM VARIABLE prints a variable of that Go. The folder is / so that an old Go does not try to read this go.mod.
of() { (cd / && GOTOOLCHAIN=local "$1" env "$2"); }

new_enough() {
	[ -n "$1" ] && [ "$(printf '%s\n%s\n' "$want" "$1" | sort -V | head -n 1)" = "$want" ]
}

# found prints the newest Go among those on PATH and in the usual places.
found() {
	local go v best='' best_v=''
	for go in "$(command -v go || true)" /usr/local/go/bin/go /usr/lib/go-*/bin/go; do
		[ -x "$go" ] || continue
		v=$(version "$go")
		new_enough "$v" && { echo "$go"; return; }
		if [ -n "$v" ] && { [ -z "$best" ] || [ "$(printf '%s\n%s\n' "$v" "$best_v" | sort -V | tail -n 1)" != "$best_v" ]; }; then
			best=$go best_v=$v
		fi
	done
	echo "$best"
}

# fetched GO prints the Go $want that lies in the module cache of the older GO, downloading it when it is not there.
fetched() {
	local mod dir empty
	mod=golang.org/toolchain@v0.0.1-go$want.$(of "$1" GOHOSTOS)-$(of "$1" GOHOSTARCH)
	dir=$(of "$1" GOMODCACHE)/$mod
	if [ ! -x "$dir/bin/go" ] || [ ! -e "$dir/src/go.mod" ]; then
		say "this project needs Go $want or newer; $1 is $(version "$1"). Downloading Go $want as the module $mod, once (about 70 MB)."
		empty=$(mktemp -d)
		if ! (cd "$empty" && GOTOOLCHAIN=local GOFLAGS='' GOWORK=off GO111MODULE=on "$1" mod download "$mod") >&2; then
			rm -rf "$empty"
			say "Go $want could not be downloaded. Connect to a network once and run this again, or install Go $want or newer and put it on PATH."
			return 2
		fi
		rm -rf "$empty"
		unpack "$dir"
	fi
	echo "$dir/bin/go"
}

# unpack DIR puts right what a module archive cannot hold: the right to be executed, and files called go.mod. go itself is made
# executable last, so that a stop half-way is noticed at the next run.
unpack() {
	local f
	chmod -R u+w "$1"
	for f in "$1"/src/_go.mod "$1"/src/cmd/_go.mod; do
		[ -e "$f" ] && cp "$f" "$(dirname "$f")/go.mod"
	done
	chmod -R a+x "$1/pkg/tool"
	chmod a+x "$1"/bin/*
}

go=$(found)
if [ -z "$go" ]; then
	say "no Go is installed. Run 'make', which installs it, or install Go $want or newer and put it on PATH."
	exit 2
fi
new_enough "$(version "$go")" || go=$(fetched "$go")

unset GOROOT
export PATH="$(dirname "$go"):$PATH" GOTOOLCHAIN=local GOWORK=off
export GOFLAGS='-trimpath -buildvcs=false -p=2'
export CGO_CFLAGS='-O2 -g' CGO_CXXFLAGS='-O2 -g' CGO_CPPFLAGS='' CGO_LDFLAGS='-O2 -g'
if [ "${1:-}" = with ]; then
	exec "${@:2}"
fi
exec go "$@"
