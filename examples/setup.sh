# Shell functions for examples/publish-demo.sh and tests/run.sh, which source this file from the root of the repository.
# They make .venv there, once; what is there already is left alone.

PANGO="libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz0b libharfbuzz-subset0"

# need CHECK PACKAGES: where the command CHECK fails, install Debian's PACKAGES as root, or say what to install and leave.
need() {
    if $1 >/dev/null 2>&1; then return; fi
    if [ "$(id -u)" -ne 0 ] || ! command -v apt-get >/dev/null; then
        echo "Something is missing. Install it as root: apt-get install $2" >&2
        exit 1
    fi
    echo "Installing $2" >&2
    export DEBIAN_FRONTEND=noninteractive
    { apt-get update -q && apt-get install -qy --no-install-recommends $2; } </dev/null >/dev/null || exit 1
    if ! $1 >/dev/null 2>&1; then
        echo "$2 did not help: $1 still fails." >&2
        exit 1
    fi
}

# The newest Python on the path that is new enough, in $python.
find_python() {
    for python in python3 python3.14 python3.13 python3.12 python3.11; do
        if "$python" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then return; fi
    done
    echo "Python 3.11 or newer is missing. Install it, for instance as root: apt-get install python3 python3-venv" >&2
    exit 1
}

has_ensurepip() { "$python" -c 'import ensurepip, venv'; }

has_pango() {
    "$python" -c 'import ctypes
for name in "pango-1.0", "pangoft2-1.0", "harfbuzz", "harfbuzz-subset":
    ctypes.CDLL(f"lib{name}.so.0")'
}

# install WHAT: into .venv the libraries of WHAT/requirements.txt, those very versions and files (WHAT is examples, or
# tests for what the tests need too), and the package itself, editable; again only when one of these files changed.
install() {
    find_python
    need has_pango "$PANGO"
    now="$(cat pyproject.toml examples/requirements.txt tests/requirements.txt | cksum) $(pwd)"
    if .venv/bin/python -c '' 2>/dev/null && [ "$(cat ".venv/installed-$1" 2>/dev/null)" = "$now" ]; then return; fi
    if ! .venv/bin/python -m pip --version >/dev/null 2>&1; then
        need has_ensurepip "$("$python" -c 'import sys; print("python%d.%d-venv" % sys.version_info[:2])')"
        "$python" -m venv --clear .venv || exit 1
    fi
    echo "Installing reportgen into .venv" >&2
    pip_install --require-hashes --only-binary :all: -r "$1/requirements.txt"
    pip_install --no-deps --no-build-isolation --no-index -e .
    echo "$now" >".venv/installed-$1"
    echo "$now" >.venv/installed-examples
}

pip_install() { .venv/bin/python -m pip install -q --disable-pip-version-check --root-user-action=ignore "$@" || exit 1; }
