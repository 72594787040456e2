#!/usr/bin/env python3
"""Packs the built web page into two sources: gzipped bytes (assembler) and a table (C++).

usage: embed_web.py FOLDER TABLE.cpp BYTES.S [PATH=FILE ...]

PATH=FILE adds one more file under the path given.
"""
import gzip
import pathlib
import sys


def main() -> None:
    folder, table, assembly = (pathlib.Path(argument) for argument in sys.argv[1:4])
    found = sorted(path for path in folder.rglob("*") if path.is_file()) if folder.is_dir() else []
    files = [("/" + path.relative_to(folder).as_posix(), path) for path in found]
    for extra in sys.argv[4:]:
        name, _, file = extra.partition("=")
        files.append((name, pathlib.Path(file)))
    packed = assembly.parent / "embedded_web"
    packed.mkdir(parents=True, exist_ok=True)
    code = [".section .rodata"]
    externs, rows = [], []
    for number, (name, path) in enumerate(files):
        blob = packed / f"{number}.gz"
        blob.write_bytes(gzip.compress(path.read_bytes(), 9, mtime=0))
        code += [
            f".global film_web_{number}_begin", f".global film_web_{number}_end",
            f"film_web_{number}_begin:", f'.incbin "{blob}"', f"film_web_{number}_end:", ".byte 0",
        ]
        externs.append(f"extern const char film_web_{number}_begin[], film_web_{number}_end[];")
        rows.append(f'    {{"{name}", film_web_{number}_begin, film_web_{number}_end}},')
    code.append('.section .note.GNU-stack,"",@progbits')  # keeps the stack not executable
    assembly.write_text("\n".join(code) + "\n")
    table.write_text(
        '#include "server/embedded.h"\n\nextern "C" {\n' + "\n".join(externs) + "\n}\n\n"
        "namespace film::server {\n\nstd::vector<EmbeddedFile> embedded_files() {\n  return {\n"
        + "\n".join(rows) + "\n  };\n}\n\n}  // namespace film::server\n")


if __name__ == "__main__":
    main()
