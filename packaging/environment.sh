# Sourced by start, test and bench: a Python, the virtual environment, the system's libraries.
# Nothing here is done twice: a stamp in the environment says what it was made from.

top=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
venv="$top/.venv"
say() { printf '%s\n' "$*" >&2; }
give_up() { say "$*"; exit 1; }

# Qt's own needs on a bare Debian, each proved by an import that fails without it.
libraries_offscreen="libegl1 libgl1 libxkbcommon0 libdbus-1-3 libfontconfig1 libglib2.0-0"
libraries_window="libxkbcommon-x11-0 libxcb-cursor0 libxcb-icccm4 libxcb-keysyms1 libxcb-shape0"
programs_test="xvfb xauth libcairo2 poppler-utils"

as_root() { [ "$(id -u)" = 0 ]; }

have_packages() {
    command -v dpkg-query >/dev/null 2>&1 || return 1
    local name
    for name in "$@"; do
        dpkg-query -W -f='${Status}' "$name" 2>/dev/null | grep -q 'install ok installed' || return 1
    done
}

# Installs Debian packages where it may; else one sentence with the command to run.
need_packages() {
    have_packages "$@" && return 0
    if command -v apt-get >/dev/null 2>&1 && as_root; then
        say "Installing system packages: $*"
        { apt-get update -qq && DEBIAN_FRONTEND=noninteractive \
            apt-get install -y -qq --no-install-recommends "$@"; } >/dev/null ||
            give_up "The system packages could not be installed; run: apt-get install $*"
    elif command -v apt-get >/dev/null 2>&1; then
        give_up "Some system packages are missing; run: sudo apt-get install $*"
    fi
}

find_python() {
    local name
    for name in python3.13 python3.12 python3.11 python3; do
        if command -v "$name" >/dev/null 2>&1 &&
            "$name" -c 'import sys; sys.exit(sys.version_info < (3, 11))'; then
            command -v "$name"
            return
        fi
    done
    give_up "Samecut needs Python 3.11 or newer; install it and run this again."
}

make_venv() {
    local python
    [ -x "$venv/bin/python" ] && "$venv/bin/python" -c 'import pip' 2>/dev/null && return
    python=$(find_python) || exit 1
    "$python" -c 'import ensurepip' 2>/dev/null || need_packages python3-venv
    rm -rf "$venv"
    "$python" -m venv "$venv" || give_up "The virtual environment could not be made at $venv."
}

# install_samecut EXTRA: "" to run, "[dev]" to test; exact versions from constraints.txt.
install_samecut() {
    local want stamp="$venv/samecut-stamp"
    want="$1 $(cat "$top/pyproject.toml" "$top/packaging/constraints.txt" | sha256sum)"
    if [ -f "$stamp" ] && grep -qxF "$want" "$stamp"; then return; fi
    say "Installing what Samecut needs into .venv (a minute or two, once) …"
    "$venv/bin/python" -m pip install --quiet --disable-pip-version-check \
        --constraint "$top/packaging/constraints.txt" --editable "$top$1" ||
        give_up "The Python packages could not be installed; look at the lines above."
    printf '%s\n' "$want" >>"$stamp"
}
