#!/usr/bin/env python3
"""Packs the built web page into two sources: gzipped bytes (assembler) and a table (C++).

usage: embed_web.py FOLDER TABLE.cpp BYTES.S
"""
import gzip
import pathlib
import sys


def main() -> None:
    folder, table, assembly = (pathlib.Path(argument) for argument in sys.argv[1:4])
    files = sorted(path for path in folder.rglob("*") if path.is_file()) if folder.is_dir() else []
    packed = assembly.parent / "embedded_web"
    packed.mkdir(parents=True, exist_ok=True)
    code = [".section .rodata"]
    externs, rows = [], []
    for number, path in enumerate(files):
        blob = packed / f"{number}.gz"
        blob.write_bytes(gzip.compress(path.read_bytes(), 9, mtime=0))
        code += [
            f".global film_web_{number}_begin", f".global film_web_{number}_end",
            f"film_web_{number}_begin:", f'.incbin "{blob}"', f"film_web_{number}_end:", ".byte 0",
        ]
        externs.append(f"extern const char film_web_{number}_begin[], film_web_{number}_end[];")
        name = "/" + path.relative_to(folder).as_posix()
        rows.append(f'    {{"{name}", film_web_{number}_begin, film_web_{number}_end}},')
    code.append('.section .note.GNU-stack,"",@progbits')  # keeps the stack not executable
    assembly.write_text("\n".join(code) + "\n")
    table.write_text(
        '#include "server/embedded.h"\n\nextern "C" {\n' + "\n".join(externs) + "\n}\n\n"
        "namespace film::server {\n\nstd::vector<EmbeddedFile> embedded_files() {\n  return {\n"
        + "\n".join(rows) + "\n  };\n}\n\n}  // namespace film::server\n")


if __name__ == "__main__":
    main()
