"""What every place of the pattern is worth."""

from engine.planning.phase_map import phase_map, phase_map_slice
from engine.wire.answers import Tell
from engine.wire.figures import Writer
from engine.wire.moved_job import sound_where_moved
from engine.wire.place_view import place_map_view
from engine.wire.replies import MoreReply, PlaceMapReply
from engine.wire.requests import PlaceMapRequest


def answer(request: PlaceMapRequest, _: Tell) -> PlaceMapReply | MoreReply:
    """The map of one repeat of the pattern."""
    job = sound_where_moved(request.job)
    found = phase_map_slice(job) if request.in_slices else phase_map(job)
    return place_map_view(found, Writer(request.decimal)) if found else MoreReply()
