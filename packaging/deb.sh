#!/usr/bin/env bash
# Makes dist/fieldjacket_VERSION_amd64.deb of what folder.sh made for Linux: the programs in /usr/lib/fieldjacket/, a man page,
# completions and a desktop entry by which a file manager opens a season's page. It depends on the C library alone.
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"
need dpkg-deb dpkg

from=$build/linux-amd64/fieldjacket-$version-linux-amd64
tree=$build/linux-amd64/deb
share=$tree/usr/share
doc=$share/doc/fieldjacket
program=$from/fieldjacket
rm -rf "$tree"
mkdir -p "$tree"/DEBIAN "$tree"/usr/{bin,lib/fieldjacket} "$doc" "$share"/{applications,man/man1,lintian/overrides} \
	"$share"/bash-completion/completions "$share"/zsh/vendor-completions "$share"/fish/vendor_completions.d

cp "$from"/fieldjacket "$from"/fieldjacket-vision "$tree/usr/lib/fieldjacket/"
ln -s ../lib/fieldjacket/fieldjacket "$tree/usr/bin/fieldjacket" # it looks for the other program beside itself
cp -r "$from"/{README.md,NOTICE,licences,print,sbom.spdx.json} "$doc/"
rm -f "$doc"/licences/{LGPL-3,GPL-3,Apache-2.0}.txt # Debian has them in /usr/share/common-licenses
gzip -9n "$doc/README.md"

cat >"$doc/copyright" <<END
Format: https://www.debian.org/doc/packaging-manuals/copyright-format/1.0/
Upstream-Name: fieldjacket
Comment: What is linked into the programs is named in NOTICE, and the licence of each part stands in licences/, beside this file.
 Texts that these refer to: /usr/share/common-licenses/Apache-2.0, LGPL-3 and GPL-3.

Files: *
Copyright: the fieldjacket authors
License: Apache-2.0
 On Debian systems the text is in /usr/share/common-licenses/Apache-2.0.
END
{
	echo "fieldjacket ($version) stable; urgency=medium"
	printf '\n  * See README.md and the project'"'"'s CHANGELOG.md.\n\n'
	echo " -- the fieldjacket authors <fieldjacket@localhost>  $(date -R -d "@$made")"
} | gzip -9n >"$doc/changelog.gz"

# The man page is what the program says of itself, command by command.
{
	echo ".TH FIELDJACKET 1 $(date -d "@$made" +%F) \"fieldjacket $version\""
	printf '.SH NAME\nfieldjacket \\- scaled plates and packets of paper for fossils in plaster jackets\n.SH SYNOPSIS\n.B fieldjacket\n.I COMMAND\n[\\fIflags\\fR]\n'
	printf '.SH DESCRIPTION\nThe manual is /usr/share/doc/fieldjacket/README.md.gz. Forms and cards to be printed lie in /usr/share/doc/fieldjacket/print/.\n'
	said() {
		printf '.SS "%s"\n.nf\n' "$1"
		"$program" $2 --help | sed -e 's/\\/\\e/g' -e 's/-/\\-/g' -e "s/'/\\\\(aq/g" -e 's/^\./\\\&./'
		echo .fi
	}
	echo .SH COMMANDS
	said fieldjacket ''
	for command in $("$program" completion bash | sed -n 's/^\t\t" \([a-z]*\)") at=.*/\1/p'); do
		said "fieldjacket $command" "$command"
	done
	for command in $("$program" completion bash | sed -n 's/^\t\t" print \([a-z]*\)") at=.*/\1/p'); do
		said "fieldjacket print $command" "print $command"
	done
} | gzip -9n >"$share/man/man1/fieldjacket.1.gz"

"$program" completion bash >"$share/bash-completion/completions/fieldjacket"
"$program" completion zsh >"$share/zsh/vendor-completions/_fieldjacket"
"$program" completion fish >"$share/fish/vendor_completions.d/fieldjacket.fish"

cat >"$share/applications/fieldjacket.desktop" <<'END'
[Desktop Entry]
Type=Application
Name=fieldjacket
Comment=Sort a season's photos on a page in the browser
Exec=fieldjacket review --open %f
Terminal=true
NoDisplay=true
MimeType=inode/directory;
Categories=Science;Geology;
END

# The main program is Go and links nothing; the libraries in the other are static on purpose, see README.md.
cat >"$share/lintian/overrides/fieldjacket" <<'END'
fieldjacket: statically-linked-binary [usr/lib/fieldjacket/fieldjacket]
fieldjacket: embedded-library *
fieldjacket: no-manual-page *
END

cat >"$tree/DEBIAN/control" <<END
Package: fieldjacket
Version: $version
Section: science
Priority: optional
Architecture: amd64
Depends: libc6 (>= $("$packaging/glibc.sh" "$from/fieldjacket-vision"))
Suggests: xdg-utils
Installed-Size: $(du -sk --apparent-size "$tree/usr" | cut -f 1)
Maintainer: the fieldjacket authors <fieldjacket@localhost>
Description: scaled plates and packets of paper for fossils in plaster jackets
 It takes a crew's phone photos, register and diary, finds a printed card, a
 string grid, a bar or a checkerboard in the photos, works out pixels per
 centimetre with their uncertainty, draws scaled plates, writes one packet for
 each plaster jacket and says which jacket lacks its photo with a grid.
END
find "$tree" -type d -exec chmod 755 {} + -o -type f -exec chmod 644 {} +
chmod 755 "$tree"/usr/lib/fieldjacket/*
(cd "$tree" && find usr -type f -printf '%P\n' | sort | sed 's#^#usr/#' | xargs -d '\n' md5sum >DEBIAN/md5sums)
find "$tree" -exec touch -h -d "@$made" {} +
SOURCE_DATE_EPOCH=$made dpkg-deb --root-owner-group -Zxz --build "$tree" "$dist/fieldjacket_${version}_amd64.deb" >/dev/null
say "dist/fieldjacket_${version}_amd64.deb, $(du -h --apparent-size "$dist/fieldjacket_${version}_amd64.deb" | cut -f 1)"
