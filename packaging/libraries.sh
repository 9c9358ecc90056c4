#!/usr/bin/env bash
# Builds the static libraries of sources.txt for one system, `libraries.sh linux-amd64` or `windows-amd64`, into
# build/SYSTEM/prefix/. Each library is built again only when its version, the compiler or this file has changed.
#
# What is left out and why:
# - OpenCV: everything but core, imgproc, imgcodecs, calib3d and what those need. The binding's headers name six modules
#   more; programs.sh says how it is linked without them. No GPU, windows, video, and no threads: the vision program
#   keeps OpenCV to one.
# - libheif: all encoders (x265 is under the GPL), AVIF, and plug-ins, which would be looked for on the user's machine.
# - libtiff: the compressions that no phone and no scanner's program writes by itself (JBIG, LERC, LZMA, WebP, Zstandard).
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"
need cmake cmake
need ninja ninja-build
need nasm nasm
need pkg-config pkg-config

system=${1:?usage: libraries.sh SYSTEM}
work=$build/$system
prefix=$work/prefix
mkdir -p "$work" "$prefix"

# The paths of this machine must not stand in the programs, whose bytes would differ with them.
flags="-O2 -fstack-protector-strong -ffunction-sections -fdata-sections -ffile-prefix-map=$build/sources=sources -ffile-prefix-map=$build=build"
defines='-Wdate-time -D_FORTIFY_SOURCE=2'
platform=()
case $system in
linux-amd64)
	need g++ g++
	compiler=g++ c_compiler=gcc archiver=ar unistd='-DHAVE_UNISTD_H -DHAVE_STDARG_H'
	;;
windows-amd64)
	need x86_64-w64-mingw32-g++-posix g++-mingw-w64-x86-64-posix
	compiler=x86_64-w64-mingw32-g++-posix c_compiler=x86_64-w64-mingw32-gcc-posix archiver=x86_64-w64-mingw32-ar unistd=
	platform=(-DCMAKE_TOOLCHAIN_FILE="$packaging/windows.cmake")
	defines=-D_WIN32_WINNT=0x0A00
	;;
*) fail "libraries.sh: $system is none of linux-amd64, windows-amd64" ;;
esac
# Nothing but what is built here may be found by pkg-config.
export PKG_CONFIG_LIBDIR=$prefix/lib/pkgconfig PKG_CONFIG_PATH=

# cmake_build PACKAGE [FLAG...] configures, builds and installs one of them.
cmake_build() {
	local package=$1 from=$build/sources/$1 into=$work/$1
	shift
	cmake -S "$from" -B "$into" -G Ninja "${platform[@]}" \
		-DCMAKE_BUILD_TYPE=Release -DCMAKE_INSTALL_PREFIX="$prefix" -DCMAKE_INSTALL_LIBDIR="$prefix/lib" -DCMAKE_PREFIX_PATH="$prefix" \
		-DCMAKE_C_FLAGS_RELEASE="$flags" -DCMAKE_CXX_FLAGS_RELEASE="$flags" -DCMAKE_C_FLAGS="$defines" -DCMAKE_CXX_FLAGS="$defines" \
		-DBUILD_SHARED_LIBS=OFF -DCMAKE_POSITION_INDEPENDENT_CODE=ON "$@" &&
		nice -n 10 ninja -C "$into" -j2 && ninja -C "$into" install
}

