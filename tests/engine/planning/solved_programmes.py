"""Why this file exists: tests solve the engine's programmes by another's solver (HiGHS, through scipy)."""

import re
from typing import Any

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csc_matrix

from tests.engine.small_jobs import ask


def read_programme(text: str) -> tuple[int, list[list[int]]]:
    """How many columns an LP text minimises the sum of, and the columns of each row."""
    head, rows, last = re.fullmatch(
        r"Minimize\n boards: (.*)\nSubject To\n(.*)\nBinary\n (.*)\nEnd\n", text, flags=re.DOTALL
    ).groups()  # type: ignore[union-attr]
    names = re.split(r"[\s+]+", head)
    assert names == last.split() == [f"x{n}" for n in range(len(names))]
    sides = re.findall(r" p\d+: ((?:[\sx+\d])+) >= 1", rows)
    assert len(sides) == rows.count(">=") == rows.count("p")
    return len(names), [[int(name[1:]) for name in re.split(r"[\s+]+", side)] for side in sides]


def solved(text: str) -> dict[str, Any]:
    """What a solver gives for a programme, as a page passes it on."""
    count, rows = read_programme(text)
    columns = [n for row in rows for n in row]
    places = [i for i, row in enumerate(rows) for _ in row]
    holds = csc_matrix((np.ones(len(columns)), (places, columns)), shape=(len(rows), count))
    found = milp(
        np.ones(count),
        constraints=LinearConstraint(holds, 1, np.inf),
        integrality=np.ones(count),
        bounds=Bounds(0, 1),
    )
    assert found.success
    return {"values": found.x.tolist(), "bound": found.mip_dual_bound}


def searched(job: dict[str, Any]) -> dict[str, Any]:
    """The last reply of a search, asked for as a page does."""
    answers: list[dict[str, Any]] = []
    while True:
        reply = ask("improve", job=job, solved=answers, seconds=2.6)
        assert reply["reply"] == "improve", reply
        if reply["is_done"]:
            return reply
        if reply["programme"]:
            answers.append(solved(reply["programme"]))
