"""Reads tables as a spreadsheet would: CSV with the csv module of Python (RFC 4180), workbooks with openpyxl. Prints them as JSON."""

import csv
import json
import pathlib
import sys

import openpyxl

folder = pathlib.Path(sys.argv[1])
tables = {}
for path in sorted(folder.glob("*.csv")):
    raw = path.read_bytes()
    with path.open(newline="", encoding="utf-8") as file:
        lines = list(csv.reader(file, strict=True))
    comments = [line[0] for line in lines if line and line[0].startswith("# ")]
    rows = [line for line in lines if not (line and line[0].startswith("# "))]
    tables[path.stem] = {
        "comments": comments,
        "headings": rows[0],
        "rows": rows[1:],
        "line_ends": raw.count(b"\n") == raw.count(b"\r\n"),
    }
book = openpyxl.load_workbook(folder / "tables.xlsx")
sheets = {}
for sheet in book.worksheets:
    rows = [list(row) for row in sheet.iter_rows(values_only=True)]
    kinds = {cell.data_type for row in sheet.iter_rows() for cell in row}
    sheets[sheet.title] = {"headings": rows[0], "rows": rows[1:], "formulas": "f" in kinds, "frozen": sheet.freeze_panes}
made = book.properties.created.isoformat()
json.dump({"csv": tables, "xlsx": sheets, "made": made, "title": book.properties.title}, sys.stdout)
