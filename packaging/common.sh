# What the scripts of this folder share; each of them sources it.
set -euo pipefail

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
packaging=$root/packaging
build=$root/build     # kept between runs
dist=$root/dist       # the results
version=$(sed -n 's/^## \([0-9.]*\).*/\1/p' "$root/CHANGELOG.md" | head -n 1)
export LC_ALL=C TZ=UTC
umask 022
cd "$root"

say() { echo "package: $*"; }

fail() {
	echo "package: $*" >&2
	exit 1
}

# need PROGRAM PACKAGE stops where a program is missing, with the line that installs it.
need() {
	command -v "$1" >/dev/null || fail "$1 is missing. As root: apt-get install --no-install-recommends $2"
}

# pinned prints "package version" of each source package, in the order in which they are built.
pinned() { awk '!/^#/ && NF > 2 { print $1, $2 }' "$packaging/sources.txt"; }

# debian_file VERSION is the version as it stands in file names: without epoch.
debian_file() { echo "${1#*:}"; }

# made is the time that everything in the packages bears, in seconds since 1970: that of the last commit.
made=$(git log -1 --format=%ct)

# archived NAME FOLDER packs FOLDER/NAME into dist/, by zip for Windows, else by tar and gzip.
archived() {
	case $1 in
	*windows*)
		rm -f "$dist/$1.zip"
		find "$2/$1" -exec touch -h -d "@$made" {} +
		(cd "$2" && find "$1" -type f | sort | zip -X -q -9 -@ "$dist/$1.zip")
		say "dist/$1.zip, $(du -h --apparent-size "$dist/$1.zip" | cut -f 1)"
		;;
	*)
		tar --sort=name --mtime="@$made" --owner=0 --group=0 --numeric-owner --format=gnu -C "$2" -cf - "$1" | gzip -9n >"$dist/$1.tar.gz.tmp"
		mv "$dist/$1.tar.gz.tmp" "$dist/$1.tar.gz"
		say "dist/$1.tar.gz, $(du -h --apparent-size "$dist/$1.tar.gz" | cut -f 1)"
		;;
	esac
}
