"""Every file that leaves the app, made from one plan."""

from engine.planning.floor_plan import FloorPlan
from engine.planning.plan_file import cut_record, plan_record
from engine.planning.to_cut import pieces_to_cut
from engine.sheets.cut_list_pdf import cut_list_pdf
from engine.sheets.cuts_csv import cuts_csv
from engine.sheets.paper import PAPERS, PaperName
from engine.sheets.pieces_dxf import pieces_dxf
from engine.sheets.pieces_svg import pieces_svg
from engine.sheets.plan_dxf import plan_dxf
from engine.sheets.plan_json import plan_json
from engine.sheets.plan_pdf import plan_pdf
from engine.sheets.plan_svg import plan_svg
from engine.wire.figures import Writer
from engine.wire.paper import cut_rows


def text_files(plan: FloorPlan) -> dict[str, str]:
    """File name → text."""
    record, to_cut = plan_record(plan), pieces_to_cut(plan)
    return {
        "plan.json": plan_json(record),
        "cuts.csv": cuts_csv(cut_record(record, plan)),
        "plan.svg": plan_svg(plan),
        "pieces.svg": pieces_svg(plan.job.name, to_cut),
        "plan.dxf": plan_dxf(plan),
        "pieces.dxf": pieces_dxf(to_cut),
    }


def binary_files(plan: FloorPlan, paper: PaperName, writer: Writer) -> dict[str, bytes]:
    """File name → bytes, for sheets of that paper."""
    sheet, job = PAPERS[paper], plan.job.name
    return {
        "cuts.pdf": cut_list_pdf(job, cut_rows(plan, writer), sheet),
        "plan.pdf": plan_pdf(plan, sheet),
    }
