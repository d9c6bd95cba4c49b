#!/bin/sh
# Install the Debian packages given that are missing; say what to do where that is not possible.
set -eu
missing=""
for package in "$@"; do
    dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q "install ok installed" || missing="$missing $package"
done
[ -n "$missing" ] || exit 0
if ! command -v apt-get >/dev/null 2>&1; then
    echo "Please install with your system's package manager:$missing" >&2
    exit 1
fi
as_root=""
if [ "$(id -u)" != 0 ]; then
    if command -v sudo >/dev/null 2>&1; then
        as_root=sudo
    else
        echo "Please run as root: apt-get install$missing" >&2
        exit 1
    fi
fi
# shellcheck disable=SC2086 # the list is meant to be split
$as_root apt-get update -qq
# shellcheck disable=SC2086
DEBIAN_FRONTEND=noninteractive $as_root apt-get install -y -qq --no-install-recommends $missing
