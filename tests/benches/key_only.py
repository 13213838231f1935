"""Holds answers against a key, and nothing else: what a short script does instead of marking.

    python3 -m venv VENV && VENV/bin/pip install pandas openpyxl
    TOOTHMARK_PANDAS=VENV/bin/python cargo bench --bench batch -- 2000

Reads `answers.xlsx` and `key.csv` (question, right answer) of a folder and writes `key.xlsx`:
a row an answer with pupil, question, what was typed, the right answer and 1 or 0.
"""

import pathlib
import sys

import pandas

folder = pathlib.Path(sys.argv[1])
key = pandas.read_csv(folder / "key.csv", dtype=str).set_index("question")["right"]
answers = pandas.read_excel(folder / "answers.xlsx", dtype=str)
rows = answers.melt(["Pupil ID", "Pupil"], var_name="question", value_name="typed")
rows["right"] = rows["question"].map(key)
rows["mark"] = (rows["typed"].str.strip().str.casefold() == rows["right"].str.casefold()).astype(int)
# A worksheet holds 1,048,576 rows.
with pandas.ExcelWriter(folder / "key.xlsx") as book:
    for number, start in enumerate(range(0, len(rows), 1_000_000), 1):
        rows[start : start + 1_000_000].to_excel(book, sheet_name=f"Marks {number}", index=False)
