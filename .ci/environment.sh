# Functions that ./serve, ./check and .ci/run share: a Python, an environment, and the tools that
# pip cannot bring. To be sourced from the project's top folder.

say() { printf '\n== %s\n' "$*"; }

warn() { printf '\n!! %s\n' "$*" >&2; }

# Print the name of a Python 3.11 or newer, or fail with what is needed.
find_python() {
  local name
  for name in python3.11 python3 python3.12 python3.13 python3.14 python; do
    if "$name" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then
      echo "$name"
      return 0
    fi
  done
  warn "No Python 3.11 or newer was found. Needed: Python 3.11, with pip."
  return 1
}

may_install_system_packages() {
  [ "$(id -u)" -eq 0 ] && command -v apt-get >/dev/null
}

# Run apt-get install without questions.
install_system_packages() {
  apt-get update -qq \
    && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "$@" >/dev/null
}

# Make an empty virtual environment in a folder, with Debian's missing half of venv if need be.
make_empty_environment() {
  local python=$1 folder=$2
  rm -rf "$folder"
  "$python" -m venv "$folder" && return 0
  rm -rf "$folder"
  if ! may_install_system_packages; then
    warn "Python cannot make a virtual environment here. Needed: the package python3-venv."
    return 1
  fi
  install_system_packages python3-venv && "$python" -m venv "$folder"
}

# Make .venv with the project in it, installed in place, and what its development needs.
# One that was made here from the same pyproject.toml is used again.
make_environment() {
  local made_from python
  made_from="$PWD $(cksum <pyproject.toml)"
  [ "$(cat .venv/made-from 2>/dev/null)" = "$made_from" ] && return 0
  python=$(find_python) || return 1
  say "Making the environment .venv with $("$python" --version)"
  make_empty_environment "$python" .venv || return 1
  .venv/bin/python -m pip install --quiet --editable ".[dev]" || return 1
  echo "$made_from" >.venv/made-from
}

# Install what the tests of printed and opened pages need and pip cannot bring. Sets HAS_BROWSER.
install_system_tools() {
  HAS_BROWSER=yes
  if command -v chromium >/dev/null && command -v chromedriver >/dev/null \
    && command -v pdftoppm >/dev/null; then
    return 0
  fi
  if may_install_system_packages; then
    say "Installing Chromium, its driver and poppler-utils"
    # Liberation Sans stands in for the sans-serif fonts that the pages ask for.
    install_system_packages chromium chromium-driver poppler-utils fonts-liberation
    return
  fi
  HAS_BROWSER=no
  warn "SKIPPED: Chromium, chromium-driver and poppler-utils are not all here and cannot be
!! installed (root and apt-get are needed). Tests marked 'browser' will NOT run."
}
