#!/usr/bin/env bash
# The main job on one spoken sample note: draft sheet, review, search. The journal is in a temporary folder.
# `cleansheet` must be on the PATH.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
export CLEANSHEET_JOURNAL="$folder/journal.sqlite" CLEANSHEET_WHO=Sam CLEANSHEET_SHOP="$folder/shop"

run() {
  printf '\n$ %s\n' "$*"
  "$@"
}

run cleansheet take sample_notes/visit-1-fuel.opus --vehicle sample_notes/aldern-camper.yaml
run cleansheet review --list
run cleansheet review --sign-clean
run cleansheet find fuel rail
