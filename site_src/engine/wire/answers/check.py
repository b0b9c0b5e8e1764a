"""Is the job sound?"""

from engine.planning.checks import check_job
from engine.wire.answers import Tell
from engine.wire.figures import Writer, marked
from engine.wire.job_file import open_job
from engine.wire.replies import CheckReply
from engine.wire.requests import CheckRequest


def answer(request: CheckRequest, _: Tell) -> CheckReply:
    """Every finding, whatever its level."""
    opened = open_job(request.job)
    findings = (*opened.findings, *check_job(opened.job))
    return CheckReply(findings=marked(findings, Writer(request.decimal)), read_only=opened.is_read_only)
