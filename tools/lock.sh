#!/bin/sh
# Locks with hashes and without addresses. Run after changing the dependencies in pyproject.toml.
set -eu
uv=$1
lock() {
    "$uv" pip compile --quiet --universal --generate-hashes --no-header --no-annotate \
        --python-version 3.11 pyproject.toml "$@"
}
lock --output-file locks/run.txt
lock --extra dev --output-file locks/dev.txt
