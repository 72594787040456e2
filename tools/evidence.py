#!/usr/bin/env python3
"""Runs the measurements of each topic and rewrites its table in docs/evidence.md.

A topic is a program bench/evidence_TOPIC.cpp or a script bench/evidence_TOPIC.py that prints one
JSON object a line: {"figure", "value", "target", "source", "met": true | false | null}.
"""
import datetime
import json
import pathlib
import platform
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent
PAGE = ROOT / "docs/evidence.md"
TOPICS = ["surface", "pieces", "layout", "cutting", "shop-book", "plan", "glass", "workbench"]


def measured(topic: str) -> bool:
    return any((ROOT / f"bench/evidence_{topic.replace('-', '_')}{end}").exists()
               for end in (".cpp", ".py"))


def command(topic: str) -> list[str]:
    name = "evidence_" + topic.replace("-", "_")
    script = ROOT / f"bench/{name}.py"
    if script.exists():
        subprocess.run([ROOT / "run", "--build"], check=True, stdout=subprocess.DEVNULL)
        return [sys.executable, str(script)]
    subprocess.run(["cmake", "--preset", "release"], cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    subprocess.run(["cmake", "--build", "--preset", "release", "--target", f"bench_{name}"],
                   cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    return [str(ROOT / f"build/release/bench_{name}")]


def measure(topic: str) -> list[dict]:
    rows = []
    with subprocess.Popen(command(topic), cwd=ROOT, stdout=subprocess.PIPE, text=True) as process:
        for line in process.stdout:
            row = json.loads(line)
            rows.append(row)
            mark = {True: "met", False: "MISSED", None: "-"}[row["met"]]
            print(f"  {mark:7} {row['figure']}: {row['value']} (target: {row['target']})", flush=True)
    if process.returncode:
        sys.exit(f"evidence: the measurement of '{topic}' ended with code {process.returncode}")
    return rows


def machine() -> str:
    model = re.search(r"model name\s*:\s*(.*)", pathlib.Path("/proc/cpuinfo").read_text())
    cores = len(re.findall(r"^processor", pathlib.Path("/proc/cpuinfo").read_text(), re.M))
    return f"{model.group(1) if model else platform.machine()}, {cores} cores"


def git(*arguments: str) -> str:
    return subprocess.run(["git", *arguments], cwd=ROOT, text=True, capture_output=True,
                          check=False).stdout.strip()


def commit() -> str:
    changed = git("status", "--porcelain", "--", ".", ":!docs/evidence.md")
    return (git("rev-parse", "--short", "HEAD") or "unknown") + (" with changes" if changed else "")


def table(topic: str, rows: list[dict]) -> str:
    clean = lambda text: str(text).replace("|", "/")
    lines = [f"<!-- {topic} -->",
             f"`./evidence {topic}` on {datetime.date.today()}, commit {commit()}, {machine()}.", "",
             "| figure | value | target | met | source |", "|---|---|---|---|---|"]
    for row in rows:
        met = {True: "yes", False: "**no**", None: ""}[row["met"]]
        lines.append(f"| {clean(row['figure'])} | {clean(row['value'])} | {clean(row['target'])} "
                     f"| {met} | {clean(row['source'])} |")
    return "\n".join([*lines, f"<!-- /{topic} -->"])


def rewrite(topic: str, rows: list[dict]) -> None:
    text = PAGE.read_text()
    block = re.compile(rf"<!-- {topic} -->.*?<!-- /{topic} -->", re.S)
    if not block.search(text):
        sys.exit(f"evidence: docs/evidence.md has no place for '{topic}'")
    PAGE.write_text(block.sub(lambda _: table(topic, rows), text))


def main() -> int:
    topics = sys.argv[1:] or [topic for topic in TOPICS if measured(topic)]
    for topic in topics:
        if topic not in TOPICS:
            sys.exit(f"evidence: no topic '{topic}'; there are: {', '.join(TOPICS)}")
        if not measured(topic):
            sys.exit(f"evidence: nothing is measured yet for '{topic}'")
    missed = []
    for topic in topics:
        print(f"\n== {topic}", flush=True)
        rows = measure(topic)
        rewrite(topic, rows)
        missed += [f"{topic}: {row['figure']}" for row in rows if row["met"] is False]
    print(f"\n{len(missed)} targets missed" + "".join(f"\n  {name}" for name in missed))
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
