"""Every file that leaves the app, each made by itself from one plan."""

from collections.abc import Callable
from functools import cached_property

from msgspec import Struct

from engine.errors import Finding
from engine.model.plan import Plan
from engine.planning.floor_plan import FloorPlan
from engine.planning.pieces import Piece
from engine.planning.plan_file import cut_record, plan_record
from engine.planning.setting_out import plan_setting_out
from engine.planning.to_cut import pieces_to_cut
from engine.sheets.cut_list_pdf import cut_list_pdf
from engine.sheets.cut_row import CutRow
from engine.sheets.cuts_csv import cuts_csv
from engine.sheets.label_grid import LabelGrid, grid_fault, named_grid
from engine.sheets.labels_pdf import labels_pdf
from engine.sheets.paper import PAPERS, Paper
from engine.sheets.pieces_dxf import pieces_dxf
from engine.sheets.pieces_svg import pieces_svg
from engine.sheets.plan_dxf import plan_dxf
from engine.sheets.plan_json import plan_json
from engine.sheets.plan_pdf import plan_pdf
from engine.sheets.plan_svg import plan_svg
from engine.sheets.setting_out_pdf import setting_out_pdf
from engine.sheets.template_layout import Template
from engine.sheets.template_pdf import template_pdf
from engine.wire.figures import Writer
from engine.wire.paper import cut_rows, saw_order, saw_rows, wall_order
from engine.wire.paper_setting_out import setting_out_words
from engine.wire.requests import SheetName, SheetsRequest
from engine.wire.setting_out_view import setting_out_sheet
from engine.wire.template_words import corner_templates, scribe_templates


# With a dict: what several files need is made once, when the first of them is made.
class Source(Struct, frozen=True, kw_only=True, dict=True):
    """What files are made from; ``bound`` is what no place of the pattern can beat, where that was asked."""

    plan: FloorPlan
    request: SheetsRequest
    writer: Writer
    bound: float | None

    @property
    def job(self) -> str:
        """The job's name."""
        return self.plan.job.name

    @property
    def paper(self) -> Paper:
        """The paper to print on."""
        return PAPERS[self.request.paper]

    @property
    def grid(self) -> LabelGrid:
        """How the labels lie on their sheet."""
        return self.request.own_labels or named_grid(self.request.labels, self.request.paper)

    @property
    def is_back(self) -> bool:
        """Are boards marked on their back?"""
        return self.plan.job.cutting.marked_on == "back"

    @property
    def to_cut(self) -> tuple[Piece, ...]:
        """The pieces to cut, as they are to be cut now."""
        return pieces_to_cut(self.plan)

    @cached_property
    def record(self) -> Plan:
        """The plan file's content."""
        return plan_record(self.plan, self.bound)

    @cached_property
    def rows(self) -> tuple[CutRow, ...]:
        """Every piece to cut as a row."""
        return cut_rows(self.plan, self.writer)


def text_files(source: Source) -> dict[str, str]:
    """File name → text, of those asked for."""
    return {name: make(source) for name, make in _TEXTS.items() if _is_asked(name, source)}


def binary_files(source: Source) -> tuple[dict[str, bytes], tuple[Finding, ...]]:
    """File name → bytes, of those asked for and needed; and why there are no labels, where there are none."""
    made = {name: make(source) for name, make in _BINARIES.items() if _is_asked(name, source)}
    fault = _label_fault(source) if _is_asked("labels.pdf", source) else None
    return {name: content for name, content in made.items() if content is not None}, (fault,) if fault else ()


def _is_asked(name: SheetName, source: Source) -> bool:
    only = source.request.only
    return only is None or name in only


def _saw_list(source: Source) -> bytes:
    kind, rows = saw_order(source.plan.job.cutting), saw_rows(source.plan, source.rows)
    return cut_list_pdf(kind, source.job, rows, source.paper)


def _wall_list(source: Source) -> bytes:
    return cut_list_pdf(wall_order(source.plan.job.cutting), source.job, source.rows, source.paper)


def _setting_out(source: Source) -> bytes:
    sheet = plan_setting_out(source.plan)
    words = setting_out_words(source.plan, sheet, setting_out_sheet(source.plan, source.writer))
    return setting_out_pdf(source.plan, sheet, words, source.paper)


def _labels(source: Source) -> bytes | None:
    if _label_fault(source):
        return None
    to_fit = [row for row in source.rows if not row.is_fitted]
    return labels_pdf(source.job, to_fit, source.grid, source.paper, int(source.request.first_label))


def _label_fault(source: Source) -> Finding | None:
    return grid_fault(source.grid, source.request.paper, source.request.first_label)


def _templates(title: str, templates: tuple[Template, ...], source: Source) -> bytes | None:
    """The sheet at full size, where a piece needs one."""
    return template_pdf(title, source.job, templates, source.paper) if templates else None


def _scribes(source: Source) -> bytes | None:
    return _templates("Scribe strips", scribe_templates(source.to_cut, is_back=source.is_back), source)


def _corners(source: Source) -> bytes | None:
    return _templates("Corner templates", corner_templates(source.to_cut, is_back=source.is_back), source)


_TEXTS: dict[SheetName, Callable[[Source], str]] = {
    "plan.json": lambda source: plan_json(source.record),
    "cuts.csv": lambda source: cuts_csv(cut_record(source.record, source.plan)),
    "plan.svg": lambda source: plan_svg(source.plan),
    "pieces.svg": lambda source: pieces_svg(source.job, source.to_cut),
    "plan.dxf": lambda source: plan_dxf(source.plan, source.record.setting_out.lines),
    "pieces.dxf": lambda source: pieces_dxf(source.to_cut),
}
_BINARIES: dict[SheetName, Callable[[Source], bytes | None]] = {
    "setting-out.pdf": _setting_out,
    "cuts.pdf": _wall_list,
    "saw.pdf": _saw_list,
    "plan.pdf": lambda source: plan_pdf(source.plan, source.paper),
    "scribes.pdf": _scribes,
    "corners.pdf": _corners,
    "labels.pdf": _labels,
}
