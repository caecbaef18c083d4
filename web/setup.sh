# Finds what a build needs and gets what is missing. The one place that installs or fetches anything.
#
#   sh web/setup.sh [page|native|tests|bench]     or, sourced:  . web/setup.sh; saltrafter_setup page
#
# On Debian, as root or with sudo, missing packages are installed by apt; elsewhere one line per missing thing
# says what to install. Sources that are built here are kept in a cache folder outside the build folder, so
# that a second run takes seconds. What it finds is exported for CMake (see the end of saltrafter_setup).
#
# Own copies:  SALTRAFTER_IMGUI_DIR       folder with imgui.h of Dear ImGui 1.92 or later
#              SALTRAFTER_SDL2_SOURCE_DIR folder with SDL 2.26's CMakeLists.txt (for the bench)
#              SALTRAFTER_HEADERS         folder that holds nlohmann/ and doctest/
#              SALTRAFTER_FONTS           folder with the four .ttf files
#              SALTRAFTER_CACHE           where fetched and built things are kept

imgui_version=1.92.2b+ds-1
imgui_sha256=e7bd201d56b5ee90d24d5dac85e5c12f98bdb95410252a62d27b7f89e4566d48
sdl2_version=2.26.5+dfsg-1
sdl2_sha256=b3f2c822151804125d08db94c65852f711c2e5df2145a59da120748dc32eb9c3
archive_keyring=/usr/share/keyrings/debian-archive-keyring.gpg

: "${SALTRAFTER_CACHE:=${XDG_CACHE_HOME:-$HOME/.cache}/saltrafter}"
export SALTRAFTER_CACHE

# step WORDS: one numbered line. A script sets step_total before; the count goes on across functions.
step() {
  step_now=$((${step_now:-0} + 1))
  printf '[%s/%s] %s\n' "$step_now" "${step_total:-4}" "$*"
}

fail() {
  printf '%s\n' "$*" >&2
  exit 1
}

# quiet LOG COMMAND...: runs it with its words in a log, shows the end of the log when it fails.
quiet() {
  quiet_log=$1
  shift
  mkdir -p "$(dirname "$quiet_log")"
  "$@" >"$quiet_log" 2>&1 && return 0
  quiet_code=$?
  printf 'This failed (%s): %s\n' "$quiet_code" "$*" >&2
  tail -n 30 "$quiet_log" >&2
  printf 'The whole log: %s\n' "$quiet_log" >&2
  return "$quiet_code"
}

# What is looked for, by kind of build: CHECK PACKAGE [optional], where CHECK is a command, a header, a font,
# what clang links a sanitizer with or, by its pkg-config name, a library. What is optional is installed where
# that can be done, else done without.
needed() {
  cat <<LIST
command:cmake cmake
command:ninja ninja-build
command:g++ g++
command:xz xz-utils
python:fontTools python3-fonttools
header:nlohmann/json.hpp nlohmann-json3-dev
header:doctest/doctest.h doctest-dev
font:GentiumBookPlus-Regular.ttf fonts-sil-gentiumplus
font:Carlito-Regular.ttf fonts-crosextra-carlito
LIST
  case $1 in page | tests | bench) cat <<LIST
command:emcc emscripten
module:acorn node-acorn
command:node nodejs
command:rsvg-convert librsvg2-bin
LIST
  esac
  case $1 in native | tests | bench) cat <<LIST
header:SDL2/SDL.h libsdl2-dev
header:GL/gl.h libgl-dev
command:pkg-config pkg-config optional
library:pangocairo libpango1.0-dev optional
LIST
  esac
  case $1 in tests | bench) cat <<LIST
command:npm npm
command:clang++ clang
runtime:fuzzer libclang-rt-14-dev
command:chromium chromium
command:Xvfb xvfb
command:xauth xauth
command:import imagemagick
command:firefox-esr firefox-esr
command:WebKitWebDriver webkit2gtk-driver
command:xdotool xdotool
python:scipy python3-scipy
LIST
  esac
  # Scripts that our own faces lack, for the tests of what the device's fonts draw.
  case $1 in tests) cat <<LIST
font:DroidSansFallbackFull.ttf fonts-droid-fallback
font:NanumGothic.ttf fonts-nanum
font:NotoSansThaiUI-Regular.ttf fonts-noto-ui-core
font:NotoColorEmoji.ttf fonts-noto-color-emoji
LIST
  esac
}

