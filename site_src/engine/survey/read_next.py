"""Where the next reading on a wall tells most, and what it gains."""

from msgspec import Struct
from msgspec.structs import replace

from engine.survey.band import BAND, Band, Known, known
from engine.survey.tolerances import STATION_STEP


class ReadNext(Struct, frozen=True, kw_only=True):
    """Read at ``station`` (mm): there the band of ± ``now`` mm becomes ± ``then``."""

    station: float
    now: float
    then: float

    @property
    def gain(self) -> float:
        """What the band loses there, mm."""
        return self.now - self.then


def read_next(band: Band, sd: float) -> ReadNext:
    """The station where the band is widest. ``sd`` is that of the reading to come, in mm."""
    inside = {round(station / STATION_STEP) * STATION_STEP for station in band.stations()}
    stations = sorted(station for station in inside if 0 < station < band.chord) or [band.chord / 2]
    widest = max(stations, key=band.half_width)
    part = next(part for part in reversed(band.parts) if part.stretch.start <= widest)
    return ReadNext(station=widest, now=band.half_width(widest), then=BAND * _read_there(part, widest, sd))


def _read_there(part: Known, station: float, sd: float) -> float:
    """Standard deviation left at a station once it has been read; the value read does not matter."""
    stretch = part.stretch
    points = tuple(sorted((*stretch.points, (station, 0.0)), key=lambda point: point[0]))
    at = next(i for i, (place, _) in enumerate(points) if place == station)
    if at in (0, len(points) - 1):
        return part.sd(station)
    sds = (*stretch.sds[:at], sd, *stretch.sds[at:])
    return known(replace(stretch, points=points, sds=sds), part.q).sd(station)
