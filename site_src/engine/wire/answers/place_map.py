"""What every place of the pattern is worth."""

from engine.planning.phase_map import phase_map
from engine.wire.answers import Tell
from engine.wire.figures import Writer
from engine.wire.job_file import open_sound_job
from engine.wire.place_view import place_map_view
from engine.wire.replies import PlaceMapReply
from engine.wire.requests import PlaceMapRequest


def answer(request: PlaceMapRequest, _: Tell) -> PlaceMapReply:
    """The map of one repeat of the pattern."""
    return place_map_view(phase_map(open_sound_job(request.job).job), Writer(request.decimal))
