#!/usr/bin/env bash
# make package: builds what is handed on into dist/, for the systems named, else for Linux and Windows. What it needs and
# does stands in the scripts that it calls, in this order. Pieces are kept in build/ between runs.
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"

grep -qx 'VERSION_ID="12"' /etc/os-release 2>/dev/null ||
	fail "packages are built on Debian 12, whose C library is the oldest that they are promised to run with; this is another system"
[ "$(dpkg --print-architecture)" = amd64 ] || fail "packages are built on amd64"

systems=("$@")
[ $# -gt 0 ] || systems=(linux-amd64 windows-amd64)
started=$SECONDS
"$packaging/fetch.sh"
for system in "${systems[@]}"; do
	"$packaging/libraries.sh" "$system"
	"$packaging/programs.sh" "$system"
	"$packaging/folder.sh" "$system"
	"$packaging/relinkable.sh" "$system"
	[ "$system" != linux-amd64 ] || "$packaging/deb.sh"
done
(cd "$dist" && sha256sum fieldjacket[-_]"$version"[-_]* >SHA256SUMS)
say "done in $(((SECONDS - started) / 60)) minutes; checksums in dist/SHA256SUMS"
