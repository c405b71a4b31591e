#!/bin/sh
# Makes the virtual environment in $1 from the lock. uv is quicker; pip reads the same lock.
set -eu
venv=$1
python=${PYTHON:-python3}

if ! "$python" -c 'import sys; raise SystemExit(not (3, 11) <= sys.version_info[:2] < (3, 14))'; then
    echo "Mancary needs Python 3.11, 3.12 or 3.13; '$python' is $("$python" --version 2>&1)." >&2
    echo "Name another with: make PYTHON=/path/to/python3.12 ..." >&2
    exit 1
fi
if ! "$python" -c 'import ensurepip, venv' 2>/dev/null; then
    if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null; then
        apt-get update -qq && apt-get install -y -qq --no-install-recommends python3-venv
    else
        echo "Python's venv module is missing. On Debian: sudo apt-get install python3-venv" >&2
        exit 1
    fi
fi
rm -rf "$venv"
"$python" -m venv "$venv"
if "$venv/bin/python" -m pip install --quiet --disable-pip-version-check uv 2>/dev/null &&
    "$venv/bin/uv" pip sync --quiet --python "$venv/bin/python" --require-hashes \
        --compile-bytecode locks/dev.txt
then
    "$venv/bin/uv" pip install --quiet --python "$venv/bin/python" --no-deps \
        --no-build-isolation --editable .
else
    "$venv/bin/python" -m pip install --quiet --disable-pip-version-check --require-hashes -r locks/dev.txt
    "$venv/bin/python" -m pip install --quiet --disable-pip-version-check --no-deps \
        --no-build-isolation --editable .
fi
