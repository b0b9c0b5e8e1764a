"""How the engine says that something is wrong, in words that say how to mend it."""

from typing import Literal

from msgspec import Struct

Level = Literal["error", "warning", "note"]


class Finding(Struct, frozen=True, kw_only=True):
    """One thing found in a job or plan.

    ``path`` names the place in the job file (``room.walls[2].offsets[1]``),
    ``code`` is a stable word for tests and links, ``sentence`` tells a person
    what to do. An ``error`` stops the computation, a ``warning`` does not.
    """

    path: str
    code: str
    sentence: str
    level: Level = "error"


class Refused(Exception):
    """The job cannot be computed as it stands; ``findings`` say why and how to mend it."""

    def __init__(self, *findings: Finding) -> None:
        super().__init__(" ".join(finding.sentence for finding in findings))
        self.findings = findings
