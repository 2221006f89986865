"""Write the diagnosis table anew: ``python -m tests.bench.make_diagnosis``, from the project's folder.

Three rows of seeds that never meet: the table is counted on the first, its sharpness is chosen on the second,
and how good it is gets measured on the third. It takes about two minutes of one core.
"""

from __future__ import annotations

import csv
import math
import time
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from statistics import fmean

from brakecourse.bench.diagnosis_table import (
    Examined,
    causes,
    digest,
    simulate,
    table_of,
    tally,
)
from brakecourse.bench.draw import Draw
from brakecourse.bench.inspection import CHECKS
from brakecourse.trade.leaks import Count, DiagnosisTable

from tests.bench.diagnosis_study import (
    SURE,
    Step,
    Study,
    by_chance,
    by_information,
    fresh,
    search,
    study,
    study_of_two,
)

FOLDER = Path(__file__).resolve().parents[2] / "datasets" / "diagnosis"

VEHICLES, FIRST_SEED = 20_000, 10_000_000
DIGEST_VEHICLES = 155
TUNING_CASES, TUNING_SEED = 3000, 20_000_000
STUDY_CASES, STUDY_SEED = 4000, 30_000_000
ALIKE_CASES, ALIKE_SEED = 3100, 40_000_000
TWO_FAULTS_CASES, TWO_FAULTS_SEED = 1000, 50_000_000
SEARCH_CASES, SEARCH_SEED, MOST_CHECKS = 400, 60_000_000, 12
SHARPNESSES = tuple(place / 20 for place in range(10, 29))

Row = Mapping[str, object]


def settings(vehicles: int = VEHICLES, first_seed: int = FIRST_SEED) -> tuple[tuple[Count, ...], list[Row]]:
    """Return the counts, and what tells how they were made."""
    begun: list[Examined] = []

    def kept() -> Iterable[Examined]:
        for one in simulate(vehicles, first_seed):
            if len(begun) < DIGEST_VEHICLES:
                begun.append(one)
            yield one

    counts = tally(kept())
    told = {"vehicles": vehicles, "first_seed": first_seed}
    told |= {"digest_vehicles": len(begun), "digest": digest(begun)}  # type: ignore[dict-item]
    return counts, [{"name": name, "value": value} for name, value in told.items()]


def surprise(one: Study) -> float:
    """Return the mean surprise in nats: how improbable the truth was stated to be."""
    stated = zip(one.stated, one.truths, strict=True)
    return -fmean(math.log(max(case[truth[0]], 1e-300)) for case, truth in stated)


def sharpest(counts: Sequence[Count], examined: Sequence[Examined]) -> float:
    """Return the sharpness with which the truths surprise least, all cheap checks done."""
    return min(SHARPNESSES, key=lambda sharpness: surprise(study(table_of(counts, sharpness), examined)))


def reliability_rows(checks: str, first_seed: int, found: Study) -> list[Row]:
    """Return the reliability table of a study, with what it was made on."""
    return [
        {
            "checks": checks,
            "first_seed": first_seed,
            "low": row.low,
            "high": row.high,
            "count": row.count,
            "mean_stated": round(row.mean_stated, 4),
            "share_right": round(row.share_right, 4),
            "interval_low": round(row.interval_low, 4),
            "interval_high": round(row.interval_high, 4),
        }
        for row in found.reliability()
    ]


def calibration_row(name: str, first_seed: int, found: Study, done: int, minutes: float) -> Row:
    """Return what a study says, in one row."""
    one_cause = all(len(truth) == 1 for truth in found.truths)
    return {
        "study": name,
        "first_seed": first_seed,
        "cases": len(found.stated),
        "checks_done": done,
        "minutes": round(minutes, 2),
        "right_first": round(found.right_first, 4),
        "brier": round(found.brier, 4) if one_cause else "",
    }


def search_rows(name: str, searches: Sequence[Sequence[Step]]) -> list[Row]:
    """Return where the searches stand after each number of checks."""
    rows: list[Row] = []
    for done in range(1, MOST_CHECKS + 1):
        at = [steps[done - 1] for steps in searches]
        rows.append(
            {
                "study": name,
                "first_seed": SEARCH_SEED,
                "cases": len(at),
                "checks_done": done,
                "minutes": round(fmean(step.minutes for step in at), 2),
                "right_first": round(fmean(step.right for step in at), 4),
                "brier": "",
            }
        )
    return rows