# Debian leaves out what zlib's own scripts want for Windows, so its 15 files are compiled here.
build_zlib() {
	local from=$build/sources/zlib into=$work/zlib
	mkdir -p "$into" "$prefix"/{lib,include} &&
		(cd "$into" && "$c_compiler" -fPIC $flags $defines -D_LARGEFILE64_SOURCE=1 $unistd -I"$from" -c "$from"/*.c) &&
		rm -f "$prefix/lib/libz.a" && "$archiver" rcD "$prefix/lib/libz.a" "$into"/*.o && cp "$from"/z{lib,conf}.h "$prefix/include/"
}
build_libjpeg-turbo() { cmake_build libjpeg-turbo -DENABLE_SHARED=OFF -DWITH_TURBOJPEG=OFF -DREQUIRE_SIMD=ON; }
build_libpng1.6() { cmake_build libpng1.6 -DPNG_SHARED=OFF -DPNG_TESTS=OFF -DPNG_EXECUTABLES=OFF -DZLIB_ROOT="$prefix"; }
build_tiff() {
	cmake_build tiff -Dtiff-tools=OFF -Dtiff-tests=OFF -Dtiff-contrib=OFF -Dtiff-docs=OFF -Dcxx=OFF -Djbig=OFF -Dlerc=OFF \
		-Dlibdeflate=OFF -Dlzma=OFF -Dwebp=OFF -Dzstd=OFF -DZLIB_ROOT="$prefix"
}
build_libwebp() {
	cmake_build libwebp -DWEBP_BUILD_ANIM_UTILS=OFF -DWEBP_BUILD_CWEBP=OFF -DWEBP_BUILD_DWEBP=OFF -DWEBP_BUILD_GIF2WEBP=OFF \
		-DWEBP_BUILD_IMG2WEBP=OFF -DWEBP_BUILD_VWEBP=OFF -DWEBP_BUILD_WEBPINFO=OFF -DWEBP_BUILD_WEBPMUX=OFF -DWEBP_BUILD_EXTRAS=OFF
}
build_libde265() { cmake_build libde265 -DENABLE_DECODER=OFF -DENABLE_ENCODER=OFF -DENABLE_SDL=OFF; }
build_libheif() {
	cmake_build libheif -DENABLE_PLUGIN_LOADING=OFF -DWITH_EXAMPLES=OFF -DWITH_X265=OFF -DWITH_DAV1D=OFF -DWITH_AOM_ENCODER=OFF \
		-DWITH_AOM_DECODER=OFF -DWITH_SvtEnc=OFF -DWITH_RAV1E=OFF -DWITH_LIBDE265_PLUGIN=OFF \
		-DLIBDE265_INCLUDE_DIR="$prefix/include" -DLIBDE265_LIBRARY="$prefix/lib/libde265.a" \
		-DCMAKE_CXX_FLAGS="$defines -DLIBDE265_STATIC_BUILD -DLIBHEIF_STATIC_BUILD"
}

# Instruction sets as Debian builds them: SSE2 for all, newer ones where the processor has them.
build_opencv() {
	local off=()
	for part in 1394 ADE AVFOUNDATION CAROTENE CUDA DIRECTX DSHOW EIGEN FFMPEG GDAL GDCM GSTREAMER GTK IPP ITT JASPER LAPACK MSMF \
		NGRAPH OBSENSOR OPENCL OPENEXR OPENGL OPENJPEG OPENMP OPENVX PROTOBUF PTHREADS_PF QT QUIRC TBB V4L VA VTK WIN32UI; do
		off+=("-DWITH_$part=OFF")
	done
	for part in DOCS EXAMPLES JAVA PERF_TESTS PROTOBUF TESTS opencv_apps opencv_python2 opencv_python3; do
		off+=("-DBUILD_$part=OFF")
	done
	cmake_build opencv "${off[@]}" -DBUILD_LIST=core,imgproc,imgcodecs,calib3d,features2d,flann \
		-DCPU_BASELINE=SSE2 -DCPU_BASELINE_DISABLE=SSE3 -DENABLE_PRECOMPILED_HEADERS=OFF -DENABLE_CCACHE=OFF \
		-DBUILD_INFO_SKIP_TIMESTAMP=ON -DBUILD_INFO_SKIP_SYSTEM_VERSION=ON -DOPENCV_DOWNLOAD_TRIES_LIST= -DCV_TRACE=OFF \
		-DOPENCV_GENERATE_PKGCONFIG=OFF -DOPENCV_LIB_INSTALL_PATH=lib -DOPENCV_INCLUDE_INSTALL_PATH=include/opencv4 \
		-DZLIB_ROOT="$prefix" -DBUILD_ZLIB=OFF -DBUILD_JPEG=OFF -DBUILD_PNG=OFF -DBUILD_TIFF=OFF -DBUILD_WEBP=OFF \
		-DJPEG_INCLUDE_DIR="$prefix/include" -DJPEG_LIBRARY="$prefix/lib/libjpeg.a" \
		-DPNG_PNG_INCLUDE_DIR="$prefix/include" -DPNG_LIBRARY="$prefix/lib/libpng.a" \
		-DTIFF_INCLUDE_DIR="$prefix/include" -DTIFF_LIBRARY="$prefix/lib/libtiff.a" \
		-DWEBP_INCLUDE_DIR="$prefix/include" -DWEBP_LIBRARY="$prefix/lib/libwebp.a"
}

while read -r package version; do
	key=$({ echo "$version" && "$compiler" -v 2>&1 && cat "$packaging/libraries.sh" "$packaging/windows.cmake"; } | sha256sum)
	[ "$(cat "$work/$package.built" 2>/dev/null)" = "$key" ] && continue
	rm -rf "${work:?}/$package" "$work/$package.built"
	say "building $package $version for $system"
	"build_$package" >"$work/$package.log" 2>&1 </dev/null || fail "$package cannot be built: see build/$system/$package.log"
	echo "$key" >"$work/$package.built"
done < <(pinned)
