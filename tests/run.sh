#!/bin/sh
# Run every test; arguments go to pytest.
set -eu
cd "$(dirname "$0")/.."
. examples/setup.sh

has_browser() { command -v chromium && command -v chromedriver; }
has_firefox() { command -v firefox-esr || command -v firefox; }
has_ffmpeg() { command -v ffmpeg; }
has_mutt() { command -v mutt && command -v tmux; }
has_java() { command -v java; }
has_npm() { command -v npm; }
has_poppler() { command -v pdffonts && command -v pdftotext; }

install tests
need has_browser "chromium chromium-driver"
need has_firefox "firefox-esr"
need has_mutt "mutt tmux"
need has_java "default-jre-headless"
need has_npm "npm"
need has_poppler "poppler-utils"
need has_ffmpeg "ffmpeg"

# The checkers of pages and the YAML test suite that npm carries, those very versions, once; nothing of them runs on installing.
if ! cmp -s tests/npm/package-lock.json .venv/npm/installed; then
    mkdir -p .venv/npm
    cp tests/npm/package.json tests/npm/package-lock.json .venv/npm
    npm ci --prefix .venv/npm --ignore-scripts --no-audit --no-fund --silent || exit 1
    cp tests/npm/package-lock.json .venv/npm/installed
fi

exec .venv/bin/python -m pytest -n 2 --dist loadfile "$@"