def measure(table: DiagnosisTable) -> tuple[list[Row], list[Row]]:
    """Return the reliability table, and how good the diagnosis is, on vehicles that it never saw."""
    cheap = [check for check in table.checks if check.cheap]
    cost = {"cheap": math.fsum(check.minutes for check in cheap)}
    cost["all"] = math.fsum(check.minutes for check in table.checks)
    examined = fresh(STUDY_SEED, STUDY_CASES)
    of_cheap, of_all = study(table, examined), study(table, examined, None)
    faulty = study(table, [one for one in examined if one.cause != table.causes[0].id])
    alike = study(table, simulate(ALIKE_CASES, ALIKE_SEED))
    two = study_of_two(table, TWO_FAULTS_SEED, TWO_FAULTS_CASES)
    some = fresh(SEARCH_SEED, SEARCH_CASES)
    walks = {
        "best check next": [search(table, one, by_information(table), MOST_CHECKS) for one in some],
        "any check next": [
            search(table, one, by_chance(table, Draw(SEARCH_SEED + place)), MOST_CHECKS)
            for place, one in enumerate(some)
        ],
    }
    rows = [
        calibration_row("cheap checks", STUDY_SEED, of_cheap, len(cheap), cost["cheap"]),
        calibration_row("all checks", STUDY_SEED, of_all, len(CHECKS), cost["all"]),
        calibration_row("cheap checks, faulty only", STUDY_SEED, faulty, len(cheap), cost["cheap"]),
        calibration_row("cheap checks, causes alike", ALIKE_SEED, alike, len(cheap), cost["cheap"]),
        calibration_row("cheap checks, two faults", TWO_FAULTS_SEED, two, len(cheap), cost["cheap"]),
        *(row for name, steps in walks.items() for row in search_rows(name, steps)),
    ]
    reliability = [
        *reliability_rows("cheap", STUDY_SEED, of_cheap),
        *reliability_rows("all", STUDY_SEED, of_all),
    ]
    for name, pairs in (("cheap", of_cheap.confusions()), ("all", of_all.confusions())):
        print(f"taken for another, {name} checks:", pairs.most_common(12))
    until = [search(table, one, by_information(table)) for one in some[:200]]
    print(f"until {SURE:.0%} sure: {fmean(steps[-1].minutes for steps in until):.1f} min")
    return reliability, rows


def write(name: str, rows: Sequence[Row]) -> None:
    """Write one table of the diagnosis."""
    FOLDER.mkdir(exist_ok=True)
    with (FOLDER / f"{name}.csv").open("w", encoding="utf-8", newline="") as handle:
        writer = csv.DictWriter(handle, list(rows[0]), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)


def told_rows() -> dict[str, list[Row]]:
    """Return the tables of causes, checks and findings, which the code tells."""
    return {
        "causes": [{"id": one.id, "words": one.words, "prior": one.prior} for one in causes()],
        "checks": [
            {
                "id": one.id,
                "words": one.words,
                "minutes": f"{one.minutes:g}",
                "cheap": "yes" if one.cheap else "no",
            }
            for one in CHECKS
        ],
        "findings": [
            {"check": one.id, "finding": finding.id, "words": finding.words}
            for one in CHECKS
            for finding in one.findings
        ],
    }


def main() -> None:
    """Count, tune, measure and write; print what was found."""
    begun = time.process_time()
    counts, told = settings()
    print(f"{VEHICLES} vehicles: {time.process_time() - begun:.0f} s of one core, {len(counts)} rows")
    sharpness = sharpest(counts, fresh(TUNING_SEED, TUNING_CASES))
    told += [
        {"name": "tuning_cases", "value": TUNING_CASES},
        {"name": "tuning_first_seed", "value": TUNING_SEED},
    ]
    reliability, calibration = measure(table_of(counts, sharpness))
    for name, rows in told_rows().items():
        write(name, rows)
    columns = ("cause", "severity", "check", "finding", "count")
    write("counts", [{column: getattr(one, column) for column in columns} for one in counts])
    write("settings", [{"name": "sharpness", "value": sharpness}, *told])
    write("reliability", reliability)
    write("calibration", calibration)
    for row in [*reliability, *calibration]:
        print(*row.values(), sep="\t")


if __name__ == "__main__":
    main()
