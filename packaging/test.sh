#!/usr/bin/env bash
# make package-test: tries what make package left in dist/ and ends with a table of what ran on what; exit 1 if something failed.
# As root it also makes bare systems of Debian 12 and 13 (mmdebstrap, from this machine's own package sources; kept in build/)
# and runs the programs in them without a network, as a user without rights. What cannot be tried here is listed as NOT RUN.
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"

name=fieldjacket-$version-linux-amd64
archive=$dist/$name.tar.gz
[ -e "$archive" ] || {
	say "dist/$name.tar.gz is not there: make package first"
	exit 1
}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
results=() failed=0

# try WHAT COMMAND... runs one check in a shell of its own and keeps the result.
try() {
	if ("${@:2}") >"$work/said" 2>&1; then
		results+=("passed   $1")
	else
		results+=("FAILED   $1")
		failed=1
		tail -n 15 "$work/said"
	fi
	echo "${results[-1]}"
}
skip() {
	results+=("NOT RUN  $1")
	echo "${results[-1]}"
}

tar -C "$work" -xzf "$archive"
here=$work/$name

checksums() { set -e; (cd "$dist" && sha256sum --quiet -c SHA256SUMS); cd "$here" && sha256sum --quiet -c SHA256SUMS; }
few_libraries() {
	set -e
	local library
	file "$here/fieldjacket" | grep -q 'statically linked'
	for library in $(objdump -p "$here/fieldjacket-vision" | awk '/NEEDED/ { print $2 }'); do
		case $library in
		libc.so.6 | libm.so.6 | ld-linux-x86-64.so.2) ;;
		*) echo "fieldjacket-vision needs $library" && return 1 ;;
		esac
	done
}
promised_glibc() { [ "$(printf '%s\n2.36\n' "$("$packaging/glibc.sh" "$here/fieldjacket-vision")" | sort -V | tail -n 1)" = 2.36 ]; }
no_paths() { ! strings -a "$here/fieldjacket" "$here/fieldjacket-vision" | grep -F -e "$root" -e "$HOME/"; }
names_parts() {
	set -e
	local parts package v
	parts=$("$here/fieldjacket" version --json)
	while read -r package v _; do
		grep -qF "\"$package $v\"" <<<"$parts"
		grep -qF "\"name\": \"$package\"" "$here/sbom.spdx.json"
		grep -qF -- "- $package $v: " "$here/NOTICE"
		[ -s "$here/licences/$package.txt" ]
	done < <(pinned)
	grep -q '"version": "'"$version"'"' <<<"$parts"
}
# The vision program says hello in under 50 ms, as the middle one of 21 starts.
starts_soon() {
	local times=() from
	for _ in $(seq 21); do
		from=${EPOCHREALTIME/./}
		echo '{"hello":{"protocol":'"$(sed -n 's/^const Protocol = //p' "$root"/calibrate/look/*.go)"'}}' | "$here/fieldjacket-vision" | grep -q '"opencv":"4.6.0"' || return 1
		times+=($((${EPOCHREALTIME/./} - from)))
	done
	from=$(printf '%s\n' "${times[@]}" | sort -n | sed -n 11p)
	say "fieldjacket-vision starts and answers in $((from / 1000)).$((from / 100 % 10)) ms"
	[ "$from" -lt 50000 ]
}
all_sums() { (cd "$1" && find paper -type f -print0 | sort -z | xargs -0 sha256sum); }
same_demo() {
	set -e
	"$here/fieldjacket" demo "$work/packaged" >/dev/null
	env -u FIELDJACKET_VISION "$root/bin/fieldjacket" demo "$work/apt" >/dev/null
	diff <(all_sums "$work/packaged" | grep -v 'records/vision.key') <(all_sums "$work/apt" | grep -v 'records/vision.key')
	say "$(all_sums "$work/packaged" | wc -l) files"
}
relinks() {
	set -e
	tar -C "$work" -xzf "$dist/$name-relink.tar.gz"
	"$work/$name-relink/relink.sh"
	cmp "$work/$name-relink/fieldjacket-vision" "$here/fieldjacket-vision"
}
# Under strace no process of a run connects or sends to anything but this machine.
calls_nobody() {
	set -e
	strace -f -qq --seccomp-bpf -e trace=connect,sendto,sendmsg,bind -o "$work/calls" "$here/fieldjacket" run "$work/packaged" >/dev/null || [ $? = 3 ]
	! grep -E 'sa_family=AF_INET6?' "$work/calls"
}
lintian_clean() { ! lintian --fail-on none "$dist/fieldjacket_${version}_amd64.deb" | grep '^E:'; }

