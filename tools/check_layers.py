#!/usr/bin/env python3
"""Holds the code to the table "Who may include whom" of docs/architecture.md.

Checks every #include under src, that a source includes its own header first, every film_library line
of CMakeLists.txt, the headers that pure folders may not use, and where third-party libraries may
appear. Prints each breach; exits 1.
"""
import pathlib
import re
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent
PURE = "base geometry surface pattern digitise layout cutting glazing planning hours".split()
IMPURE_HEADERS = re.compile(
    r"<(fstream|filesystem|iostream|cstdio|stdio\.h|thread|future|unistd\.h|ctime|time\.h|sys/.*)>")
CLOCK_READ = re.compile(r"_clock\b")  # the calendar of <chrono> is pure, its clocks are not
CONFINED = {  # pattern of an outside header: folders that may name it
    r"<(soci|sqlite3|libpq)": ["store"],
    r"<boost/": ["server"],
    r"<Eigen/": ["geometry", "surface", "digitise", "glazing", "planning"],
    r"<(cairo|pango|qrencode|assimp|pugixml|zip\.h)": ["formats"],
    r"<apriltag/": ["digitise"],
    r"<(date/|sodium)": ["host"],
    r"<(jpeglib|png)\.h": ["formats"],
    r"<polyclipping": [],
    r"<tl/": ["base"],
    r"<fmt/": ["base"],
    r"<CLI/": ["cli"],
}


def table() -> dict[str, set[str]]:
    text = (ROOT / "docs/architecture.md").read_text()
    rows = re.search(r"```layers\n(.*?)```", text, re.S).group(1)
    return {name: set(allowed.split()) | {name}
            for name, allowed in re.findall(r"^(\w+):(.*)$", rows, re.M)}


def include_breaches(allowed):
    for path in sorted((ROOT / "src").rglob("*")):
        if path.suffix not in (".h", ".cpp"):
            continue
        parts = path.relative_to(ROOT / "src").parts
        folder = parts[0]
        where = path.relative_to(ROOT).as_posix()
        if folder not in allowed:
            yield f"{where}: folder {folder} is not in the table"
            continue
        for number, line in enumerate(path.read_text().splitlines(), 1):
            own = re.match(r'\s*#include "([^"/]+)/([^"]+)"', line)
            if own:
                other, rest = own.groups()
                if other not in allowed[folder]:
                    yield f"{where}:{number}: {folder} may not include {other}"
                if "detail/" in rest and (other != folder or (path.suffix == ".h" and "detail" not in parts)):
                    yield f"{where}:{number}: detail/ is private to {other}'s sources"
            if folder in PURE and CLOCK_READ.search(line):
                yield f"{where}:{number}: {folder} is pure: {line.strip()}"
            if re.match(r"\s*#include <", line):
                if folder in PURE and IMPURE_HEADERS.search(line):
                    yield f"{where}:{number}: {folder} is pure: {line.strip()}"
                for pattern, folders in CONFINED.items():
                    if re.search(pattern, line) and folder not in folders:
                        yield f"{where}:{number}: only {', '.join(folders) or 'tests'} may name {line.strip()}"


def order_breaches():
    """A source includes its own header first, which shows that the header needs nothing before it."""
    for path in sorted((ROOT / "src").rglob("*.cpp")):
        header = path.with_suffix(".h")
        own = f'#include "{header.relative_to(ROOT / "src").as_posix()}"'
        first = next((line for line in path.read_text().splitlines() if line.startswith("#include")), "")
        if header.exists() and first != own:
            yield f"{path.relative_to(ROOT).as_posix()}: {own} must come first"


def link_breaches(allowed):
    text = (ROOT / "CMakeLists.txt").read_text()
    for name, body in re.findall(r"film_library\((\w+)([^)]*)\)", text):
        folders = re.search(r"FOLDERS\s+((?:\w+\s*)+?)(?=OUTSIDE|PRECOMPILED|$)", body)
        for other in (folders.group(1).split() if folders else []):
            if other not in allowed.get(name, set()):
                yield f"CMakeLists.txt: {name} may not link {other}"


def main() -> int:
    allowed = table()
    breaches = [*include_breaches(allowed), *order_breaches(), *link_breaches(allowed)]
    for breach in breaches:
        print(breach)
    print(f"layers: {len(breaches)} breaches")
    return 1 if breaches else 0


if __name__ == "__main__":
    sys.exit(main())