# Debian's Python first: its font tools are seen by no other one.
find_python() {
  for python in ${SALTRAFTER_PYTHON:-} /usr/bin/python3 python3; do
    "$python" -c "import $1" >/dev/null 2>&1 && return 0
  done
  return 1
}

find_font() {
  for font_dir in ${SALTRAFTER_FONTS:-} /usr/share/fonts /usr/local/share/fonts "$HOME/.local/share/fonts"; do
    [ -d "$font_dir" ] && [ -n "$(find "$font_dir" -name "$1" -print | head -n 1)" ] && return 0
  done
  return 1
}

present() {
  case $1 in
    command:*) command -v "${1#*:}" >/dev/null 2>&1 ;;
    python:*) find_python "${1#*:}" ;;
    font:*) find_font "${1#*:}" ;;
    runtime:*) ls "$(clang++ -print-resource-dir 2>/dev/null)"/lib/linux/libclang_rt."${1#*:}"-*.a >/dev/null 2>&1 ;;
    library:*) command -v pkg-config >/dev/null 2>&1 && pkg-config --exists "${1#*:}" ;;
    module:*) [ -d "/usr/share/nodejs/${1#*:}" ] || node -e "require('${1#*:}')" 2>/dev/null ;;
    header:*)
      for header_dir in ${SALTRAFTER_HEADERS:-} /usr/include /usr/local/include \
          "/usr/include/$(uname -m)-linux-gnu"; do
        [ -e "$header_dir/${1#*:}" ] && return 0
      done
      return 1 ;;
  esac
}

missing_of() {
  needed "$1" | while read -r check package optional; do
    present "$check" || printf '%s %s %s\n' "$check" "$package" "$optional"
  done
}

as_root() {
  if [ "$(id -u)" = 0 ]; then "$@"; else sudo "$@"; fi
}

install_missing() {
  missing=$(missing_of "$1")
  if [ -z "$missing" ]; then
    step "Tools: all there"
    return 0
  fi
  if command -v apt-get >/dev/null 2>&1 && { [ "$(id -u)" = 0 ] || command -v sudo >/dev/null 2>&1; }; then
    packages=$(printf '%s\n' "$missing" | awk '{print $2}' | sort -u | tr '\n' ' ')
    step "Tools: installing ${packages}(up to 8 minutes, once)"
    quiet "$logs/apt-update.log" as_root apt-get update || true
    # shellcheck disable=SC2086
    quiet "$logs/apt-install.log" as_root env DEBIAN_FRONTEND=noninteractive \
      apt-get install -y --no-install-recommends $packages || exit 1
    missing=$(missing_of "$1")
  fi
  required=$(printf '%s\n' "$missing" | grep -v ' optional$') || true
  if [ -z "$required" ]; then
    lacking=$(printf '%s\n' "$missing" | awk '{print $2}' | tr '\n' ' ')
    [ -n "${packages:-}" ] || step "Tools: all there but $lacking"
    return 0
  fi
  printf '%s\n' "$required" | while read -r check package optional; do
    printf 'Missing: %s. Install it; Debian has it in the package %s.\n' "${check#*:}" "$package" >&2
  done
  exit 1
}

# The addresses of Debian's own archive as this machine's apt knows them; where there are several, each is
# tried. Without lists apt cannot say whose an address is: then the ones that offer a release's main part.
archive_uris() {
  uris=$(apt-get indextargets --format '$(LABEL) $(REPO_URI)' 'Created-By: Packages' 2>/dev/null |
    awk '$1 == "Debian" && !seen[$2]++ {print $2}')
  [ -n "$uris" ] || uris=$(apt-get indextargets --no-release-info \
    --format '$(RELEASE) $(COMPONENT) $(REPO_URI)' 'Created-By: Packages' 2>/dev/null |
    awk '$1 !~ /-/ && $2 == "main" && !seen[$3]++ {print $3}')
  printf '%s\n' "$uris"
}

# A mirror may lag behind the date until which its lists are good. Signatures are checked all the same, and the
# pinned sources have a SHA-256 of their own; a source without one is taken from lists of today only.
apt_valid_until=false
private_apt() {
  apt_command=$1
  shift
  "$apt_command" -q -o Dir::Etc::sourcelist="$apt_dir/list" -o Dir::Etc::sourceparts=/nonexistent \
    -o Dir::State::lists="$apt_dir/lists" -o Dir::Cache="$apt_dir/cache" -o Acquire::Check-Valid-Until="$apt_valid_until" \
    -o APT::Sandbox::User="$(id -un)" "$@"
}

