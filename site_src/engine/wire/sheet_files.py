"""Every file that leaves the app, made from one plan."""

from engine.errors import Finding
from engine.planning.floor_plan import FloorPlan
from engine.planning.plan_file import cut_record, plan_record
from engine.planning.setting_out import plan_setting_out
from engine.planning.to_cut import pieces_to_cut
from engine.sheets.cut_list_pdf import cut_list_pdf
from engine.sheets.cuts_csv import cuts_csv
from engine.sheets.label_grid import grid_fault, named_grid
from engine.sheets.labels_pdf import labels_pdf
from engine.sheets.paper import PAPERS, Paper
from engine.sheets.pieces_dxf import pieces_dxf
from engine.sheets.pieces_svg import pieces_svg
from engine.sheets.plan_dxf import plan_dxf
from engine.sheets.plan_json import plan_json
from engine.sheets.plan_pdf import plan_pdf
from engine.sheets.plan_svg import plan_svg
from engine.sheets.setting_out_pdf import setting_out_pdf
from engine.sheets.template_pdf import template_pdf
from engine.wire.figures import Writer
from engine.wire.paper import SAW_ORDER, WALL_ORDER, cut_rows, saw_rows
from engine.wire.paper_setting_out import setting_out_words
from engine.wire.requests import SheetsRequest
from engine.wire.setting_out_view import setting_out_sheet
from engine.wire.template_words import corner_templates, scribe_templates


def text_files(plan: FloorPlan, bound: float | None) -> dict[str, str]:
    """File name → text; ``bound`` is what no place of the pattern can beat, where that was asked."""
    record, to_cut = plan_record(plan, bound), pieces_to_cut(plan)
    return {
        "plan.json": plan_json(record),
        "cuts.csv": cuts_csv(cut_record(record, plan)),
        "plan.svg": plan_svg(plan),
        "pieces.svg": pieces_svg(plan.job.name, to_cut),
        "plan.dxf": plan_dxf(plan, record.setting_out.lines),
        "pieces.dxf": pieces_dxf(to_cut),
    }


def binary_files(
    plan: FloorPlan, request: SheetsRequest, writer: Writer
) -> tuple[dict[str, bytes], tuple[Finding, ...]]:
    """File name → bytes, for the paper asked for; and why there are no labels, where there are none."""
    paper, job, rows = PAPERS[request.paper], plan.job.name, cut_rows(plan, writer)
    files = {
        "cuts.pdf": cut_list_pdf(WALL_ORDER, job, rows, paper),
        "saw.pdf": cut_list_pdf(SAW_ORDER, job, saw_rows(plan, rows), paper),
        "plan.pdf": plan_pdf(plan, paper),
        "setting-out.pdf": _setting_out(plan, writer, paper),
    }
    files |= _templates(plan, paper)
    grid = request.own_labels or named_grid(request.labels, request.paper)
    if fault := grid_fault(grid, request.paper):
        return files, (fault,)
    to_fit = [row for row in rows if not row.is_fitted]
    return files | {"labels.pdf": labels_pdf(job, to_fit, grid, paper)}, ()


def _setting_out(plan: FloorPlan, writer: Writer, paper: Paper) -> bytes:
    words = setting_out_words(plan, plan_setting_out(plan), setting_out_sheet(plan, writer))
    return setting_out_pdf(plan, plan_setting_out(plan), words, paper)


def _templates(plan: FloorPlan, paper: Paper) -> dict[str, bytes]:
    """The sheets at full size, where a piece needs one."""
    pieces, job, is_back = pieces_to_cut(plan), plan.job.name, plan.job.cutting.marked_on == "back"
    wanted = {
        "scribes.pdf": ("Scribe strips", scribe_templates(pieces, is_back=is_back)),
        "corners.pdf": ("Corner templates", corner_templates(pieces, is_back=is_back)),
    }
    return {
        name: template_pdf(title, job, templates, paper)
        for name, (title, templates) in wanted.items()
        if templates
    }