try "checksums of dist/ and of the folder" checksums
try "shared libraries: libc and libm alone" few_libraries
try "glibc: no symbol newer than 2.36, Debian 12's" promised_glibc
try "no path of this machine in the programs" no_paths
try "version --json, SBOM and NOTICE name all libraries" names_parts
try "the vision program starts in under 50 ms" starts_soon
grep 'answers in' "$work/said" || true
if [ -x bin/fieldjacket-vision ]; then
	try "demo: paper the same, byte for byte, as with the system's OpenCV" same_demo
	if command -v strace >/dev/null; then try "a run connects to nothing" calls_nobody; else skip "a run connects to nothing (no strace)"; fi
else
	skip "demo compared with the system's OpenCV (make first)"
fi
if [ -e "$dist/$name-relink.tar.gz" ]; then try "relink.sh gives the same program" relinks; fi
if command -v lintian >/dev/null; then try "lintian finds no error in the .deb" lintian_clean; else skip "lintian (not installed)"; fi

# bare SUITE VERSION tries both programs in a system that holds nothing else.
bare() {
	set -e
	local suite=$1 system=$work/$1 list
	mkdir -p "$build/systems"
	if [ ! -e "$build/systems/$suite.tar" ]; then
		list=$work/$suite.sources
		cat /etc/apt/sources.list.d/debian.sources | sed "s/^Types:.*/Types: deb/; s/bookworm/$suite/g" >"$list"
		mmdebstrap --variant=essential "$suite" "$build/systems/$suite.tar.tmp" "$list"
		mv "$build/systems/$suite.tar.tmp" "$build/systems/$suite.tar"
	fi
	mkdir "$system" && tar -C "$system" -xf "$build/systems/$suite.tar" --exclude './dev/*'
	cp -r "$here" "$system/camp" && mkdir -m 777 "$system/seasons"
	# A network of its own with loopback alone; /proc, as every system has it.
	unshare --net --mount --pid --fork --mount-proc="$system/proc" sh -c 'ip link set lo up; exec chroot --userspec=65534:65534 "$0" /bin/sh -c "
		set -e; cd /seasons; export HOME=/seasons
		/camp/fieldjacket demo demo >demo.log
		/camp/fieldjacket check demo >check.log || [ \$? = 3 ]
		/camp/fieldjacket version --json | grep -q 4.6.0
		/camp/fieldjacket scale --card demo/photos/*/*/*/IMG_0415.JPG || [ \$? = 3 ]
	"' "$system"
	diff <(all_sums "$work/packaged" | grep -v -e records/vision.key) <(all_sums "$system/seasons/demo" | grep -v -e records/vision.key)
	# The .deb, by dpkg, with what the bare system has.
	cp "$dist/fieldjacket_${version}_amd64.deb" "$system/tmp/"
	unshare --net --mount --pid --fork --mount-proc="$system/proc" chroot "$system" /bin/sh -c "
		set -e; export PATH=/usr/sbin:/usr/bin:/sbin:/bin
		dpkg -i /tmp/fieldjacket_${version}_amd64.deb
		fieldjacket version --json | grep -q '\"opencv\": \"4.6.0\"'
		dpkg -r fieldjacket"
}
if [ "$(id -u)" = 0 ] && command -v mmdebstrap >/dev/null && [ -d "$work/packaged" ]; then
	try "Debian 12, bare, no network, no rights: demo, check, scale; the .deb" bare bookworm
	try "Debian 13, bare, no network, no rights: demo, check, scale; the .deb" bare trixie
else
	skip "Debian 12 and 13, bare (needs root, mmdebstrap and the comparison above)"
fi
skip "Ubuntu, Fedora and other systems of the same glibc or newer"
skip "macOS"

printf '\n'
printf '%s\n' "${results[@]}"
exit "$failed"
