#!/usr/bin/env bash
# Puts in place the system's packages that the tests need, where there is the right to do so.
set -euo pipefail

missing=()
compgen -G '/usr/lib/postgresql/*/bin/initdb' >/dev/null || command -v initdb >/dev/null ||
    missing+=(postgresql)
[ -x /usr/bin/chromium ] || missing+=(chromium)
if [ ${#missing[@]} -eq 0 ]; then
    exit 0
fi

as_root=()
if [ "$(id -u)" -ne 0 ]; then
    as_root=(sudo -n)
fi
if command -v apt-get >/dev/null && { [ "$(id -u)" -eq 0 ] || sudo -n true 2>/dev/null; }; then
    printf 'Installing for the tests: %s\n' "${missing[*]}"
    "${as_root[@]}" apt-get update -qq
    DEBIAN_FRONTEND=noninteractive "${as_root[@]}" apt-get install -y -qq "${missing[@]}" >/dev/null
    exit 0
fi
printf 'The tests need these programs of the system, and there is no right to install them here: %s\n' \
    "${missing[*]}" >&2
printf 'Install them first. Debian: apt-get install %s\n' "${missing[*]}" >&2
exit 2
