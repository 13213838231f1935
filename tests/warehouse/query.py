"""Opens a data set of marks with DuckDB, runs the SQL that ships beside it, and prints
every row of its views as JSON. Run as: query.py FOLDER. Ends with 3 without DuckDB."""

import json
import os
import sys

try:
    import duckdb
except ImportError:
    sys.exit(3)

VIEWS = """all_figures reported_figures all_skills_by_year 
    all_misconceptions reported_misconceptions reported_misconceptions_by_year coverage
    answers findings told""".split()

os.chdir(sys.argv[1])
engine = duckdb.connect()
for name in ("open-duckdb.sql", "marks.sql"):
    with open(name, encoding="utf-8") as statements:
        engine.execute(statements.read())
found = {}
for view in VIEWS:
    result = engine.execute(f"SELECT * FROM {view} ORDER BY ALL")
    columns = [column[0] for column in result.description]
    found[view] = [dict(zip(columns, row)) for row in result.fetchall()]
print(json.dumps(found, default=str))
