#!/bin/sh
# Replaces the kept files of tests/golden by what the programs write now. Look at the difference
# before you commit it: git diff tests/golden
set -eu
cd "$(dirname "$0")/.."
cmake --preset release >/dev/null
found=0
for folder in tests/golden/*/; do
  target=golden_$(basename "$folder")
  cmake --build --preset release --target "$target" >/dev/null
  FILM_UPDATE_GOLDEN=1 "build/release/$target"
  found=1
done
[ "$found" = 1 ]
git status --short tests/golden
