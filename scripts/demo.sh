#!/usr/bin/env bash
# What `make demo` shows once everything is set up.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

./.venv/bin/fastness --version
