"""Reads a results directory of evenstamp with NumPy alone (Python 3.9 or newer).

    from evenstamp_results import Results

    run = Results("samples/water-sensor/results")
    layer = run.field("residual.final")
    print(run.title, run.verdict, layer.values.min(), layer.unit)

A map is a masked array of shape (rows, columns), row 0 the lowest on the stamp; tiles without a value are masked. Values are in the
field's display unit. `python3 evenstamp_results.py DIR` prints a summary of one run, or of all runs below a directory.
"""

from __future__ import annotations

import json
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Iterator

import numpy as np

SCHEMA = 2


@dataclass(frozen=True)
class Field:
    """One number a tile."""

    name: str
    values: np.ma.MaskedArray
    unit: str
    meaning: str


@dataclass(frozen=True)
class State:
    """A field as it was at one time of the press."""

    seconds: float
    values: np.ma.MaskedArray


class Results:
    """A results directory. Files are read when they are first asked for."""

    def __init__(self, directory: str | Path) -> None:
        self.directory = Path(directory)
        self.json: dict[str, Any] = json.loads((self.directory / "result.json").read_text(encoding="utf-8"))
        if self.json["schema"] != SCHEMA:
            raise ValueError(f"{self.directory}: results of form {self.json['schema']}, this reads form {SCHEMA}")
        self._arrays: dict[str, Any] = {}

    @property
    def title(self) -> str:
        """What the job calls itself, or else its name."""
        return self.json["job"].get("output", {}).get("title", self.json["name"])

    @property
    def verdict(self) -> str:
        return self.json["verdict"]

    @property
    def limits(self) -> list[dict[str, Any]]:
        """The limits of the job: field, measure, side, bound, unit."""
        return self.json["limits"]

    @property
    def findings(self) -> list[dict[str, Any]]:
        """The limits that are exceeded, with what was found and the worst place."""
        return self.json["findings"]

    @property
    def names(self) -> list[str]:
        return list(self.json["fields"])

    def field(self, name: str) -> Field:
        about = self.json["fields"][name]
        return Field(name, self._masked("fields.npz", name), about["unit"], about["meaning"])

    def states(self, name: str) -> list[State]:
        """The states of a field in order of time; none where no analysis keeps any."""
        if not (self.directory / "snapshots.npz").exists():
            return []
        arrays = self._load("snapshots.npz")
        if name not in arrays:
            return []
        values = self._masked("snapshots.npz", name)
        return [State(float(seconds), values[i]) for i, seconds in enumerate(arrays[name + ".seconds"])]

    def centres(self) -> tuple[np.ndarray, np.ndarray]:
        """x of the columns and y of the rows of tiles, micrometres."""
        grid = self.json["grid"]
        side = grid["side_um"]
        x = grid["origin_x_um"] + (np.arange(grid["columns"]) + 0.5) * side
        y = grid["origin_y_um"] + (np.arange(grid["rows"]) + 0.5) * side
        return x, y

    def figure(self, analysis: str, figure: str) -> tuple[float, str]:
        """A single number of an analysis, with its unit."""
        for part in self.json["analyses"]:
            for one in part["figures"]:
                if (part["id"], one["id"]) == (analysis, figure):
                    return one["value"], one["unit"]
        raise KeyError(f"{analysis}.{figure}")

    def _load(self, file: str) -> Any:
        if file not in self._arrays:
            self._arrays[file] = np.load(self.directory / file)
        return self._arrays[file]

    def _masked(self, file: str, name: str) -> np.ma.MaskedArray:
        arrays = self._load(file)
        known = name + ".known"
        return np.ma.masked_array(arrays[name], mask=~arrays[known] if known in arrays else False)


def runs(directory: str | Path) -> Iterator[Results]:
    """All runs in a directory and below it, in the order of their paths: the points of a sweep, the variants of a study."""
    for file in sorted(Path(directory).rglob("result.json")):
        yield Results(file.parent)


def main(directory: str) -> None:
    for run in runs(directory):
        print(f"{run.directory}: {run.title}, {run.verdict}")
        for name in run.names:
            field = run.field(name)
            if field.values.count():
                low, high = field.values.min(), field.values.max()
                print(f"  {name:24} {low:12.5g} {field.values.mean():12.5g} {high:12.5g}  {field.unit}")
        for finding in run.findings:
            print(f"  exceeded: {finding['field']} {finding['measure']} {finding['side']} {finding['bound']} {finding['unit']}")


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else ".")
