"""The time of a mark, as ISO 8601 writes it, in seconds. The engine has no clock; this is its calendar."""

import re

_ISO = re.compile(
    r"(\d{4})-(\d\d)-(\d\d)[T ](\d\d):(\d\d)(?::(\d\d(?:\.\d+)?))?(?:Z|([+-])(\d\d):?(\d\d))?", re.ASCII
)
_BEFORE_MONTH = (0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334)


def seconds_of(text: str) -> float | None:
    """Seconds from the year 0 in universal time, as one without a zone is taken; None when unreadable."""
    found = _ISO.fullmatch(text)
    if found is None:
        return None
    year, month, day, hour, minute = (int(part) for part in found.group(1, 2, 3, 4, 5))
    if not (1 <= month <= 12 and 1 <= day <= 31 and hour <= 24 and minute <= 59):
        return None
    hours = 24 * _days(year, month, day) + hour
    return 3600.0 * hours + 60.0 * (minute - _zone(found)) + float(found.group(6) or 0)


def _days(year: int, month: int, day: int) -> int:
    """Days of the Gregorian calendar."""
    is_leap = year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    before = year - 1
    leap_days = before // 4 - before // 100 + before // 400 + (1 if is_leap and month > 2 else 0)
    return 365 * year + leap_days + _BEFORE_MONTH[month - 1] + day


def _zone(found: re.Match[str]) -> int:
    """How many minutes the zone is ahead of universal time."""
    sign, hours, minutes = found.group(7, 8, 9)
    return 0 if sign is None else (1 if sign == "+" else -1) * (60 * int(hours) + int(minutes))
