#!/usr/bin/env bash
# Prints the oldest glibc that a program runs with, `glibc.sh PROGRAM`: the highest version that one of its symbols asks for.
set -euo pipefail
objdump -T "$1" | grep -o 'GLIBC_[0-9.]*' | sed 's/GLIBC_//' | sort -uV | tail -n 1
