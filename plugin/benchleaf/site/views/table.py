"""Tables as data: columns that say how they are set, rows of cells that may lead to a page.

Holds records only.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its heading, and how its cells are set."""

    heading: str
    kind: str = "text"
    """`text`; `number`: set flush right; `mark`: a part's mark; `tick`: a box to tick by hand."""


@dataclass(frozen=True, slots=True)
class Cell:
    """What stands in one row and column."""

    text: str
    page: str = ""
    """Key of the page, or of a heading on it, that the text leads to; or empty."""
    note: str = ""
    """A second, smaller line."""


# chosen: a telephone shows three columns of words side by side.
_MOST_SIDE_BY_SIDE: Final = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table; the first column of words or marks heads its rows."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]

    @property
    def head_column(self) -> int:
        """Index of the column whose cells head their rows."""
        kinds = [column.kind for column in self.columns]
        return next((index for index, kind in enumerate(kinds) if kind in {"text", "mark"}), 0)

    @property
    def stacks(self) -> bool:
        """Tell whether a narrow page sets each row's cells below one another."""
        return len(self.columns) > _MOST_SIDE_BY_SIDE

    def pair(self, row: tuple[Cell, ...]) -> tuple[tuple[Column, Cell], ...]:
        """A row's cells, each with its column."""
        return tuple(zip(self.columns, row, strict=True))

    def without_empty_columns(self) -> Table:
        """The table without columns of words in which nothing stands."""
        kept = [
            index
            for index, column in enumerate(self.columns)
            if column.kind == "tick" or any(row[index].text for row in self.rows)
        ]
        return Table(
            caption=self.caption,
            columns=tuple(self.columns[index] for index in kept),
            rows=tuple(tuple(row[index] for index in kept) for row in self.rows),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class TableView:
    """Context of `table.html`."""

    table: Table


def write_row(*texts: str) -> tuple[Cell, ...]:
    """Make a row of plain cells."""
    return tuple(Cell(text) for text in texts)
