# Sourced by the scripts beside it: find a Python, make an environment, once.
# Candidates are run, not trusted: a version manager's stub may exist and fail.

root=$(cd "$(dirname "$0")/.." && pwd)

list_pythons() {
    for candidate in ${PYTHON:-} python3.11 python3.12 python3.13 python3.14 python3 \
        "$HOME"/.pyenv/versions/*/bin/python3; do
        "$candidate" -c 'import sys, ssl, sqlite3
v = sys.version_info
if v >= (3, 11): print("%d.%02d %s" % (v[0], v[1], sys.executable))' 2>/dev/null || true
    done | sort -u
}

oldest_python() {
    if [ -n "${PYTHON:-}" ]; then echo "$PYTHON"; else list_pythons | head -n 1 | cut -d' ' -f2-; fi
}

# The newest Python from 3.12 on, where there is one.
newest_python() {
    list_pythons | awk '$1 >= "3.12"' | tail -n 1 | cut -d' ' -f2-
}

# prepare NAME PYTHON: make .venvs/NAME from deploy/requirements-NAME.txt, or keep it.
prepare() {
    venv="$root/.venvs/$1"
    wanted="$2 $(cksum < "$root/deploy/requirements-$1.txt")"
    if [ -f "$venv/stamp" ] && [ "$(cat "$venv/stamp")" = "$wanted" ]; then
        translate "$venv/bin/python"
        return 0
    fi
    echo "Setting up Python for the first time (a minute or two) ..." >&2
    rm -rf "$venv"
    if ! "$2" -m venv "$venv" 2>"$root/.venv-error"; then
        cat "$root/.venv-error" >&2
        rm -f "$root/.venv-error"
        echo "This Python cannot make environments. On Debian or Ubuntu: sudo apt install python3-venv" >&2
        exit 1
    fi
    rm -f "$root/.venv-error"
    fill "$venv/bin/python" "$root/deploy/requirements-$1.txt"
    printf '%s' "$wanted" > "$venv/stamp"
    translate "$venv/bin/python"
}

# translate PYTHON: make what the program reads from what people translate in.
translate() {
    for texts in "$root"/locale/*/LC_MESSAGES/django.po; do
        if [ ! "${texts%.po}.mo" -nt "$texts" ]; then
            (cd "$root" && "$1" -m deploy.translations compile)
            return
        fi
    done
}

# fill PYTHON FILE: install what is listed, each with its hash. uv takes seconds where
# pip takes a minute; what pip would compile, Python compiles when it is first used.
fill() {
    if command -v uv >/dev/null 2>&1; then
        uv pip install --quiet --python "$1" --require-hashes -r "$2" >&2
    else
        "$1" -m pip install --quiet --no-compile --disable-pip-version-check \
            --require-hashes -r "$2" >&2
    fi
}

need_python() {
    if [ -z "$1" ]; then
        echo "Python 3.11 or newer is needed and was not found. Set PYTHON=/path/to/python3." >&2
        exit 1
    fi
}
