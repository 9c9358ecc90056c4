#!/usr/bin/env bash
# Installs by apt what this project needs and the machine lacks, and says so: `.ci/setup.sh build` for building and running,
# `.ci/setup.sh test` for the tests' tools too.
#
# Each need is looked for as the thing itself (a program, a library's pkg-config name, a file), not as a package, so that a
# Go or an OpenCV installed in another way counts. Where nothing is missing apt is not called and no network is used.
# Exit 2: something is missing and cannot be installed from here; the line to run by hand is printed.
set -euo pipefail

# where a need is looked for, then the Debian and Ubuntu package that brings it
build_needs='
program     g++                                                 g++
program     pkg-config                                          pkg-config
program     go                                                  golang-go
library     opencv4                                             libopencv-dev
library     libheif                                             libheif-dev
library     libde265                                            libde265-dev
library     libjpeg                                             libjpeg-dev
decoder     libde265                                            libheif-plugin-libde265
file        /etc/ssl/certs/ca-certificates.crt                  ca-certificates
'
test_needs='
program     exiftool                                            libimage-exiftool-perl
program     pdftoppm                                            poppler-utils
program     heif-enc                                            libheif-examples
encoder     x265                                                libheif-plugin-x265
program     cwebp                                               webp
program     xmllint                                             libxml2-utils
program     GeoConvert                                          geographiclib-tools
file        /usr/share/doc/opencv-doc/examples/data/left01.jpg  opencv-doc
browser     chromium                                            chromium
'

case ${1:-} in
build) needs=$build_needs ;;
test) needs=$build_needs$test_needs ;;
*)
	echo "usage: $0 build|test" >&2
	exit 2
	;;
esac

there() {
	case $1 in
	program) [ "$2" = go ] && go_elsewhere || command -v "$2" >/dev/null ;;
	library) pkg-config --exists "$2" 2>/dev/null ;;
	decoder | encoder) heif_has "$2" ;;
	file) [ -s "$2" ] ;;
	browser) [ -n "${FIELDJACKET_BROWSER:-}" ] || command -v "$2" >/dev/null || no_browser_by_apt ;;
	esac
}

# no_browser_by_apt: Ubuntu's package only points to a snap, which does not run everywhere. Then the tests that need a
# browser are not run, and test.sh says so.
no_browser_by_apt() {
	! grep -qx 'ID=debian' /etc/os-release 2>/dev/null
}

# go_elsewhere is where .ci/go.sh looks besides PATH.
go_elsewhere() {
	compgen -G '/usr/local/go/bin/go' >/dev/null || compgen -G '/usr/lib/go-*/bin/go' >/dev/null
}

# heif_has CODEC: Debian 12's libheif links its HEVC decoder and encoder, newer ones load them as plugins. Which it is shows
# only once libheif is there; until then nothing is missing.
heif_has() {
	pkg-config --exists libheif 2>/dev/null || return 0
	local dir
	dir=$(pkg-config --variable=libdir libheif)
	[ -n "$(compgen -G "$dir/libheif/plugins/*$1*")" ] || ldd "$dir/libheif.so" | grep "$1" >/dev/null
}

missing() {
	local kind what package
	while read -r kind what package; do
		[ -z "$kind" ] || there "$kind" "$what" || echo "$package"
	done <<<"$needs"
}

install() {
	local as_root=()
	local line="apt-get install --no-install-recommends $*"
	if ! command -v apt-get >/dev/null; then
		echo "missing: $*. These are the names of Debian and Ubuntu packages, and this system has no apt-get: install their like by its own means, then run this again." >&2
		exit 2
	fi
	if [ "$(id -u)" -ne 0 ]; then
		# sudo without a terminal can only work where it asks for no password.
		if ! command -v sudo >/dev/null || { [ ! -t 0 ] && ! sudo -n true 2>/dev/null; }; then
			echo "missing: $*. Installing them needs root or sudo. As root, run this line, then run make again:" >&2
			echo "    apt-get update && $line" >&2
			exit 2
		fi
		as_root=(sudo)
	fi
	as_root+=(env DEBIAN_FRONTEND=noninteractive)
	echo "Missing on this machine: $*. Installing by apt-get (several minutes and about 2 GB the first time):"
	echo "    $line"
	# One broken package source must not stop the others: whether the packages are to be had shows below.
	"${as_root[@]}" apt-get update -qq || echo "apt-get update reported errors; going on with the lists there are."
	# Container images often leave documentation out, and opencv-doc's sample boards are among it.
	if ! "${as_root[@]}" apt-get install -y -qq --no-install-recommends \
		-o 'DPkg::Options::=--path-include=/usr/share/doc/opencv-doc/*' -o Dpkg::Use-Pty=0 "$@" >"$log" 2>&1; then
		tail -n 20 "$log" >&2
		echo "apt-get could not install them. With a network, run as root, then run make again:" >&2
		echo "    apt-get update && $line" >&2
		exit 2
	fi
}

log=$(mktemp)
trap 'rm -f "$log"' EXIT

mapfile -t lacking < <(missing)
for _ in 1 2; do # the second time for what shows only once the first is installed
	[ "${#lacking[@]}" -gt 0 ] || break
	install "${lacking[@]}"
	mapfile -t lacking < <(missing)
done
if [ "${#lacking[@]}" -gt 0 ]; then
	echo "apt-get reported success, but what these packages bring is still not found: ${lacking[*]}" >&2
	echo "Where one is installed without its documentation, run as root: apt-get install --reinstall ${lacking[*]}" >&2
	exit 2
fi

opencv=$(pkg-config --modversion opencv4)
case $opencv in
4.6.0 | 4.10.0) ;;
*) echo "Warning: this is OpenCV $opencv. The binding gocv v0.31.0 is known to build against 4.6.0 and 4.10.0; with this one it may not build. Trying." >&2 ;;
esac
