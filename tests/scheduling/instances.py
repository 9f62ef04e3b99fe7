"""Small project-scheduling instances with a known optimum.

Each row: duration, what it takes of each resource, successors (numbers of rows).
"""

from __future__ import annotations

from benchleaf.scheduling.records import Job, Terms, Use

_Row = tuple[int, tuple[int, ...], tuple[int, ...]]

# PSPLIB, set j30, instance 1 of parameter 1 (R. Kolisch, A. Sprecher: PSPLIB, a project scheduling
# problem library, European Journal of Operational Research 96, 1997): file j301_1.sm. Its optimum
# in the library's list j30opt.sm is 43.
J30_1_1: dict[int, _Row] = {
    1: (0, (0, 0, 0, 0), (2, 3, 4)),
    2: (8, (4, 0, 0, 0), (6, 11, 15)),
    3: (4, (10, 0, 0, 0), (7, 8, 13)),
    4: (6, (0, 0, 0, 3), (5, 9, 10)),
    5: (3, (3, 0, 0, 0), (20,)),
    6: (8, (0, 0, 0, 8), (30,)),
    7: (5, (4, 0, 0, 0), (27,)),
    8: (9, (0, 1, 0, 0), (12, 19, 27)),
    9: (2, (6, 0, 0, 0), (14,)),
    10: (7, (0, 0, 0, 1), (16, 25)),
    11: (9, (0, 5, 0, 0), (20, 26)),
    12: (2, (0, 7, 0, 0), (14,)),
    13: (6, (4, 0, 0, 0), (17, 18)),
    14: (3, (0, 8, 0, 0), (17,)),
    15: (9, (3, 0, 0, 0), (25,)),
    16: (10, (0, 0, 0, 5), (21, 22)),
    17: (6, (0, 0, 0, 8), (22,)),
    18: (5, (0, 0, 0, 7), (20, 22)),
    19: (3, (0, 1, 0, 0), (24, 29)),
    20: (7, (0, 10, 0, 0), (23, 25)),
    21: (2, (0, 0, 0, 6), (28,)),
    22: (7, (2, 0, 0, 0), (23,)),
    23: (2, (3, 0, 0, 0), (24,)),
    24: (3, (0, 9, 0, 0), (30,)),
    25: (3, (4, 0, 0, 0), (30,)),
    26: (7, (0, 0, 4, 0), (31,)),
    27: (8, (0, 0, 0, 7), (28,)),
    28: (3, (0, 8, 0, 0), (31,)),
    29: (7, (0, 7, 0, 0), (32,)),
    30: (2, (0, 7, 0, 0), (32,)),
    31: (2, (0, 0, 2, 0), (32,)),
    32: (0, (0, 0, 0, 0), ()),
}
J30_1_1_CAPACITIES = (12, 13, 4, 12)
J30_1_1_OPTIMUM = 43

# H. Fisher, G. L. Thompson: Probabilistic learning combinations of local job-shop scheduling rules,
# in: Industrial Scheduling, 1963; the instance of six jobs on six machines, known as ft06. Its
# optimum, 55, was proved long ago and stands in every list. (machine, minutes) in order.
FT06 = (
    ((2, 1), (0, 3), (1, 6), (3, 7), (5, 3), (4, 6)),
    ((1, 8), (2, 5), (4, 10), (5, 10), (0, 10), (3, 4)),
    ((2, 5), (3, 4), (5, 8), (0, 9), (1, 1), (4, 7)),
    ((1, 5), (0, 5), (2, 5), (3, 3), (4, 8), (5, 9)),
    ((2, 9), (1, 3), (4, 5), (5, 4), (0, 3), (3, 1)),
    ((1, 3), (3, 3), (5, 9), (0, 10), (4, 4), (2, 1)),
)
FT06_OPTIMUM = 55

NO_NIGHT = 24 * 60


def project(rows: dict[int, _Row], capacities: tuple[int, ...]) -> tuple[list[Job], Terms]:
    """An instance of the library as jobs and terms, each job after what it needs."""
    before: dict[int, list[str]] = {number: [] for number in rows}
    for number, (_, _, after) in rows.items():
        for own in after:
            before[own].append(str(number))
    jobs = [
        Job(
            id=str(number),
            minutes=minutes,
            waiting_minutes=0,
            needs=tuple(before[number]),
            uses=tuple(Use(name=f"R{r}", count=count) for r, count in enumerate(asked) if count),
            in_one_go=False,
        )
        for number, (minutes, asked, _) in rows.items()
    ]
    most = tuple((f"R{r}", count) for r, count in enumerate(capacities))
    return jobs, Terms(day_minutes=NO_NIGHT, capacities=most)


def job_shop(rows: tuple[tuple[tuple[int, int], ...], ...]) -> tuple[list[Job], Terms]:
    """Jobs that go from machine to machine, one at a time on each."""
    jobs = [
        Job(
            id=f"{row}.{place}",
            minutes=minutes,
            waiting_minutes=0,
            needs=(f"{row}.{place - 1}",) if place else (),
            uses=(Use(name=f"machine {machine}", count=1),),
            in_one_go=False,
        )
        for row, work in enumerate(rows)
        for place, (machine, minutes) in enumerate(work)
    ]
    most = tuple((f"machine {number}", 1) for number in range(6))
    return jobs, Terms(day_minutes=NO_NIGHT, capacities=most)
