#!/usr/bin/env bash
# Packs what the licence of libheif and libde265 (LGPL) asks for beside a program that holds them: their sources, the program
# as compiled but not linked, all libraries, and a script that links it anew: `relinkable.sh SYSTEM`.
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"

system=${1:?usage: relinkable.sh SYSTEM}
name=fieldjacket-$version-$system-relink
prefix=$build/$system/prefix
into=$build/$system/$name
rm -rf "$into"
mkdir -p "$into/lib" "$into/sources"

cp -r "$build/$system/objects" "$into/objects"
cp "$prefix"/lib/*.a "$into/lib/"
for package in libheif libde265; do
	cp "$build/sources/${package}"_* "$into/sources/"
done
cp LICENSE "/usr/share/common-licenses/LGPL-3" "/usr/share/common-licenses/GPL-3" "$into/"
{
	echo '#!/bin/sh'
	sed -n 's/^#> /# /p' "$packaging/relinkable.sh"
	echo 'set -eu'
	echo 'cd "$(dirname "$0")"'
	cat "$build/$system/link"
} >"$into/relink.sh"
chmod 755 "$into/relink.sh"
archived "$name" "$build/$system"

# What stands at the head of the script that links it anew:
#> Links fieldjacket-vision anew: with libheif.a and libde265.a of your own put into lib/ it holds those. They must offer what
#> the versions in sources/ offer; how they were built says packaging/libraries.sh of the project's sources.
