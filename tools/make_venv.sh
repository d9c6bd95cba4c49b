#!/bin/sh
# Make a virtual environment in the folder given, with Debian's help where venv is missing.
set -eu
target=$1
python=${PYTHON:-}
if [ -z "$python" ]; then
    for candidate in python3.11 python3.12 python3.13 python3; do
        if command -v "$candidate" >/dev/null 2>&1; then
            python=$candidate
            break
        fi
    done
fi
if [ -z "$python" ]; then
    echo "Python 3.11 or newer is needed: install the package python3.11 (or set PYTHON=...)." >&2
    exit 1
fi
"$python" -c 'import sys; sys.exit(sys.version_info < (3, 11))' || {
    echo "$python is older than 3.11; set PYTHON to a newer one." >&2
    exit 1
}
if "$python" -c 'import ensurepip, venv' >/dev/null 2>&1; then
    exec "$python" -m venv "$target"
fi
version=$("$python" -c 'import sys; print(f"{sys.version_info[0]}.{sys.version_info[1]}")')
sh "$(dirname "$0")/debian_packages.sh" "python$version-venv"
exec "$python" -m venv "$target"
