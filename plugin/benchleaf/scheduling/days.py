"""Working hours: when work begins that may begin at some time, and when it ends.

Takes minutes by the clock since the first opening, gives such minutes. Must not know jobs.
"""

from __future__ import annotations

from typing import Final

DAY: Final = 24 * 60


def open_from(time: int, day_minutes: int) -> int:
    """The first minute from some time on at which the shop is open.

    >>> open_from(100, 360), open_from(360, 360), open_from(1500, 360)
    (100, 1440, 1500)
    """
    if day_minutes >= DAY:
        return time
    day, minute = divmod(time, DAY)
    return time if minute < day_minutes else (day + 1) * DAY


def end_of_work(start: int, minutes: int, day_minutes: int) -> int:
    """When work ends that begins at an open minute and goes on as long as the shop is open.

    >>> end_of_work(300, 60, 360), end_of_work(300, 90, 360)
    (360, 1470)
    """
    if day_minutes >= DAY or minutes == 0:
        return start + minutes
    day, minute = divmod(start, DAY)
    days, rest = divmod(minute + minutes - 1, day_minutes)
    return (day + days) * DAY + rest + 1


def start_of_work(end: int, minutes: int, day_minutes: int) -> int:
    """The latest start of work that ends by some time."""
    if day_minutes >= DAY or minutes == 0:
        return end - minutes
    day, minute = divmod(end, DAY)
    done = day * day_minutes + min(minute, day_minutes)
    days, rest = divmod(done - minutes, day_minutes)
    return days * DAY + rest


def start_in_one_go(time: int, minutes: int, day_minutes: int) -> int:
    """The first start from some time on that leaves all of the work within one day.

    >>> start_in_one_go(300, 60, 360), start_in_one_go(300, 90, 360)
    (300, 1440)
    """
    start = open_from(time, day_minutes)
    day, minute = divmod(start, DAY)
    if day_minutes >= DAY or minutes > day_minutes or minute + minutes <= day_minutes:
        return start
    return (day + 1) * DAY


def open_minutes(start: int, end: int, day_minutes: int) -> int:
    """Minutes between two times at which the shop is open.

    >>> open_minutes(300, 1500, 360)
    120
    """
    if day_minutes >= DAY:
        return end - start

    def until(time: int) -> int:
        day, minute = divmod(time, DAY)
        return day * day_minutes + min(minute, day_minutes)

    return max(0, until(end) - until(start))
