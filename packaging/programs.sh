#!/usr/bin/env bash
# Links both programs for one system from the libraries that libraries.sh built: `programs.sh SYSTEM` writes them to
# build/SYSTEM/bin/. The main program is pure Go and links nothing.
#
# The binding's headers and sources name modules of OpenCV that nothing here calls (dnn, highgui, objdetect, photo, video,
# videoio). They are compiled against those modules' headers; the linker drops every function that is never called
# (--gc-sections) before it looks for what that function calls, so the modules themselves are not needed.
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"

system=${1:?usage: programs.sh SYSTEM}
prefix=$build/$system/prefix
bin=$build/$system/bin
mkdir -p "$bin" "$prefix/lib/pkgconfig"

headers="-I$prefix/include/opencv4"
for module in dnn highgui objdetect photo video videoio; do
	headers+=" -I$build/sources/opencv/modules/$module/include -DHAVE_OPENCV_${module^^}"
done
case $system in
linux-amd64)
	export GOOS=linux GOARCH=amd64 CC=gcc CXX=g++
	ending=''
	libraries='-ldl -lpthread -lm'
	link='-static-libstdc++ -static-libgcc -Wl,--as-needed -Wl,-z,relro,-z,now'
	;;
windows-amd64)
	export GOOS=windows GOARCH=amd64 CC=x86_64-w64-mingw32-gcc-posix CXX=x86_64-w64-mingw32-g++-posix
	ending=.exe
	libraries=''
	link='-static'
	;;
*) fail "programs.sh: $system is none of linux-amd64, windows-amd64" ;;
esac

# What the project's packages ask pkg-config for. All libraries stand with OpenCV's, in the order in which each needs the next.
opencv=''
for module in calib3d features2d flann imgcodecs imgproc core; do
	opencv+=" $(basename "$(echo "$prefix"/lib/libopencv_$module*.a)" .a | sed 's/^lib/-l/')"
done
package_config() {
	printf 'Name: %s\nDescription: static, of make package\nVersion: 0\nCflags: %s\nLibs: %s\n' "$@" >"$prefix/lib/pkgconfig/$1.pc"
}
package_config opencv4 "$headers" "-L$prefix/lib$opencv -lheif -lde265 -ltiff -lwebp -ljpeg -lpng -lz $libraries"
package_config libjpeg "-I$prefix/include" ''
package_config libheif "-I$prefix/include -DLIBHEIF_STATIC_BUILD" ''
package_config libde265 "-I$prefix/include -DLIBDE265_STATIC_BUILD" ''

linked=$(pinned | awk '{ printf "%s%s %s", comma, $1, $2; comma = "," }')
named="-s -w -buildid= -B none -X main.version=$version"
compile="-O2 -g0 -ffunction-sections -fdata-sections"

say "compiling fieldjacket$ending for $system"
CGO_ENABLED=0 .ci/go.sh build -ldflags "$named" -o "$bin/fieldjacket$ending" ./cmd/fieldjacket

say "compiling fieldjacket-vision$ending for $system"
objects=$build/$system/objects log=$build/$system/link.log
rm -rf "$objects" "$bin/fieldjacket-vision$ending"
mkdir "$objects"
# customenv: the binding takes its headers and libraries from here, not from where it would look on each system. -tmpdir and -v keep
# what is linked, and tell how, for relinkable.sh.
nice -n 10 .ci/go.sh with env CGO_ENABLED=1 PKG_CONFIG_LIBDIR="$prefix/lib/pkgconfig" PKG_CONFIG_PATH= CGO_CPPFLAGS="$headers" CGO_CFLAGS="$compile" \
	CGO_CXXFLAGS="$compile -std=c++11" CGO_LDFLAGS='-O2 -Wl,--gc-sections' \
	go build -tags customenv,netgo,osusergo \
	-ldflags "$named -X 'main.linked=$linked' -linkmode=external -tmpdir $objects -v -extldflags '$link'" \
	-o "$bin/fieldjacket-vision$ending" ./cmd/fieldjacket-vision >"$log" 2>&1 || {
	tail -n 40 "$log" >&2
	fail "fieldjacket-vision cannot be linked for $system: see build/$system/link.log"
}
sed -n 's/^host link: //p' "$log" | sed -e "s#$objects/#objects/#g" -e "s#$prefix/lib#lib#g" -e "s#\"-o\" \"[^\"]*\"#\"-o\" \"fieldjacket-vision$ending\"#" >"$build/$system/link"
[ -s "$build/$system/link" ] || fail "Go's linker did not tell how it linked: see build/$system/link.log"