# fetch_tarball NAME VERSION SHA256 SUITES: leaves the upstream tarball of a Debian source package in the
# cache, its path in $tarball, its version in $tarball_version. The machine's apt is left as it is.
fetch_tarball() {
  tarball_dir=$SALTRAFTER_CACHE/tarballs
  mkdir -p "$tarball_dir"
  tarball_version=$2
  tarball=$(find "$tarball_dir" -name "$1_${2%-*}.orig.tar.*" -print | head -n 1)
  if [ -n "$tarball" ] && printf '%s  %s\n' "$3" "$tarball" | sha256sum -c - >/dev/null 2>&1; then
    return 0
  fi
  command -v apt-get >/dev/null 2>&1 || return 1
  [ -e "$archive_keyring" ] || return 1
  apt_dir=$(mktemp -d)
  mkdir -p "$apt_dir/lists/partial" "$apt_dir/cache/archives/partial"
  for uri in $(archive_uris); do
    for suite in $4; do
      printf 'deb-src [signed-by=%s] %s %s main\n' "$archive_keyring" "$uri" "$suite"
    done
  done >"$apt_dir/list"
  private_apt apt-get update >"$logs/fetch-$1.log" 2>&1
  offered=$(private_apt apt-cache showsrc "$1" 2>/dev/null | sed -n 's/^Version: //p')
  if ! printf '%s\n' "$offered" | grep -qxF "$2"; then
    # The suite has moved on: the newest it has that is not older. apt has checked its signature and its date.
    apt_valid_until=true
    private_apt apt-get update >>"$logs/fetch-$1.log" 2>&1 ||
      { rm -rf "$apt_dir"; fail "$1 $2 is no longer offered, and the lists of this mirror are out of date."; }
    tarball_version=
    for version in $offered; do
      dpkg --compare-versions "$version" ge "${tarball_version:-$2}" && tarball_version=$version
    done
    [ -n "$tarball_version" ] || { rm -rf "$apt_dir"; return 1; }
    printf 'Note: %s %s is no longer offered; taking %s, which is untested.\n' "$1" "$2" "$tarball_version"
  fi
  (cd "$apt_dir" && private_apt apt-get --download-only source "$1=$tarball_version") \
    >>"$logs/fetch-$1.log" 2>&1
  fetched=$(find "$apt_dir" -maxdepth 1 -name "$1_*.orig.tar.*" ! -name '*.asc' -print | head -n 1)
  [ -n "$fetched" ] || { rm -rf "$apt_dir"; return 1; }
  if [ "$tarball_version" = "$2" ]; then
    printf '%s  %s\n' "$3" "$fetched" | sha256sum -c - >/dev/null 2>&1 ||
      { rm -rf "$apt_dir"; fail "The source of $1 $2 has not the SHA-256 expected: it was not used."; }
  fi
  tarball=$tarball_dir/$(basename "$fetched")
  mv "$fetched" "$tarball"
  rm -rf "$apt_dir"
}

# unpack TARBALL DEST: all or nothing, also when two runs do it at once.
unpack() {
  fresh=$(mktemp -d "$2.XXXXXX")
  tar -xf "$1" --strip-components=1 -C "$fresh" || { rm -rf "$fresh"; return 1; }
  chmod 755 "$fresh"
  mv -T "$fresh" "$2" 2>/dev/null || rm -rf "$fresh"
  [ -d "$2" ]
}

# source_dir NAME VERSION SHA256 SUITES: $found is the unpacked source, from the cache when it is there.
source_dir() {
  upstream=${2%-*}
  found=$SALTRAFTER_CACHE/$1-${upstream%+*}
  [ -d "$found" ] && return 0
  fetch_tarball "$@" || return 1
  upstream=${tarball_version%-*}
  found=$SALTRAFTER_CACHE/$1-${upstream%+*}
  [ -d "$found" ] || unpack "$tarball" "$found"
}

setup_imgui() {
  if [ -n "${SALTRAFTER_IMGUI_DIR:-}" ]; then
    step "Dear ImGui: from $SALTRAFTER_IMGUI_DIR"
  else
    step "Dear ImGui: source $imgui_version"
    source_dir imgui "$imgui_version" "$imgui_sha256" "forky sid" ||
      fail "Dear ImGui could not be fetched. Set SALTRAFTER_IMGUI_DIR to a folder with its 1.92 sources."
    SALTRAFTER_IMGUI_DIR=$found
  fi
  [ -e "$SALTRAFTER_IMGUI_DIR/imgui.h" ] || fail "There is no imgui.h in $SALTRAFTER_IMGUI_DIR."
  export SALTRAFTER_IMGUI_DIR
}

