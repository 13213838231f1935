"""Measures what a country's marks would need, on records made from real ones.

Run as: measure.py PROGRAM RECORDS FOLDER MARKED.JSON..., with DuckDB's Python package. It
writes so many records of thirty pupils into FOLDER, each with pupils drawn from one of the
records given, under other classes, ids and days. It reviews them with the program, without
and with --parquet, and times the SQL that ships beside the data set on its rows and on ten
times as many. Nothing of it is a test: the numbers are for DEVELOPERS.md."""

import json
import os
import pathlib
import random
import sys
import time

import duckdb

VIEWS = """reported_figures all_skills_by_year reported_misconceptions
    reported_misconceptions_by_year coverage""".split()


def write_records(sources, count, folder):
    """Writes the records; returns how many bytes they are."""
    draws = random.Random(1)
    sources = [json.loads(pathlib.Path(source).read_text(encoding="utf-8")) for source in sources]
    written = 0
    for number in range(count):
        # Twelve homeworks a class, as in the made-up nation.
        of_class, homework = divmod(number, 12)
        source = draws.choice(sources)
        # Without fingerprints a record is taken to be changed on purpose.
        known = {key: value for key, value in source.items() if key != "fingerprints"}
        record = known | {
            "homework": f"M{number:05}",
            "set_on": f"2026-{homework + 1:02}-{of_class % 28 + 1:02}",
            "decisions": [],
            "pupils": [
                draws.choice(source["pupils"])
                | {
                    "id": f"{of_class}-{place}",
                    "name": f"Pupil {place} of {of_class}",
                    "class": f"Class {of_class}",
                    "year": str(of_class % 9 + 1),
                }
                for place in range(30)
            ],
        }
        path = folder / f"{number:05}" / "marked.json"
        path.parent.mkdir(parents=True)
        text = json.dumps(record)
        path.write_text(text, encoding="utf-8")
        written += len(text.encode())
    return written


def run(*command):
    """Runs a command; returns seconds, processor seconds and megabytes at the peak."""
    start = time.monotonic()
    silent = os.open(os.devnull, os.O_WRONLY)
    child = os.posix_spawn(
        command[0], command, os.environ, file_actions=[(os.POSIX_SPAWN_DUP2, silent, 1)]
    )
    _, status, used = os.wait4(child, 0)
    assert status == 0, command
    seconds = time.monotonic() - start
    return f"{seconds:.1f} s, {used.ru_utime + used.ru_stime:.1f} s of processor time, {used.ru_maxrss / 1000:.0f} MB"


def query(folder, times):
    """Times every view, with the answers taken so many times under other pupils."""
    os.chdir(folder)
    engine = duckdb.connect()
    engine.execute("SET threads = 2")
    engine.execute(pathlib.Path("open-duckdb.sql").read_text(encoding="utf-8"))
    if times > 1:
        engine.execute("ALTER VIEW answers RENAME TO once")
        engine.execute(
            "CREATE VIEW answers AS SELECT once.* REPLACE "
            f"(pupil + t.range * 10000000 AS pupil) FROM once, range({times}) t"
        )
    engine.execute(pathlib.Path("marks.sql").read_text(encoding="utf-8"))
    rows = engine.execute("SELECT count(*) FROM answers").fetchone()[0]
    print(f"DuckDB, {rows} answers:")
    for view in VIEWS:
        start = time.monotonic()
        engine.execute(f"SELECT * FROM {view}").fetchall()
        print(f"  {view}: {time.monotonic() - start:.2f} s")
    return rows


program, count, folder, *sources = sys.argv[1:]
folder = pathlib.Path(folder).resolve()
size = write_records(sources, int(count), folder / "records")
print(f"{count} records of {size // int(count)} bytes")
program = str(pathlib.Path(program).resolve())
review = (program, "review", str(folder / "records"), "--quiet", "--out")
print("review:          ", run(*review, str(folder / "plain")))
print("review --parquet:", run(*review, str(folder / "out"), "--parquet"))
files = [path.stat().st_size for path in (folder / "out" / "marks").rglob("*.parquet")]
rows = query(folder / "out", 1)
print(f"{len(files)} files with {sum(files)} bytes: {sum(files) / rows:.2f} bytes an answer")
query(folder / "out", 10)
