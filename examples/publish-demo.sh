#!/bin/sh
# Publish the demo academy to site/, on a machine that has Python 3.11 or newer and nothing else.
set -eu
cd "$(dirname "$0")/.."
. examples/setup.sh

install examples

# The day after the newest lesson of the demo, so that the desk always shows the same students as due.
SOURCE_DATE_EPOCH=1795608000 .venv/bin/reportgen publish examples/academy --to site --jobs 2

echo "Open these pages:"
sed -n 's|.*href="\.\./\(upload/s/[^"]*\)">Duarte Pemberlow<.*|  A student, Duarte:   site/\1|p' site/desk/index.html
echo "  The desk:            site/desk/index.html"
echo "  The drill library:   site/upload/library/index.html"