# SDL2 as WebAssembly, which the bench's floor page stands on. Built once for a version, a compiler and a set of
# switches, and kept in the cache.
setup_sdl2_page() {
  sdl2_flags='-Oz -flto -fno-exceptions -fno-rtti'
  sdl2_switches='-DSDL_SHARED=OFF -DSDL_STATIC=ON -DSDL_TEST=OFF -DSDL_AUDIO=OFF -DSDL_JOYSTICK=OFF
    -DSDL_HAPTIC=OFF -DSDL_SENSOR=OFF -DSDL_POWER=OFF -DSDL_RENDER=OFF -DSDL_HIDAPI=OFF
    -DSDL2_DISABLE_SDL2MAIN=ON -DSDL2_DISABLE_UNINSTALL=ON'
  sdl2_key=$({
    printf '%s\n' "${SALTRAFTER_SDL2_SOURCE_DIR:-$sdl2_version}" "$sdl2_flags" "$sdl2_switches"
    emcc --version | head -n 1
  } | sha256sum | cut -c 1-12)
  SALTRAFTER_SDL2_PAGE=$SALTRAFTER_CACHE/sdl2-page-$sdl2_key
  export SALTRAFTER_SDL2_PAGE
  if [ -e "$SALTRAFTER_SDL2_PAGE/lib/libSDL2.a" ]; then
    step "SDL2 for the floor page: built before"
    return 0
  fi
  step "SDL2 for the floor page: building it, about 4 minutes, once"
  if [ -n "${SALTRAFTER_SDL2_SOURCE_DIR:-}" ]; then
    found=$SALTRAFTER_SDL2_SOURCE_DIR
  else
    source_dir libsdl2 "$sdl2_version" "$sdl2_sha256" "bookworm" ||
      fail "SDL2's source could not be fetched. Set SALTRAFTER_SDL2_SOURCE_DIR to a folder with SDL 2.26."
  fi
  sdl2_work=$(mktemp -d "$SALTRAFTER_SDL2_PAGE.XXXXXX")
  # shellcheck disable=SC2086
  quiet "$logs/sdl2-configure.log" emcmake cmake -S "$found" -B "$sdl2_work/build" -G Ninja \
    -DCMAKE_BUILD_TYPE=Release -DCMAKE_C_FLAGS_RELEASE="$sdl2_flags -DNDEBUG" \
    -DCMAKE_INSTALL_PREFIX="$sdl2_work/out" $sdl2_switches &&
    quiet "$logs/sdl2-build.log" cmake --build "$sdl2_work/build" &&
    quiet "$logs/sdl2-install.log" cmake --install "$sdl2_work/build" &&
    { mv -T "$sdl2_work/out" "$SALTRAFTER_SDL2_PAGE" 2>/dev/null || true; }
  rm -rf "$sdl2_work"
  [ -e "$SALTRAFTER_SDL2_PAGE/lib/libSDL2.a" ] || fail "SDL2 for the floor page was not built."
}

# saltrafter_setup KIND: sets SALTRAFTER_IMGUI_DIR, SALTRAFTER_SDL2_PAGE, SALTRAFTER_PYTHON and NODE_PATH.
saltrafter_setup() {
  logs=${saltrafter_logs:-build/logs}
  mkdir -p "$logs" "$SALTRAFTER_CACHE"
  logs=$(cd "$logs" && pwd)
  # emcc links with acorn from Debian's own folder of modules, which a Node from elsewhere does not search.
  [ -d /usr/share/nodejs ] && export NODE_PATH="${NODE_PATH:+$NODE_PATH:}/usr/share/nodejs"
  install_missing "$1"
  find_python fontTools && SALTRAFTER_PYTHON=$python && export SALTRAFTER_PYTHON
  setup_imgui
  case $1 in bench) setup_sdl2_page ;; esac
}

case ${0##*/} in setup.sh)
  cd "$(dirname "$0")/.." || exit 1
  case ${1:-page} in
    page | native | tests) step_total=2 ;;
    bench) step_total=3 ;;
    *) fail "Say page, native, tests or bench." ;;
  esac
  saltrafter_setup "${1:-page}" ;;
esac
