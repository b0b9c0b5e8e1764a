"""The setting-out sheet: the lines to strike, their distances, the first boards, the order of laying."""

from engine.planning.floor_plan import FloorPlan
from engine.planning.setting_out import SettingOut
from engine.sheets.first_boards_page import first_boards_page
from engine.sheets.laying_pages import laying_pages
from engine.sheets.paper import Paper
from engine.sheets.pdf_page import pdf_file
from engine.sheets.setting_out_floor import floor_page
from engine.sheets.setting_out_table import table_pages
from engine.sheets.setting_out_words import SettingOutWords
from engine.sheets.sheet_head import Head, number_pages

TITLE = "Setting-out sheet"


def setting_out_pdf(plan: FloorPlan, sheet: SettingOut, words: SettingOutWords, paper: Paper) -> bytes:
    """All its pages, in the order in which they are needed on the floor."""
    pages = [
        floor_page(plan, sheet, words, paper),
        *table_pages(plan, sheet, words, paper),
        first_boards_page(plan, sheet, words, paper),
        *laying_pages(plan, sheet, words, paper),
    ]
    number_pages(Head(title=TITLE, job=plan.job.name), pages)
    return pdf_file(f"{TITLE} {plan.job.name}".strip(), pages)
