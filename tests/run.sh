#!/bin/sh
# Run every test; arguments go to pytest.
set -eu
cd "$(dirname "$0")/.."
. examples/setup.sh

has_browser() { command -v chromium && command -v chromedriver; }
has_firefox() { command -v firefox-esr || command -v firefox; }
has_ffmpeg() { command -v ffmpeg; }
has_poppler() { command -v pdffonts && command -v pdftotext; }

install test
need has_browser "chromium chromium-driver"
need has_firefox "firefox-esr"
need has_poppler "poppler-utils"
need has_ffmpeg "ffmpeg"

exec .venv/bin/python -m pytest -n 2 "$@"
