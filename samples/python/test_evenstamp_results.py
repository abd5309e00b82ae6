"""python3 -m unittest, in this directory, after the sample job has run: the reader says what result.json and tiles.csv say."""

import csv
import os
import unittest
from pathlib import Path

import numpy as np
from evenstamp_results import Results, runs

RUN = Path(os.environ.get("EVENSTAMP_RESULTS", Path(__file__).parent.parent / "water-sensor" / "results"))


class ReaderTest(unittest.TestCase):
    def setUp(self) -> None:
        self.run_ = Results(RUN)

    def test_statistics_of_every_field_are_those_of_result_json(self) -> None:
        for name, about in self.run_.json["fields"].items():
            values = self.run_.field(name).values
            self.assertEqual(values.count(), about["known"], name)
            if about["known"]:
                # Nine digits are written; a mean near zero has those of the values that it is the mean of.
                rounding = 1e-8 * max(abs(about["min"]), abs(about["max"]))
                for key, value in (("min", values.min()), ("mean", values.mean()), ("max", values.max())):
                    np.testing.assert_allclose(value, about[key], rtol=1e-8, atol=rounding, err_msg=f"{name} {key}")

    def test_tiles_csv_has_the_same_numbers_and_places_and_one_type_a_column(self) -> None:
        with open(RUN / "tiles.csv", newline="", encoding="utf-8") as file:
            rows = list(csv.DictReader(file))
        x, y = self.run_.centres()
        for name in self.run_.names:
            values = self.run_.field(name).values.ravel()
            for i in range(0, len(rows), 97):
                cell = rows[i][name]
                self.assertEqual(cell == "", bool(np.ma.getmaskarray(values)[i]), name)
                if cell:
                    self.assertTrue("." in cell or "e" in cell, f"{name} {cell} reads as a whole number")
                    np.testing.assert_allclose(float(cell), values[i], rtol=1e-8, atol=1e-12)
        last = rows[-1]
        np.testing.assert_allclose([float(last["x_um"]), float(last["y_um"])], [x[-1], y[-1]])

    def test_states_end_with_the_field_itself(self) -> None:
        states = self.run_.states("residual.final")
        self.assertEqual(sorted(state.seconds for state in states), [state.seconds for state in states])
        np.testing.assert_array_equal(states[-1].values, self.run_.field("residual.final").values)
        self.assertEqual(self.run_.states("cavity.fraction"), [])

    def test_runs_below_a_directory_are_found(self) -> None:
        self.assertIn(RUN.resolve(), [run.directory.resolve() for run in runs(RUN.parent)])


if __name__ == "__main__":
    unittest.main()
