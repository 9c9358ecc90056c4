#!/usr/bin/env bash
# Fetches the source packages of sources.txt by `apt-get source` into build/sources/ and unpacks them there with Debian's
# patches. They come from wherever this machine's apt fetches its packages; apt checks signatures, and sources.sha256 each
# file. Nothing on the machine is changed: the lists of sources are kept in build/apt/, so no root is needed.
# What lies there already, and is right, is not fetched again.
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"
need apt-get apt
need dpkg-source dpkg-dev

files=$build/sources
apt=$build/apt
mkdir -p "$files" "$apt/parts" "$apt/lists/partial" "$apt/archives/partial"

right() { (cd "$files" && sha256sum --quiet --strict -c "$packaging/sources.sha256" >/dev/null 2>&1); }

# The machine's own package sources, asked for source packages instead.
source_lists() {
	local f
	rm -f "$apt"/parts/*
	for f in /etc/apt/sources.list.d/*.sources; do
		[ -e "$f" ] && sed 's/^Types:.*/Types: deb-src/' "$f" >"$apt/parts/$(basename "$f")"
	done
	for f in /etc/apt/sources.list /etc/apt/sources.list.d/*.list; do
		[ -e "$f" ] && sed -n 's/^deb\(-src\)\?[[:space:]]/deb-src /p' "$f" | sort -u >"$apt/parts/$(basename "$f" .list).list"
	done
	return 0
}

apt_get() {
	apt-get -q -o Dir::Etc::SourceList=/dev/null -o Dir::Etc::SourceParts="$apt/parts" -o Dir::State::Lists="$apt/lists" \
		-o Dir::Cache="$apt" -o APT::Sandbox::User= "$@"
}

if ! right; then
	say "fetching the source packages of $(pinned | wc -l) libraries (about 140 MB) into build/sources/"
	source_lists
	apt_get update >"$apt/log" 2>&1 || say "apt-get update reported errors; going on with the lists there are"
	while read -r package version; do
		(cd "$files" && apt_get source --download-only --only-source "$package=$version") >>"$apt/log" 2>&1 || {
			tail -n 5 "$apt/log" >&2
			fail "$package $version cannot be fetched. If this is Debian 12 and Debian has replaced that version by a newer one, see packaging/sources.txt; the packages are built on Debian 12 only"
		}
	done < <(pinned)
	(cd "$files" && sha256sum --quiet --strict -c "$packaging/sources.sha256") ||
		fail "what was fetched is not what sources.sha256 says: nothing was built from it"
fi

while read -r package version; do
	[ -e "$files/$package/.unpacked-$version" ] && continue
	rm -rf "${files:?}/$package"
	dsc=${package}_$(debian_file "$version").dsc
	# apt has checked the signature of the list that named this file, and sources.sha256 the file.
	(cd "$files" && dpkg-source --no-check -x "$dsc" "$package" >"$build/$package.log" 2>&1) || fail "$dsc cannot be unpacked: see build/$package.log"
	# Go's own tools walk through every folder of a module: what they would take for this project's goes.
	find "$files/$package" -name '*.go' -delete
	touch "$files/$package/.unpacked-$version"
done < <(pinned)
