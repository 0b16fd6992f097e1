#!/usr/bin/env bash
# Programs of others read what we write: the calendars, workbooks, JSON-LD, plans and papers of the demo.
#
# Makes its own Python environment under target/ with pinned readers from PyPI; needs the network the first time only.
# Works as root on a fresh Debian machine: where Python has no venv it is installed with apt.
set -euo pipefail
cd "$(dirname "$0")/../.."

here=tests/independent
env=target/independent/venv
out=target/independent/out
pins="$here/requirements.txt"
stamp="$env/.$(sha256sum "$pins" | cut -c1-16)"

fail() { printf '\nindependent readers: %s\n' "$*" >&2; exit 1; }

# What may fail on a bad line is tried twice, and then fails loudly.
twice() { "$@" || { printf 'once more: %s\n' "$*" >&2; sleep 3; "$@"; }; }

as_root() { if [ "$(id -u)" = 0 ]; then "$@"; else sudo -n "$@"; fi; }

install_venv() {
  command -v apt-get >/dev/null || fail "python3 with venv is needed, and there is no apt-get to install it with"
  twice as_root apt-get -qq update
  twice as_root env DEBIAN_FRONTEND=noninteractive apt-get -qq -y install python3 python3-venv
}

make_venv() { rm -rf "$env" && mkdir -p "$(dirname "$env")" && python3 -m venv "$env"; }

if [ ! -f "$stamp" ]; then
  # A Debian python3 has the module venv and not ensurepip: only making one shows whether it works.
  make_venv 2>/dev/null || { install_venv; make_venv || fail "python3 -m venv does not work"; }
  twice "$env/bin/pip" install --quiet --disable-pip-version-check --no-input -r "$pins" \
    || fail "the readers could not be installed from PyPI"
  touch "$stamp"
fi

for program in pdftoppm zbarimg; do
  command -v "$program" >/dev/null && continue
  command -v apt-get >/dev/null || fail "$program is needed, and there is no apt-get to install it with"
  twice as_root apt-get -qq update
  twice as_root env DEBIAN_FRONTEND=noninteractive apt-get -qq -y install --no-install-recommends poppler-utils zbar-tools
done

cargo build --quiet -p saltern
saltern="${CARGO_TARGET_DIR:-target}/debug/saltern"

rm -rf "$out" && mkdir -p "$out"
# Dated, so that nothing here depends on the day it runs.
dated=(--printed-at 2027-02-01T12:00:00Z)
later=(--printed-at 2027-02-03T12:00:00Z)
quiet() { "$@" 2>"$out/.told" || [ $? = 1 ] || { cat "$out/.told" >&2; fail "$*"; }; }

for event in harvest-supper duck-class orchard-lunch; do
  quiet "$saltern" export demo "$event" --as ics "${dated[@]}" --out "$out/$event.ics"
  quiet "$saltern" export demo "$event" --as json --out "$out/$event.json"
  quiet "$saltern" export demo "$event" --as xlsx "${dated[@]}" --out "$out/$event.xlsx"
  quiet "$saltern" export demo "$event" --as csv --out "$out/$event"
done
# A later service, and back again: what it brought is called off.
quiet "$saltern" export demo harvest-supper --as ics --set serve=+90min --since "$out/harvest-supper.ics" "${later[@]}" --out "$out/replanned.ics"
quiet "$saltern" export demo harvest-supper --as ics --since "$out/replanned.ics" "${later[@]}" --out "$out/back.ics"
for recipe in book/recipes/*.toml; do
  id=$(basename "$recipe" .toml)
  quiet "$saltern" export demo --recipe "$id" --as jsonld --out "$out/$id.jsonld"
done

# Papers: two events on both stocks in both languages, labels cut and singly, and sheets made to be awkward.
papers() { quiet "$saltern" sheets demo "$1" "${dated[@]}" --out "$out/papers/$2" "${@:3}" >"$out/.pages"; }
papers duck-class duck-class --stock iso
papers duck-class again --stock iso
papers duck-class single --only tub-label --labels single
papers harvest-supper harvest-supper --stock us --lang fr --units us
diff -r "$out/papers/duck-class" "$out/papers/again" || fail "the same papers twice are not the same bytes"
rm -r "$out/papers/again"
cargo run --quiet -p saltern-press --example draw -- "$out/papers/samples" >"$out/.pages"
"$env/bin/python" "$here/papers.py" "$out"

"$env/bin/python" "$here/read.py" "$out" docs/contract-1.schema.json
