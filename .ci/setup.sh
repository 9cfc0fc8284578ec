# Sourced by demo, test, run and long: a virtual environment with everything the step needs.
# As root it installs the Debian packages that are missing; otherwise it prints the one line to type and stops.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

missing=()
command -v g++ >/dev/null || missing+=(g++)
command -v python3 >/dev/null || missing+=(python3)
python3 -c 'import ensurepip, venv' 2>/dev/null || missing+=(python3-venv)
python3 -c 'import os, sysconfig; os.stat(os.path.join(sysconfig.get_path("include"), "Python.h"))' 2>/dev/null || missing+=(python3-dev)
if [ "${need_catch2:-no}" = yes ]; then
  [ -e /usr/include/catch2/catch.hpp ] || [ -e /usr/include/catch2/catch_all.hpp ] || missing+=(catch2)
  command -v git >/dev/null || missing+=(git)
fi
if [ "${#missing[@]}" -gt 0 ]; then
  if [ "$(id -u)" -eq 0 ]; then
    echo "installing the Debian packages: ${missing[*]}"
    apt-get update -qq >/dev/null
    DEBIAN_FRONTEND=noninteractive apt-get install -y -qq "${missing[@]}" >/dev/null
  else
    echo "Some Debian packages are missing. Type this line, then the command again:"
    echo "  sudo apt-get install -y ${missing[*]}"
    exit 1
  fi
fi

venv="${DECALESCE_VENV:-.venv}"
[ -x "$venv/bin/python" ] || python3 -m venv "$venv"
PATH="$PWD/$venv/bin:$PATH"
export PATH PIP_DISABLE_PIP_VERSION_CHECK=1 PIP_ROOT_USER_ACTION=ignore
# A decalesce built elsewhere must not stand in for the one of this folder.
unset PYTHONPATH

# Installs the package of this folder with the given extras, e.g. "[test]".
install_package() {
  python -m pip install -q ".$1"
}
