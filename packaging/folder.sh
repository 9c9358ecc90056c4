#!/usr/bin/env bash
# Makes the folder that is handed on, `folder.sh SYSTEM`: build/SYSTEM/fieldjacket-VERSION-SYSTEM/ with both programs, what is
# read and printed, and the licence of every part; then its archive in dist/. The same sources give the same bytes: all times
# are that of the last commit, owners and order are fixed.
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"

system=${1:?usage: folder.sh SYSTEM}
name=fieldjacket-$version-$system
bin=$build/$system/bin
into=$build/$system/$name
rm -rf "$into"
mkdir -p "$into/licences" "$into/print" "$dist"

ending=''
runtime=(-runtime "gcc $(gcc -dumpfullversion) GPL-3.0-or-later WITH GCC-exception-3.1 /usr/share/doc/gcc-12-base/copyright")
if [ "$system" = windows-amd64 ]; then
	ending=.exe
	need zip zip
	runtime+=(-runtime "mingw-w64 $(dpkg-query -W -f '${Version}' mingw-w64-x86-64-dev) ZPL-2.1 AND MIT /usr/share/doc/mingw-w64-x86-64-dev/copyright")
fi

cp "$bin/fieldjacket$ending" "$bin/fieldjacket-vision$ending" README.md LICENSE CHANGELOG.md "$into/"
CGO_ENABLED=0 .ci/go.sh run ./packaging/parts -name "$name" -version "$version" -made "$made" -programs "$bin" -ending "$ending" \
	-sources "$build/sources" -modules "$(.ci/go.sh env GOMODCACHE)" -goroot "$(.ci/go.sh env GOROOT)" "${runtime[@]}" -out "$into"
for licence in LGPL-3 GPL-3 Apache-2.0; do # what the licences of the parts refer to
	cp "/usr/share/common-licenses/$licence" "$into/licences/$licence.txt"
done
for paper in A4 Letter; do
	for sheet in card forms tiles; do
		"$build/linux-amd64/bin/fieldjacket" print "$sheet" --paper "$paper" -o "$into/print/$sheet-$paper.pdf" >/dev/null
	done
done
(cd "$into" && find . -type f ! -name SHA256SUMS -printf '%P\n' | sort | xargs -d '\n' sha256sum >"$build/sums" && mv "$build/sums" SHA256SUMS)
find "$into" -type d -exec chmod 755 {} + -o -type f -exec chmod 644 {} +
chmod 755 "$into/fieldjacket$ending" "$into/fieldjacket-vision$ending"

archived "$name" "$build/$system"
