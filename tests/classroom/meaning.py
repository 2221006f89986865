"""What a gradebook means: every row of every table, without what is another thing in each run.

Left out are times, durations and made-up row numbers. A row that others point to goes by what it stands for.
"""

from __future__ import annotations

import hashlib
import sqlite3
from contextlib import closing
from pathlib import Path

_NAMES = """
SELECT s.id, a.name || '/' || s.student_id FROM submitted_assignment s
  JOIN assignment a ON a.id = s.assignment_id
UNION ALL
SELECT n.id, a.name || '/' || s.student_id || '/' || m.name FROM submitted_notebook n
  JOIN submitted_assignment s ON s.id = n.assignment_id JOIN assignment a ON a.id = s.assignment_id
  JOIN notebook m ON m.id = n.notebook_id
UNION ALL
SELECT g.id, 'grade ' || s.student_id || '/' || c.name FROM grade g JOIN base_cell c ON c.id = g.cell_id
  JOIN submitted_notebook n ON n.id = g.notebook_id JOIN submitted_assignment s ON s.id = n.assignment_id
UNION ALL
SELECT g.id, 'comment ' || s.student_id || '/' || c.name FROM comment g JOIN base_cell c ON c.id = g.cell_id
  JOIN submitted_notebook n ON n.id = g.notebook_id JOIN submitted_assignment s ON s.id = n.assignment_id
"""
_ANOTHER_EACH_TIME = {
    "brakecourse_outcome": {"graded_at", "duration_s"},
    "brakecourse_hand_mark": {"given_at"},
    "brakecourse_history": {"id", "at"},
    # What a cell prints may be another thing each time; the file that belongs to it is looked at instead.
    "brakecourse_kept_notebook": {"sha256"},
}


def meaning(gradebook: Path) -> list[str]:
    """Return every row of a gradebook in words, sorted."""
    with closing(sqlite3.connect(f"file:{gradebook}?mode=ro", uri=True)) as database:
        assert database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert database.execute("PRAGMA foreign_key_check").fetchall() == []
        names = dict(database.execute(_NAMES))
        tables = [name for (name,) in database.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        rows: list[str] = []
        for table in tables:
            found = database.execute(f'SELECT * FROM "{table}"')
            columns = [column[0] for column in found.description]
            left_out = _ANOTHER_EACH_TIME.get(table, set())
            for row in found:
                shown = {
                    column: names.get(value, value) if isinstance(value, str) else value
                    for column, value in zip(columns, row, strict=True)
                    if column not in left_out
                }
                rows.append(f"{table}: {shown}")
    return sorted(rows)


def fingerprints(folder: Path) -> dict[str, str]:
    """Return the SHA-256 of every file under a folder, by its path there."""
    return {
        str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }
