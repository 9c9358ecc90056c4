#!/bin/sh
# Links fieldjacket-vision anew: with libheif.a and libde265.a of your own put into lib/ it holds those. Needs g++ alone.
# objects/ holds the program itself, compiled; lib/ the libraries; sources/ those of libheif and libde265 with Debian's patches.
set -eu
cd "$(dirname "$0")"
g++ -m64 -o fieldjacket-vision objects/go.o objects/[0-9]*.o -O2 -Wl,--gc-sections -Llib LIBRARIES -O2 LINK
strip fieldjacket-vision
