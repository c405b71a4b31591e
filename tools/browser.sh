#!/bin/sh
# Finds a Chromium for the browser tests and the pictures; as root on Debian, installs one.
set -eu
for name in ${CHROMIUM:-} chromium chromium-browser google-chrome google-chrome-stable; do
    if command -v "$name" >/dev/null; then
        exit 0
    fi
done
if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null; then
    apt-get update -qq
    apt-get install -y -qq --no-install-recommends chromium fonts-dejavu-core >/dev/null
    exit 0
fi
echo "No Chromium found. Install it (Debian: sudo apt-get install chromium) or name one:" >&2
echo "  CHROMIUM=/path/to/chromium make test" >&2
exit 1
